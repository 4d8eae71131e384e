/** Pointers and the wheel over a surface: drags, pinches and clicks, told in pixels of the surface. */
import type { Attachment } from "svelte/attachments";

export type Spot = readonly [number, number];

export interface Gestures {
  /** One pointer moved by so much. */
  drag: (by: Spot, event: PointerEvent) => void;
  /** Two fingers: how far the place between them moved, where it lies, and how many times farther apart they are. */
  pinch: (by: Spot, at: Spot, factor: number) => void;
  click: (at: Spot) => void;
  wheel: (at: Spot, event: WheelEvent) => void;
}

/** Pixels that a click may wander. */
const STILL = 6;

/** For `{@attach}` on the element that takes the gestures. */
export function gestures(told: Gestures): Attachment<HTMLElement> {
  return (ground) => {
    const held = new Map<number, Spot>();
    let moved = 0;
    const spot = (event: MouseEvent): Spot => [event.offsetX, event.offsetY];

    function down(event: PointerEvent) {
      ground.setPointerCapture(event.pointerId);
      held.set(event.pointerId, spot(event));
      if (held.size === 1) moved = 0;
    }
    function move(event: PointerEvent) {
      const before = held.get(event.pointerId);
      if (!before) return;
      const now = spot(event);
      const by: Spot = [now[0] - before[0], now[1] - before[1]];
      moved += Math.abs(by[0]) + Math.abs(by[1]);
      const other = [...held].find(([id]) => id !== event.pointerId)?.[1];
      if (other) {
        const apart = (a: Spot) => Math.max(10, Math.hypot(a[0] - other[0], a[1] - other[1]));
        told.pinch([by[0] / 2, by[1] / 2], [(now[0] + other[0]) / 2, (now[1] + other[1]) / 2], apart(now) / apart(before));
      } else told.drag(by, event);
      held.set(event.pointerId, now);
    }
    function up(event: PointerEvent) {
      if (held.delete(event.pointerId) && held.size === 0 && moved < STILL) told.click(spot(event));
    }
    const cancel = (event: PointerEvent) => held.delete(event.pointerId);
    function wheel(event: WheelEvent) {
      event.preventDefault();
      told.wheel(spot(event), event);
    }

    const end = new AbortController();
    const { signal } = end;
    ground.addEventListener("pointerdown", down, { signal });
    ground.addEventListener("pointermove", move, { signal });
    ground.addEventListener("pointerup", up, { signal });
    ground.addEventListener("pointercancel", cancel, { signal });
    // Else the browser takes it for scrolling and does not let the page stop that.
    ground.addEventListener("wheel", wheel, { signal, passive: false });
    return () => end.abort();
  };
}
