/** Moments of the fall and the steps between them: marks on the time line, where it stalls, the next piece. */
import { NEVER, type FallTimes, type HallPieces } from "./columns";

export interface Moment {
  at: number;
  /** What happens: the fall enters an item, leaves it, or stops short of pieces. */
  is: "enters" | "leaves" | "stall";
  item: number;
}

/** Two moments closer than this are one step of the keys, s. */
const SAME = 1e-4;

/** The first moment after a time; null after the last. */
export function nextOf(times: readonly number[], now: number): number | null {
  let best: number | null = null;
  for (const t of times) if (t > now + SAME && (best === null || t < best)) best = t;
  return best;
}
/** The last moment before a time; null before the first. */
export function beforeOf(times: readonly number[], now: number): number | null {
  let best: number | null = null;
  for (const t of times) if (t < now - SAME && (best === null || t > best)) best = t;
  return best;
}

/** The time of the next hit after a time, s, from hits in order, µs; null after the last. */
export function nextHit(sorted: Uint32Array, seconds: number): number | null {
  const us = Math.round(seconds * 1e6);
  let [low, high] = [0, sorted.length];
  while (low < high) {
    const mid = (low + high) >> 1;
    if (sorted[mid]! <= us) low = mid + 1;
    else high = mid;
  }
  return low < sorted.length ? sorted[low]! / 1e6 : null;
}
/** The time of the last hit before a time, s; null before the first. */
export function hitBefore(sorted: Uint32Array, seconds: number): number | null {
  const us = Math.round(seconds * 1e6);
  let [low, high] = [0, sorted.length];
  while (low < high) {
    const mid = (low + high) >> 1;
    if (sorted[mid]! < us) low = mid + 1;
    else high = mid;
  }
  return low > 0 ? sorted[low - 1]! / 1e6 : null;
}

/** Pictures a second that a step by frames stands for. */
export const FRAMES = 60;
/** What the fall goes on from one frame to the next, s. */
export const frameStep = (speed: number): number => speed / FRAMES;

/** mm around a place where the fall stalls within which the last that fell is looked for. */
const REACH = 300;

/** When the fall comes nearest to each place where pieces stay standing: the hit of the nearest that falls; null where none does. One pass over all. */
export function stallTimes(pieces: HallPieces, times: FallTimes, places: readonly (readonly [number, number])[]): (number | null)[] {
  const least = places.map(() => REACH * REACH);
  const found = places.map((): number | null => null);
  // Places by squares, so that a piece asks only what lies beside it.
  const squares = new Map<string, number[]>();
  const square = (v: number) => Math.floor(v / REACH);
  places.forEach(([x, y], i) => {
    for (const a of [-1, 0, 1]) for (const b of [-1, 0, 1]) {
      const key = `${square(x) + a} ${square(y) + b}`;
      squares.set(key, [...(squares.get(key) ?? []), i]);
    }
  });
  if (squares.size === 0) return found;
  const columns = new Set([...squares.keys()].map((key) => Number(key.split(" ")[0])));
  for (let p = 0; p < pieces.n; p++) {
    const hit = times.hit[p]!;
    if (hit === NEVER || !columns.has(square(pieces.x[p]!))) continue;
    for (const i of squares.get(`${square(pieces.x[p]!)} ${square(pieces.y[p]!)}`) ?? []) {
      const d = (pieces.x[p]! - places[i]![0]) ** 2 + (pieces.y[p]! - places[i]![1]) ** 2;
      if (d < least[i]!) [least[i], found[i]] = [d, hit / 1e6];
    }
  }
  return found;
}
