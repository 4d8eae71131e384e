/** What lies under a place, in a box, in a lasso. */
import type { Box, Pair } from "./floor";

/** Whether a place is in a polygon (even-odd). */
export function inside(p: Pair, outline: readonly Pair[]): boolean {
  let within = false;
  for (let i = 0, j = outline.length - 1; i < outline.length; j = i++) {
    const [a, b] = [outline[i]!, outline[j]!];
    if (a[1] > p[1] !== b[1] > p[1] && p[0] < ((b[0] - a[0]) * (p[1] - a[1])) / (b[1] - a[1]) + a[0]) within = !within;
  }
  return within;
}

/** A box around two corners. */
export const boxOf = (a: Pair, b: Pair): Box => ({ x0: Math.min(a[0], b[0]), y0: Math.min(a[1], b[1]), x1: Math.max(a[0], b[0]), y1: Math.max(a[1], b[1]) });
export const corners = (b: Box): Pair[] => [[b.x0, b.y0], [b.x1, b.y0], [b.x1, b.y1], [b.x0, b.y1]];
export const inBox = (p: Pair, b: Box): boolean => p[0] >= b.x0 && p[0] <= b.x1 && p[1] >= b.y0 && p[1] <= b.y1;

/** Something that can be chosen: its corners, or its place when it takes no floor. */
export interface Pickable {
  id: number;
  at: Pair;
  outline: readonly Pair[];
  /** What else of it can be pressed: an area, or a stroke of two points. */
  more?: readonly Pair[] | null;
}
const shape = (i: Pickable): readonly Pair[] => (i.outline.length ? i.outline : [i.at]);

/** Items that lie whole in an area. */
export const within = (items: readonly Pickable[], area: readonly Pair[]): number[] => items.filter((i) => shape(i).every((p) => inside(p, area))).map((i) => i.id);

/** How far a place is from a stroke. */
function far(p: Pair, a: Pair, b: Pair): number {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const long = dx * dx + dy * dy;
  const t = long === 0 ? 0 : Math.min(1, Math.max(0, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / long));
  return Math.hypot(p[0] - a[0] - t * dx, p[1] - a[1] - t * dy);
}

/** The smallest item whose outline holds a place. */
export function under(items: readonly Pickable[], p: Pair, reach: number): number | null {
  let [best, least] = [null as number | null, Infinity];
  for (const item of items) {
    const { more } = item;
    const beside = more && (more.length > 2 ? inside(p, more) : more.length === 2 && far(p, more[0]!, more[1]!) <= reach);
    const hit = beside || (item.outline.length > 2 ? inside(p, item.outline) : Math.hypot(item.at[0] - p[0], item.at[1] - p[1]) <= reach);
    if (!hit) continue;
    const size = beside || item.outline.length <= 2 ? 0 : area(item.outline);
    if (size < least) [best, least] = [item.id, size];
  }
  return best;
}

/** The area of a polygon, mm²; positive when it goes counter-clockwise. */
export function signedArea(outline: readonly Pair[]): number {
  let sum = 0;
  for (let i = 0, j = outline.length - 1; i < outline.length; j = i++) sum += outline[j]![0] * outline[i]![1] - outline[i]![0] * outline[j]![1];
  return sum / 2;
}
export const area = (outline: readonly Pair[]): number => Math.abs(signedArea(outline));
/** The same polygon, counter-clockwise. */
export const counterClockwise = (outline: readonly Pair[]): Pair[] => (signedArea(outline) < 0 ? [...outline].reverse() : [...outline]);
