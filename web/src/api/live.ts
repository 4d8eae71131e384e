/** News from the server, pushed over one socket that comes back by itself. */
import type { News } from "./generated/News";

const FIRST_WAIT = 500;
const LONGEST_WAIT = 10_000;

export interface LiveEars {
  news(news: News): void;
  up(): void;
  down(): void;
}

/** Listens until the returned function is called; waits twice as long after each failure, ten seconds at most. */
export function listen(ears: LiveEars): () => void {
  let wait = FIRST_WAIT;
  let timer: ReturnType<typeof setTimeout> | undefined;
  let socket: WebSocket | undefined;
  let over = false;

  const open = () => {
    clearTimeout(timer);
    const scheme = location.protocol === "https:" ? "wss" : "ws";
    const now = new WebSocket(`${scheme}://${location.host}/api/live`);
    socket = now;
    now.onopen = () => {
      wait = FIRST_WAIT;
      ears.up();
    };
    now.onmessage = (event) => {
      if (typeof event.data === "string") ears.news(JSON.parse(event.data) as News);
    };
    now.onclose = () => {
      if (over || socket !== now) return;
      ears.down();
      timer = setTimeout(open, wait);
      wait = Math.min(wait * 2, LONGEST_WAIT);
    };
  };

  // A tablet that wakes up need not wait for the rest of a long pause.
  const woken = () => {
    if (document.visibilityState === "visible" && socket?.readyState === WebSocket.CLOSED) {
      wait = FIRST_WAIT;
      open();
    }
  };
  document.addEventListener("visibilitychange", woken);
  open();
  return () => {
    over = true;
    clearTimeout(timer);
    document.removeEventListener("visibilitychange", woken);
    socket?.close();
  };
}
