/** How the fall is shown: times, angles, counts. What falls and when is the server's alone. */
import { NEVER, type FallTimes, type HallPieces } from "./columns";

/** Where a piece comes to rest on the next one of a long equal row, radians from upright: cos = thickness / pitch (closed form). */
export function restAngle(thickness: number, pitch: number): number {
  return pitch > thickness ? Math.acos(thickness / pitch) : 0;
}

/** How far a piece has tipped when it touches the next one: sin = gap / height (closed form). */
export function contactAngle(height: number, gap: number): number {
  return Math.asin(Math.min(1, Math.max(0, gap / height)));
}

/** The curve of a falling piece, 0 to 1: quick at first, for it is pushed. */
export const EASE = 1.7;

/** Seconds from the hit to rest, so that the piece touches the next one just when that one is hit. */
export function duration(rest: number, contact: number, delay: number): number {
  const share = rest > 0 ? Math.min(0.95, contact / rest) : 0.95;
  const part = 1 - (1 - share) ** (1 / EASE);
  return Math.min(1, Math.max(0.05, part > 0 ? delay / part : 0.2));
}

/** "1:05.3" from seconds; tenths below ten minutes. */
export function clock(seconds: number): string {
  const tenths = Math.max(0, Math.floor(seconds * 10 + 1e-6));
  const [m, s] = [Math.floor(tenths / 600), (tenths % 600) / 10];
  return `${m}:${s.toFixed(1).padStart(4, "0")}`;
}

/** All times at which something is hit, in order, µs. */
export function inOrder(hit: Uint32Array): Uint32Array {
  const sorted = hit.filter((t) => t !== NEVER);
  return sorted.sort();
}

/** How many are hit up to a time in seconds. */
export function fallenAt(sorted: Uint32Array, seconds: number): number {
  const us = seconds * 1e6 + 0.5;
  let [low, high] = [0, sorted.length];
  while (low < high) {
    const mid = (low + high) >> 1;
    if (sorted[mid]! <= us) low = mid + 1;
    else high = mid;
  }
  return low;
}

/** Pieces hit in each step of so many seconds, from the first push on. */
export function perStep(sorted: Uint32Array, step: number): number[] {
  const last = sorted.at(-1);
  if (last === undefined) return [];
  const counts = new Array<number>(Math.floor(last / 1e6 / step) + 1).fill(0);
  for (const us of sorted) counts[Math.floor(us / 1e6 / step)]! += 1;
  return counts;
}

/** First and last hit of each item, s; items that nothing reaches are left out. */
export function spans(pieces: HallPieces, times: FallTimes): { id: number; from: number; to: number }[] {
  return pieces.items.flatMap(({ id, first, count }) => {
    let [from, to] = [NEVER, 0];
    for (let p = first; p < first + count; p++) {
      const t = times.hit[p]!;
      if (t === NEVER) continue;
      from = Math.min(from, t);
      to = Math.max(to, t);
    }
    return from === NEVER ? [] : [{ id, from: from / 1e6, to: to / 1e6 }];
  });
}

/** Rest angle, negative when it falls back, and the time to rest, for each piece. */
export interface Motion {
  rest: Float32Array;
  takes: Float32Array;
}

export function motion(pieces: HallPieces, times: FallTimes, sizes: (kind: number) => { thickness: number; height: number }): Motion {
  const { n, x, y, kind } = pieces;
  // What a piece strikes first tells where it comes to lie.
  const struck = new Int32Array(n).fill(-1);
  for (let p = 0; p < n; p++) {
    const by = times.from[p]!;
    if (by >= n) continue;
    const known = struck[by]!;
    if (known < 0 || times.hit[p]! < times.hit[known]!) struck[by] = p;
  }
  const rest = new Float32Array(n);
  const takes = new Float32Array(n).fill(0.2);
  for (let p = 0; p < n; p++) {
    if (times.hit[p] === NEVER) continue;
    const { thickness, height } = sizes(kind[p]!);
    const q = struck[p]!;
    let angle = Math.PI / 2;
    if (q >= 0) {
      const pitch = Math.hypot(x[q]! - x[p]!, y[q]! - y[p]!);
      angle = restAngle(thickness, pitch);
      takes[p] = duration(angle, contactAngle(height, pitch - thickness), (times.hit[q]! - times.hit[p]!) / 1e6);
    }
    rest[p] = times.way[p] === 1 ? -angle : angle;
  }
  return { rest, takes };
}
