/** The view of the floor: millimetres east and north of the datum to pixels right and down, true to scale. */

export interface View {
  /** Pixels a millimetre. */
  scale: number;
  /** What lies in the middle of the screen, mm. */
  x: number;
  y: number;
}
export interface Size {
  width: number;
  height: number;
}
export interface Box {
  x0: number;
  y0: number;
  x1: number;
  y1: number;
}
/** A telephone: slips lie over the lower half there. */
export const narrow = (s: Size): boolean => s.width <= 600;
/** A telephone on its side: what lies over the floor has to leave some of it. */
export const low = (s: Size): boolean => s.height > 0 && s.height <= 380 && s.width > 1.4 * s.height;
/** East and north, mm; or right and down, pixels. */
export type Pair = readonly [number, number];

/** From a hall of kilometres on a telephone to a piece that fills the screen. */
const LEAST = 1e-4;
const MOST = 40;

export const toScreen = (v: View, s: Size, p: Pair): [number, number] => [s.width / 2 + (p[0] - v.x) * v.scale, s.height / 2 - (p[1] - v.y) * v.scale];
export const toPlan = (v: View, s: Size, p: Pair): [number, number] => [v.x + (p[0] - s.width / 2) / v.scale, v.y - (p[1] - s.height / 2) / v.scale];

const within = (scale: number) => Math.min(MOST, Math.max(LEAST, scale));

/** Larger or smaller by a factor; what lies at a point of the screen stays there. */
export function zoomAt(v: View, s: Size, at: Pair, factor: number): View {
  const scale = within(v.scale * factor);
  const [x, y] = toPlan(v, s, at);
  return { scale, x: x - (at[0] - s.width / 2) / scale, y: y + (at[1] - s.height / 2) / scale };
}

/** Moves what is seen by so many pixels. */
export const pan = (v: View, dx: number, dy: number): View => ({ ...v, x: v.x - dx / v.scale, y: v.y + dy / v.scale });

/** Shows a box whole, with a margin in pixels on each side: left, top, right, bottom. */
export function fit(box: Box, s: Size, margin: readonly [number, number, number, number]): View {
  const [l, t, r, b] = margin;
  const [w, h] = [Math.max(1, s.width - l - r), Math.max(1, s.height - t - b)];
  const scale = within(Math.min(w / Math.max(1, box.x1 - box.x0), h / Math.max(1, box.y1 - box.y0)));
  return { scale, x: (box.x0 + box.x1) / 2 + (r - l) / 2 / scale, y: (box.y0 + box.y1) / 2 + (t - b) / 2 / scale };
}

/** What something takes of the floor: its outline, or its place. */
export const taken = (i: { outline: readonly Pair[]; x: number; y: number }): readonly Pair[] => (i.outline.length ? i.outline : [[i.x, i.y]]);

/** The box around points; null without any. */
export function around(points: Iterable<Pair>): Box | null {
  let box: Box | null = null;
  for (const [x, y] of points) {
    if (!Number.isFinite(x) || !Number.isFinite(y)) continue;
    if (!box) box = { x0: x, y0: y, x1: x, y1: y };
    box.x0 = Math.min(box.x0, x);
    box.y0 = Math.min(box.y0, y);
    box.x1 = Math.max(box.x1, x);
    box.y1 = Math.max(box.y1, y);
  }
  return box;
}

const STEPS = [1, 2, 5];

/** A round length for the scale bar, at most `widest` pixels: its length in mm. */
export function scaleBar(scale: number, widest: number, imperial: boolean): number {
  const unit = imperial ? (widest / scale >= 2 * 304.8 ? 304.8 : 25.4) : 1;
  const most = widest / scale / unit;
  const ten = 10 ** Math.floor(Math.log10(most));
  return Math.max(...STEPS.map((s) => s * ten).filter((s) => s <= most)) * unit;
}

/** Pieces by squares of the floor, to find the nearest one to a point. */
export interface Finder {
  nearest(x: number, y: number, within: number): number | null;
  inside(box: Box, most: number): number[] | null;
}

/** Squares of the floor a side, mm. */
const SQUARE = 120;

export function finder(xs: Float32Array, ys: Float32Array): Finder {
  const squares = new Map<number, number[]>();
  const key = (i: number, j: number) => (i + 1_048_576) * 2_097_152 + (j + 1_048_576);
  for (let p = 0; p < xs.length; p++) {
    const k = key(Math.floor(xs[p]! / SQUARE), Math.floor(ys[p]! / SQUARE));
    const square = squares.get(k);
    if (square) square.push(p);
    else squares.set(k, [p]);
  }
  return {
    nearest(x, y, within) {
      let [best, least] = [null as number | null, within * within];
      const reach = Math.min(8, Math.ceil(within / SQUARE));
      const [ci, cj] = [Math.floor(x / SQUARE), Math.floor(y / SQUARE)];
      for (let i = ci - reach; i <= ci + reach; i++)
        for (let j = cj - reach; j <= cj + reach; j++)
          for (const p of squares.get(key(i, j)) ?? []) {
            const d = (xs[p]! - x) ** 2 + (ys[p]! - y) ** 2;
            if (d < least || (d === least && best === null)) [best, least] = [p, d];
          }
      return best;
    },
    inside(box, most) {
      const found: number[] = [];
      const [i0, i1, j0, j1] = [box.x0, box.x1, box.y0, box.y1].map((v) => Math.floor(v / SQUARE)) as [number, number, number, number];
      if ((i1 - i0 + 1) * (j1 - j0 + 1) > most) return null;
      for (let i = i0; i <= i1; i++)
        for (let j = j0; j <= j1; j++) {
          found.push(...(squares.get(key(i, j)) ?? []));
          if (found.length > most) return null;
        }
      return found;
    },
  };
}
