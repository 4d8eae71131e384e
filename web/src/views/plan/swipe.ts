/** A swipe to an edge, for slips over the floor. */
import type { Attachment } from "svelte/attachments";

/** Pixels of a swipe at the least; it goes twice as far to the side as up or down. */
const FAR = 70;

export const swipe = (to: "left" | "right", does: () => void): Attachment<HTMLElement> => (element) => {
  let from: { x: number; y: number; id: number } | null = null;
  const end = new AbortController();
  const { signal } = end;
  element.addEventListener("pointerdown", (e) => (from = e.pointerType === "touch" ? { x: e.clientX, y: e.clientY, id: e.pointerId } : null), { signal });
  element.addEventListener("pointerup", (e) => {
    if (!from || from.id !== e.pointerId) return;
    const [dx, dy] = [e.clientX - from.x, Math.abs(e.clientY - from.y)];
    from = null;
    if ((to === "right" ? dx : -dx) > FAR && Math.abs(dx) > 2 * dy) does();
  }, { signal });
  element.addEventListener("pointercancel", () => (from = null), { signal });
  return () => end.abort();
};
