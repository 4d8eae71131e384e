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
  /** Asked first: true takes the press, and its drag, away from the view. Middle and right button always move the view. */
  takes?: (at: Spot, event: PointerEvent) => boolean;
  /** What was taken goes on. `stop` when it was given up: a second finger came. */
  taken?: (is: "drag" | "up" | "stop", at: Spot, event: PointerEvent) => void;
  /** The pointer moves without a button. */
  hover?: (at: Spot, event: PointerEvent) => void;
  twice?: (at: Spot) => void;
  /** The right button without a drag, or a finger that stays where it is. */
  menu?: (at: Spot, event: PointerEvent) => void;
}

/** Pixels that a click may wander. */
const STILL = 6;
/** Milliseconds that a finger stays until it asks for the menu. */
const LONG = 550;

/** For `{@attach}` on the element that takes the gestures. */
export function gestures(told: Gestures): Attachment<HTMLElement> {
  return (ground) => {
    const held = new Map<number, Spot>();
    let moved = 0;
    let taken: number | null = null;
    let long: ReturnType<typeof setTimeout> | undefined;
    const spot = (event: MouseEvent): Spot => [event.offsetX, event.offsetY];

    function down(event: PointerEvent) {
      ground.setPointerCapture(event.pointerId);
      held.set(event.pointerId, spot(event));
      if (held.size === 1) moved = 0;
      clearTimeout(long);
      if (held.size === 1 && event.pointerType === "touch" && told.menu) {
        const at = spot(event);
        long = setTimeout(() => {
          if (moved >= STILL || held.size !== 1) return;
          held.clear();
          if (taken !== null) told.taken?.("stop", at, event);
          taken = null;
          told.menu?.(at, event);
        }, LONG);
      }
      if (taken !== null) {
        told.taken?.("stop", spot(event), event);
        taken = null;
      } else if (held.size === 1 && event.button === 0 && told.takes?.(spot(event), event)) taken = event.pointerId;
    }
    function move(event: PointerEvent) {
      const before = held.get(event.pointerId);
      if (!before) {
        told.hover?.(spot(event), event);
        return;
      }
      const now = spot(event);
      const by: Spot = [now[0] - before[0], now[1] - before[1]];
      moved += Math.abs(by[0]) + Math.abs(by[1]);
      const other = [...held].find(([id]) => id !== event.pointerId)?.[1];
      if (other) {
        const apart = (a: Spot) => Math.max(10, Math.hypot(a[0] - other[0], a[1] - other[1]));
        told.pinch([by[0] / 2, by[1] / 2], [(now[0] + other[0]) / 2, (now[1] + other[1]) / 2], apart(now) / apart(before));
      } else if (taken === event.pointerId) told.taken?.("drag", now, event);
      else told.drag(by, event);
      held.set(event.pointerId, now);
    }
    function up(event: PointerEvent) {
      clearTimeout(long);
      const was = held.delete(event.pointerId);
      if (taken === event.pointerId) {
        taken = null;
        told.taken?.("up", spot(event), event);
      } else if (was && held.size === 0 && moved < STILL && event.button === 0) told.click(spot(event));
      else if (was && held.size === 0 && moved < STILL && event.button === 2) told.menu?.(spot(event), event);
    }
    function cancel(event: PointerEvent) {
      clearTimeout(long);
      held.delete(event.pointerId);
      if (taken !== event.pointerId) return;
      taken = null;
      told.taken?.("stop", spot(event), event);
    }
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
    ground.addEventListener("dblclick", (event) => told.twice?.(spot(event)), { signal });
    // The right button moves the view.
    ground.addEventListener("contextmenu", (event) => event.preventDefault(), { signal });
    // Else the browser takes it for scrolling and does not let the page stop that.
    ground.addEventListener("wheel", wheel, { signal, passive: false });
    return () => {
      clearTimeout(long);
      end.abort();
    };
  };
}
