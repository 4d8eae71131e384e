/** The one list of what can be done now, and the one place that hears shortcuts. */
import { tick, untrack } from "svelte";
import type { Key } from "../i18n";
import { clashes, pressedAction, type Action, type Focus } from "../kernels/actions";
import { platformOf } from "../kernels/keys";
import { prefs } from "./prefs.svelte";
import { t } from "./say.svelte";
import { toasts } from "./toasts.svelte";

export type { Action, Group } from "../kernels/actions";

/** The platform of this browser. */
export const platform = platformOf(`${navigator.platform} ${navigator.userAgent}`);

class Actions {
  private lists = $state.raw<readonly (readonly Action[])[]>([]);
  /** Everything that is offered now, what was offered first first. */
  readonly all = $derived(this.lists.flat());

  /** Offers a list while a view is open; gives what withdraws it. For an $effect: `$effect(() => actions.offer(list))`. */
  offer(list: readonly Action[]): () => void {
    untrack(() => (this.lists = [...this.lists, list]));
    if (import.meta.env.DEV) for (const clash of clashes(untrack(() => this.all))) console.error(`Actions: ${clash}.`);
    return () => untrack(() => (this.lists = this.lists.filter((other) => other !== list)));
  }

  find(id: string): Action | null {
    return [...this.all].reverse().find((action) => action.id === id) ?? null;
  }

  /** Does it, or says why not. False when nobody offers it, or it cannot be done now. */
  run(id: string): boolean {
    const action = this.find(id);
    return action !== null && this.do(action);
  }

  do(action: Action): boolean {
    const may = action.when?.() ?? true;
    if (may === true) action.run();
    else toasts.plain(may);
    return may === true;
  }

  /** Why an action cannot be done now; null when it can. */
  whyNot(action: Action): Key | null {
    const may = action.when?.() ?? true;
    return may === true ? null : may;
  }

  /** For the window's `keydown`. */
  press(event: KeyboardEvent) {
    if (event.defaultPrevented || event.isComposing || event.key === "Dead") return;
    // A slip that wants an answer has the keys.
    if (document.querySelector("dialog:modal")) return;
    // Text that is marked on the page is copied by the browser.
    if ((event.ctrlKey || event.metaKey) && /^[cx]$/i.test(event.key) && focusOf(event.target) !== "floor" && String(getSelection()) !== "") return;
    const action = pressedAction(this.all.filter((a) => !a.keyOnly), event, focusOf(event.target), platform, prefs.singles);
    if (!action) return;
    event.preventDefault();
    if (!event.repeat || action.repeats || action.id === "undo" || action.id === "redo") this.do(action);
  }

  /** Brings what shows an action into view and marks it; false when it is nowhere on the page. */
  async reveal(action: Action): Promise<boolean> {
    const at = () => document.querySelector<HTMLElement>(`[data-action="${action.id}"]`);
    if (!at() && action.show) action.show();
    await tick();
    await tick();
    const element = at();
    if (!element || element.getClientRects().length === 0) return false;
    element.focus();
    element.scrollIntoView({ block: "nearest" });
    element.classList.add("lit");
    element.addEventListener("blur", () => element.classList.remove("lit"), { once: true });
    return true;
  }
}

/** What the keys of an event would go to. */
export function focusOf(target: EventTarget | null): Focus {
  if (!(target instanceof HTMLElement) || target === document.body) return "free";
  if (target.closest("[data-floor], [role='application']")) return "floor";
  if (target.isContentEditable || target instanceof HTMLTextAreaElement || target instanceof HTMLSelectElement) return "text";
  if (target instanceof HTMLInputElement) return ["checkbox", "radio", "range", "button", "submit", "file", "color"].includes(target.type) ? "control" : "text";
  return target.matches("button, a[href], summary, [tabindex], [role]") && target.tabIndex >= 0 ? "control" : "free";
}

/** Words of an action, with what it is about just now. */
export const actionWords = (action: Action): string => {
  const now = action.now?.() ?? "";
  return now === "" ? t(action.words) : t("do.about", { what: t(action.words), now });
};

export const actions = new Actions();
