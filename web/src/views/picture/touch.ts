/** Pointers over the cells: one draws, two pinch; the middle button and the wheel move and enlarge. */
import type { Attachment } from "svelte/attachments";
import type { Spot } from "../../parts/gestures";

export interface Touch {
  /** Whether one pointer draws; else it moves the view. */
  draws: () => boolean;
  begin: (at: Spot) => void;
  move: (at: Spot) => void;
  end: () => void;
  cancel: () => void;
  hover: (at: Spot) => void;
  pan: (by: Spot) => void;
  zoom: (at: Spot, factor: number) => void;
}

type Mode = "none" | "drawing" | "moving" | "pinching";

/** For `{@attach}` on the room of the cells. */
export function touch(told: Touch): Attachment<HTMLElement> {
  return (room) => {
    const held = new Map<number, Spot>();
    let mode: Mode = "none";
    const spot = (event: MouseEvent): Spot => {
      const box = room.getBoundingClientRect();
      return [event.clientX - box.left, event.clientY - box.top];
    };

    function down(event: PointerEvent) {
      if (event.button > 1 || held.size >= 2) return;
      if (event.button === 1) event.preventDefault();
      room.setPointerCapture(event.pointerId);
      held.set(event.pointerId, spot(event));
      if (held.size === 2) {
        // The first finger of a pinch has drawn nothing that is meant.
        if (mode === "drawing") told.cancel();
        mode = "pinching";
      } else {
        mode = event.button === 1 || !told.draws() ? "moving" : "drawing";
        if (mode === "drawing") told.begin(spot(event));
      }
    }
    function move(event: PointerEvent) {
      const before = held.get(event.pointerId);
      const now = spot(event);
      if (!before) {
        if (event.pointerType !== "touch") told.hover(now);
        return;
      }
      held.set(event.pointerId, now);
      if (mode === "drawing") told.move(now);
      else if (mode === "moving") told.pan([now[0] - before[0], now[1] - before[1]]);
      else if (mode === "pinching") {
        const other = [...held].find(([id]) => id !== event.pointerId)?.[1];
        if (!other) return;
        const apart = (a: Spot) => Math.max(10, Math.hypot(a[0] - other[0], a[1] - other[1]));
        told.zoom([(now[0] + other[0]) / 2, (now[1] + other[1]) / 2], apart(now) / apart(before));
        told.pan([(now[0] - before[0]) / 2, (now[1] - before[1]) / 2]);
      }
    }
    function up(event: PointerEvent) {
      if (!held.delete(event.pointerId)) return;
      if (mode === "drawing") told.end();
      // After a pinch the finger that stays draws nothing until it was lifted.
      mode = mode === "pinching" && held.size > 0 ? "pinching" : "none";
    }
    function cancel(event: PointerEvent) {
      if (held.delete(event.pointerId) && mode === "drawing") told.cancel();
      if (held.size === 0) mode = "none";
    }
    function wheel(event: WheelEvent) {
      event.preventDefault();
      if (event.shiftKey) told.pan([-event.deltaY, -event.deltaX]);
      else told.zoom(spot(event), 1.0015 ** -event.deltaY);
    }

    const over = new AbortController();
    const { signal } = over;
    room.addEventListener("pointerdown", down, { signal });
    room.addEventListener("pointermove", move, { signal });
    room.addEventListener("pointerup", up, { signal });
    room.addEventListener("pointercancel", cancel, { signal });
    room.addEventListener("wheel", wheel, { signal, passive: false });
    return () => over.abort();
  };
}
