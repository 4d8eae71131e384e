/** The page that is shown, kept in the address. */
import { parseRoute, type Route } from "../kernels/route";

class Router {
  route = $state<Route>(parseRoute(location.pathname, location.search));

  constructor() {
    addEventListener("popstate", () => this.read());
  }

  /** Goes to an address as a new step of the history, or in place of the present one. */
  go(address: string, replace = false) {
    history[replace ? "replaceState" : "pushState"](null, "", address);
    this.read();
  }

  private read() {
    this.route = parseRoute(location.pathname, location.search);
  }
}

export const router = new Router();

/** Handles a click on a link to a page of ours without loading it anew. */
export function followLink(event: MouseEvent) {
  if (event.defaultPrevented || event.button !== 0 || event.metaKey || event.ctrlKey || event.shiftKey) return;
  const link = (event.target as Element | null)?.closest("a");
  if (!link || link.target || link.hasAttribute("download") || link.origin !== location.origin) return;
  if (link.pathname.startsWith("/api/")) return;
  event.preventDefault();
  router.go(link.pathname + link.search);
}
