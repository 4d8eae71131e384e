/** The clock of the fall: plays at a speed, stops, and steps. */
import { untrack } from "svelte";
import { beforeOf, frameStep, hitBefore, nextHit, nextOf } from "../../kernels/moments";
import { calm } from "../../parts/calm";
import { kept, keep } from "../../state/kept";
import type { FallFacts } from "./facts.svelte";

export const SPEEDS = [0.01, 0.1, 1, 10, 100] as const;
/** With motion reduced the fall steps, so many seconds apart. */
const CALM_STEP = 0.25;

export class Player {
  time = $state(0);
  playing = $state(false);
  speed = $state(SPEEDS.find((s) => String(s) === kept("fall.speed")) ?? 1);

  constructor(private readonly facts: FallFacts) {}

  readonly end = $derived.by(() => this.facts.end);

  /** Turns the clock while it plays; called once as the view begins. */
  run() {
    $effect(() => {
      // The plan went on to a shorter fall.
      const end = this.end;
      if (end > 0 && untrack(() => this.time) > end) this.time = end;
    });
    $effect(() => {
      if (!this.playing) return;
      const slow = calm();
      const rate = this.speed;
      let last = performance.now();
      let due = 0;
      let frame = 0;
      const turn = (now: number) => {
        due += Math.max(0, now - last) / 1000;
        last = now;
        if (!slow || due >= CALM_STEP) {
          this.time = Math.min(this.end, untrack(() => this.time) + due * rate);
          due = 0;
        }
        if (untrack(() => this.time) >= this.end) this.playing = false;
        else frame = requestAnimationFrame(turn);
      };
      frame = requestAnimationFrame(turn);
      return () => cancelAnimationFrame(frame);
    });
  }

  to(seconds: number) {
    this.playing = false;
    this.time = Math.min(this.end, Math.max(0, seconds));
  }
  by(seconds: number) {
    this.to(this.time + seconds);
  }
  toggle() {
    if (!this.playing && this.time >= this.end) this.time = 0;
    this.playing = !this.playing && this.end > 0;
  }
  /** By what the fall goes on from one picture to the next at the chosen speed. */
  frame(step: 1 | -1) {
    this.by(step * frameStep(this.speed));
  }
  /** To the next hit, or the one before. */
  piece(step: 1 | -1) {
    this.to(step > 0 ? (nextHit(this.facts.sorted, this.time) ?? this.end) : (hitBefore(this.facts.sorted, this.time) ?? 0));
  }
  moment(step: 1 | -1) {
    const all = this.facts.moments.map((m) => m.at);
    this.to(step > 0 ? (nextOf(all, this.time) ?? this.end) : (beforeOf(all, this.time) ?? 0));
  }
  /** One speed faster or slower. */
  shift(step: 1 | -1) {
    const now = SPEEDS.findIndex((s) => s === this.speed);
    this.setSpeed(SPEEDS[Math.min(SPEEDS.length - 1, Math.max(0, now + step))]!);
  }
  setSpeed(speed: number) {
    this.speed = SPEEDS.find((s) => s === speed) ?? 1;
    keep("fall.speed", String(this.speed));
  }
}

/** "1/100", "10". */
export const speedWords = (speed: number): string => (speed < 1 ? `1/${Math.round(1 / speed)}` : String(speed));
