/** Which part of the hall is seen, and how that moves. */
import { untrack } from "svelte";
import { around, fit, narrow, pan, taken, toPlan, toScreen, zoomAt, type Box, type Pair, type Size, type View } from "../../kernels/floor";
import type { Spot } from "../../parts/gestures";
import { PHONE } from "../../state/panels.svelte";
import { plan } from "../../state/plan.svelte";

/** Pixels that lie over the floor at its left, top, right and bottom. */
export type Margin = readonly [number, number, number, number];

/** From here on slips stand beside the floor, pixels. */
const WIDE = 900;
/** Pixels a millimetre, at which a place is looked at from a view of everything, and the most. */
const PLACE = { least: 0.35, most: 2 };

export class FloorView {
  width = $state(0);
  height = $state(0);
  readonly size = $derived<Size>({ width: this.width, height: this.height });
  /** A telephone shows the plan and draws nothing. */
  readonly phone = $derived(this.width > 0 && this.width <= PHONE);
  readonly wide = $derived(this.width > WIDE);
  /** A tablet that is held upright: slips lie at the foot. */
  readonly upright = $derived(!this.phone && !this.wide && this.height > this.width);
  now = $state.raw<View | null>(null);
  /** The view that showed everything: as long as it stands, everything stays in sight whatever covers a part of the floor. */
  private whole: View | null = null;
  private readonly known = $derived(plan.state !== null && this.width > 0);

  /** `margin` says what lies over the floor when everything is shown. */
  constructor(private readonly margin: () => Margin) {}

  /** Shows everything first, and again when something else lies over the floor, as `covers` tells by being read. */
  keep(covers: () => unknown) {
    $effect(() => {
      void [covers(), this.size];
      if (this.known) untrack(() => this.now === this.whole && this.fitAll());
    });
  }

  fitAll() {
    const box = around([...(plan.state?.floor_plan.outline ?? []), ...(plan.state?.items ?? []).flatMap(taken)]) ?? { x0: 0, y0: 0, x1: 10_000, y1: 6_000 };
    this.now = this.whole = fit(box, this.size, this.margin());
  }

  fitBox(box: Box, rim: number, margin: Margin) {
    this.now = fit({ x0: box.x0 - rim, y0: box.y0 - rim, x1: box.x1 + rim, y1: box.y1 + rim }, this.size, margin);
  }

  /** To a place; `under` when a slip will lie under it. */
  go(to: Pair, under: boolean) {
    const scale = Math.max(PLACE.least, Math.min(this.now?.scale ?? PLACE.least, PLACE.most));
    this.now = { scale, x: to[0], y: to[1] - (under && narrow(this.size) ? (0.2 * this.height) / scale : 0) };
  }

  centre([x, y]: Pair) {
    if (this.now) this.now = { ...this.now, x, y };
  }

  /** Brings a box to the middle of what nothing covers, when it is not in sight as a whole. */
  show(box: Box | null, [left, top, right, bottom]: Margin = [0, 60, 0, 60]) {
    if (!box || !this.now) return;
    const [x0, y1] = this.place([left, top]);
    const [x1, y0] = this.place([this.width - right, this.height - bottom]);
    if (box.x0 >= x0 && box.x1 <= x1 && box.y0 >= y0 && box.y1 <= y1) return;
    const { scale } = this.now;
    this.centre([(box.x0 + box.x1) / 2 + (right - left) / 2 / scale, (box.y0 + box.y1) / 2 - (bottom - top) / 2 / scale]);
  }

  move(by: Spot) {
    if (this.now) this.now = pan(this.now, ...by);
  }

  /** Larger or smaller by a factor; what lies at a place of the screen stays there. */
  zoom(factor: number, at: Spot = this.middle) {
    if (this.now) this.now = zoomAt(this.now, this.size, at, factor);
  }

  pinch(by: Spot, at: Spot, factor: number) {
    this.move(by);
    this.zoom(factor, at);
  }

  get middle(): Spot {
    return [this.width / 2, this.height / 2];
  }

  /** Where a place of the screen lies in the hall, mm. Nothing is asked before there is a view. */
  place(at: Spot): [number, number] {
    return this.now ? toPlan(this.now, this.size, at) : [0, 0];
  }

  /** Where a place of the hall is on the screen, pixels. */
  spot(at: Pair): [number, number] {
    return this.now ? toScreen(this.now, this.size, at) : [0, 0];
  }
}
