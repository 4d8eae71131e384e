/** Strokes of a hand: smoothed, and thinned to the few points that a smooth curve needs. */
import type { Pair } from "./floor";
import { apart } from "./frames";

/** Points that a stroke keeps at the most while it is drawn, and that a curve is laid through. */
const MOST = 4_000;
const MOST_KNOTS = 400;

/** How far a place lies from a stroke between two others. */
function off(p: Pair, a: Pair, b: Pair): number {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const long = dx * dx + dy * dy;
  const t = long === 0 ? 0 : Math.min(1, Math.max(0, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / long));
  return Math.hypot(p[0] - a[0] - t * dx, p[1] - a[1] - t * dy);
}

/** Leaves out points while none of them lies farther than `within` from what is left (Ramer 1972, Douglas and Peucker 1973). */
export function simplify(points: readonly Pair[], within: number): Pair[] {
  if (points.length < 3) return [...points];
  const keep = new Uint8Array(points.length);
  keep[0] = keep[points.length - 1] = 1;
  // A stack in place of calls within calls: a long straight stroke would go as deep as it has points.
  const open: [number, number][] = [[0, points.length - 1]];
  for (let span = open.pop(); span; span = open.pop()) {
    const [a, b] = span;
    let [far, most] = [-1, within];
    for (let i = a + 1; i < b; i++) {
      const d = off(points[i]!, points[a]!, points[b]!);
      if (d > most) [far, most] = [i, d];
    }
    if (far < 0) continue;
    keep[far] = 1;
    open.push([a, far], [far, b]);
  }
  return points.filter((_, i) => keep[i]);
}

/** How long a stroke is. */
export const long = (points: readonly Pair[]): number => points.reduce((sum, p, i) => sum + (i ? apart(points[i - 1]!, p) : 0), 0);

/** The beginning of a stroke, so long; all of one that is shorter. */
export function upTo(points: readonly Pair[], length: number): Pair[] {
  const out: Pair[] = [points[0]!];
  let left = length;
  for (let i = 1; i < points.length; i++) {
    const [a, b] = [points[i - 1]!, points[i]!];
    const d = apart(a, b);
    if (d >= left) return [...out, [a[0] + ((b[0] - a[0]) * left) / d, a[1] + ((b[1] - a[1]) * left) / d]];
    out.push(b);
    left -= d;
  }
  return out;
}

/** The same stroke with points `step` apart along it; the last one stays where it is. */
export function evenly(points: readonly Pair[], step: number): Pair[] {
  if (points.length < 2) return [...points];
  const out: Pair[] = [points[0]!];
  let left = step;
  for (let i = 1; i < points.length; i++) {
    const [a, b] = [points[i - 1]!, points[i]!];
    const long = apart(a, b);
    let s = left;
    for (; s < long; s += step) out.push([a[0] + ((b[0] - a[0]) * s) / long, a[1] + ((b[1] - a[1]) * s) / long]);
    left = s - long;
  }
  const last = points[points.length - 1]!;
  if (apart(out[out.length - 1]!, last) > step / 2 || out.length === 1) out.push(last);
  else out[out.length - 1] = last;
  return out;
}

/** Each point in the middle of its neighbours, `times` over, so that a shaking hand does not show; the ends stay. */
export function calmed(points: readonly Pair[], times: number): Pair[] {
  let now = [...points];
  for (let k = 0; k < times; k++)
    now = now.map((p, i): Pair => (i === 0 || i === now.length - 1 ? p : [(now[i - 1]![0] + 2 * p[0] + now[i + 1]![0]) / 4, (now[i - 1]![1] + 2 * p[1] + now[i + 1]![1]) / 4]));
  return now;
}

/** The points that a smooth curve needs to follow a stroke within a tolerance, mm. */
export function knots(stroke: readonly Pair[], within: number): Pair[] {
  const long = stroke.reduce((sum, p, i) => sum + (i ? apart(stroke[i - 1]!, p) : 0), 0);
  const calm = calmed(evenly(stroke, Math.max(within, long / MOST)), 2);
  let tolerance = within;
  let found = simplify(calm, tolerance);
  for (; found.length > MOST_KNOTS; found = simplify(calm, tolerance)) tolerance *= 2;
  return found;
}

/** One more place of a stroke, unless it is nearer than `least` to the last; a stroke that grows too long loses every second. */
export function drawnOn(stroke: readonly Pair[], p: Pair, least: number): readonly Pair[] {
  const last = stroke[stroke.length - 1];
  if (last && apart(last, p) < least) return stroke;
  return [...(stroke.length < MOST ? stroke : stroke.filter((_, i) => i % 2 === 0)), p];
}
