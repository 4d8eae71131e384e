/** Four bands of one picture, cut at the lean: the angle of a piece that rests on its neighbour. */

/** tan 18°: how far a cut moves sideways for each pixel down. */
export const LEAN_TAN = 0.325;
/** Narrowest band, as a share of the width. */
const LEAST = 0.04;

/** Where a cut at `share` of the width crosses the height `y` in a box of `w` x `h`. */
export function cutX(share: number, y: number, w: number, h: number): number {
  return share * w + (h / 2 - y) * LEAN_TAN;
}

/** The CSS polygon of the band between two cuts; null stands for the edge of the box. */
export function bandPolygon(left: number | null, right: number | null, w: number, h: number): string {
  const px = (v: number) => `${v.toFixed(1)}px`;
  const l = (y: number) => (left === null ? 0 : cutX(left, y, w, h));
  const r = (y: number) => (right === null ? w : cutX(right, y, w, h));
  return `polygon(${px(l(0))} 0px, ${px(r(0))} 0px, ${px(r(h))} ${px(h)}, ${px(l(h))} ${px(h)})`;
}

/** Moves one cut; it stays within the box and never passes its neighbours. */
export function moveCut(cuts: readonly number[], which: number, to: number): number[] {
  const low = which === 0 ? 0 : cuts[which - 1]! + LEAST;
  const high = which === cuts.length - 1 ? 1 : cuts[which + 1]! - LEAST;
  return cuts.map((cut, i) => (i === which ? Math.min(Math.max(to, low), high) : cut));
}

/** Even cuts for so many bands. */
export function evenCuts(bands: number): number[] {
  return Array.from({ length: bands - 1 }, (_, i) => (i + 1) / bands);
}

/** The largest box of an aspect within a room, whole pixels. */
export function fit(aspect: number, width: number, height: number): { width: number; height: number } {
  const w = Math.max(0, Math.min(width, height * aspect));
  return { width: Math.floor(w), height: Math.floor(aspect > 0 ? w / aspect : 0) };
}
