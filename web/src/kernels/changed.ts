/** What of many pieces is another than before: where a picture of them has to be drawn again. */
import type { Box } from "./floor";

/** Gathers the places of what changed. */
export class Changed {
  private readonly box: Box = { x0: Infinity, y0: Infinity, x1: -Infinity, y1: -Infinity };

  /** One more place, mm, with `reach` around it. */
  add(x: number, y: number, reach: number) {
    const { box } = this;
    box.x0 = Math.min(box.x0, x - reach);
    box.y0 = Math.min(box.y0, y - reach);
    box.x1 = Math.max(box.x1, x + reach);
    box.y1 = Math.max(box.y1, y + reach);
  }

  /** The window around all of them, mm; null when there is none. */
  get window(): Box | null {
    return this.box.x0 <= this.box.x1 ? this.box : null;
  }

  /**
   * Compares pieces of which each has four numbers, the first two its place, mm; `n` of them before and after. Both the old
   * and the new place of what changed are added, for pieces that came or went the one that there is.
   */
  places(before: Float32Array, after: Float32Array, n: readonly [before: number, after: number], reach: number) {
    const most = Math.max(...n);
    for (let i = 0; i < most; i++) {
      const at = 4 * i;
      const was = i < n[0];
      const is = i < n[1];
      if (was && is && before[at] === after[at] && before[at + 1] === after[at + 1] && before[at + 2] === after[at + 2] && before[at + 3] === after[at + 3]) continue;
      if (was) this.add(before[at]!, before[at + 1]!, reach);
      if (is) this.add(after[at]!, after[at + 1]!, reach);
    }
  }
}

/** The samples of a picture of `box`, `samples` a millimetre, that a window of the floor can touch, with a rim of two: left, bottom, width, height; null for none. */
export function samplesOf(window: Box, box: Box, samples: number): [x: number, y: number, width: number, height: number] | null {
  const RIM = 2;
  const [wide, high] = [Math.round((box.x1 - box.x0) * samples), Math.round((box.y1 - box.y0) * samples)];
  const from = (mm: number, most: number) => Math.min(most, Math.max(0, Math.floor(mm * samples) - RIM));
  const to = (mm: number, most: number) => Math.min(most, Math.max(0, Math.ceil(mm * samples) + RIM));
  const [x0, y0] = [from(window.x0 - box.x0, wide), from(window.y0 - box.y0, high)];
  const [x1, y1] = [to(window.x1 - box.x0, wide), to(window.y1 - box.y0, high)];
  return x1 > x0 && y1 > y0 ? [x0, y0, x1 - x0, y1 - y0] : null;
}
