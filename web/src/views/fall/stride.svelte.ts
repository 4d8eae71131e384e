/** Walking by keys that are held: smooth while they are, one step at a time where motion is reduced. */
import { STROLL } from "../../kernels/view";
import { calm } from "../../parts/calm";
import type { Cameras } from "./cameras.svelte";

export type Way = "ahead" | "back" | "left" | "right" | "aside-left" | "aside-right" | "up" | "down";

/** What a single press does: mm, and radians of the head. */
const STEP = 250;
const TURN = 0.13;
/** Radians a second of a head that turns. */
const PACE = 1.1;

export class Stride {
  private held = $state.raw<readonly Way[]>([]);

  constructor(private readonly cameras: Cameras) {}

  /** Moves while something is held; called once as the view begins. */
  run() {
    $effect(() => {
      const held = this.held;
      if (held.length === 0) return;
      let last = performance.now();
      let frame = 0;
      const turn = (now: number) => {
        const seconds = Math.min(0.1, Math.max(0, now - last) / 1_000);
        last = now;
        for (const way of held) this.move(way, seconds * STROLL, seconds * PACE);
        frame = requestAnimationFrame(turn);
      };
      frame = requestAnimationFrame(turn);
      return () => cancelAnimationFrame(frame);
    });
  }

  private move(way: Way, mm: number, radians: number) {
    const c = this.cameras;
    if (c.mode === "place") c.use("walk");
    if (way === "ahead") c.step(mm, 0);
    else if (way === "back") c.step(-mm, 0);
    else if (way === "aside-left") c.step(0, -mm);
    else if (way === "aside-right") c.step(0, mm);
    else if (way === "left") c.turn(-radians, 0);
    else if (way === "right") c.turn(radians, 0);
    else c.turn(0, way === "up" ? radians : -radians);
  }

  once(way: Way) {
    this.move(way, STEP, TURN);
  }
  /** On and on until it is let go; with motion reduced one step at a time. */
  hold(way: Way) {
    if (calm()) return this.once(way);
    if (!this.held.includes(way)) this.held = [...this.held, way];
  }
  let(way: Way) {
    this.held = this.held.filter((w) => w !== way);
  }
  stop() {
    if (this.held.length) this.held = [];
  }
}
