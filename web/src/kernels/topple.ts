/** How the fall is shown: times, angles, counts. What falls and when is the server's alone. */
import { NEVER, type FallTimes, type HallPieces } from "./columns";
import { LEVEL, seenFrom, squareTo, tiltAway, type Slopes, type Square } from "./slopes";

/** Where a piece comes to rest on the next one of a long equal row, radians from upright: cos = thickness / pitch (closed form). */
export function restAngle(thickness: number, pitch: number): number {
  return pitch > thickness ? Math.acos(thickness / pitch) : 0;
}

/** How far a piece has tipped when it touches the next one: sin = gap / height (closed form). */
export function contactAngle(height: number, gap: number): number {
  return Math.asin(Math.min(1, Math.max(0, gap / height)));
}

/** A piece that another one comes to lean on: its size, how far it has tipped itself, and how much higher it stands. */
export interface Stop {
  thickness: number;
  height: number;
  /** Radians from upright, away from the piece that leans. */
  tipped: number;
  /** mm. */
  up: number;
}

/**
 * How far a piece of some height tips before its front face or its top edge lies on another piece; radians from upright.
 * `apart` is the way from the edge over which it tips to the edge over which the other tips, mm. A right angle where it misses the other.
 * Plane geometry: the back face of the other is a straight line; of the part of it that the piece reaches, an end is met first.
 */
export function lean(height: number, apart: number, on: Stop): number {
  const [c, s] = [Math.cos(on.tipped), Math.sin(on.tipped)];
  const low = [apart - on.thickness * c, on.up + on.thickness * s] as const;
  let angle = Math.PI / 2;
  const meets = (x: number, z: number) => {
    if (x > 0 && z >= 0) angle = Math.min(angle, Math.atan2(x, z));
    else if (x <= 0) angle = 0;
  };
  const reach = (along: number): readonly [number, number] => [low[0] + along * s, low[1] + along * c];
  for (const along of [0, on.height]) {
    const [x, z] = reach(along);
    if (Math.hypot(x, z) <= height) meets(x, z);
  }
  // Where the top edge of the piece, on its circle, meets that line: along² + 2 half along + rest = 0.
  const half = low[0] * s + low[1] * c;
  const rest = low[0] ** 2 + low[1] ** 2 - height ** 2;
  const root = half ** 2 - rest;
  if (root >= 0) {
    for (const along of [-half - Math.sqrt(root), -half + Math.sqrt(root)]) if (along >= 0 && along <= on.height) meets(...reach(along));
  }
  return angle;
}

/** The curve of a falling piece, 0 to 1: quick at first, for it is pushed. */
export const EASE = 1.7;

/** Seconds from the hit to rest, so that the piece touches the next one just when that one is hit. */
export function duration(rest: number, contact: number, delay: number): number {
  const share = rest > 0 ? Math.min(0.95, contact / rest) : 0.95;
  const part = 1 - (1 - share) ** (1 / EASE);
  return Math.min(1, Math.max(0.05, part > 0 ? delay / part : 0.2));
}

/** All times at which something is hit, in order, µs. */
export function inOrder(hit: Uint32Array): Uint32Array {
  const sorted = hit.filter((t) => t !== NEVER);
  return sorted.sort();
}

/** The numbers of all pieces that are hit, in order of time; of pieces hit at once the lower number first. */
export function orderOf(hit: Uint32Array): Uint32Array {
  // Time above, number below, in one number of 64 bits: sorted without a function that compares. Low words lie first.
  const words = new Uint32Array(2 * hit.length);
  let n = 0;
  for (let p = 0; p < hit.length; p++) {
    if (hit[p] === NEVER) continue;
    words[2 * n] = p;
    words[2 * n++ + 1] = hit[p]!;
  }
  new BigUint64Array(words.buffer, 0, n).sort();
  return Uint32Array.from({ length: n }, (_, i) => words[2 * i]!);
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

/** Another piece as one that falls towards it sees it. */
interface Seen {
  /** From the middle of one foot to that of the other: in the direction of the fall, to its left, and square to what the first stands on, mm. */
  ahead: number;
  aside: number;
  up: number;
  /** How far it is tilted away, by slopes alone, radians. */
  tilt: number;
}

/** Where the edge over which a piece tips lies, and how far it may tip until its top edge lies on the floor of the hall. */
export function downToFloor(height: number, thickness: number, foot: number, { ahead, up }: Square): number {
  const edge = foot + (thickness / 2) * ahead[2];
  // The height of the top edge: edge + height (sin angle · ahead + cos angle · up), whose ahead and up are a sine and a cosine of one angle.
  const down = Math.atan2(-ahead[2], up[2]);
  const steep = Math.hypot(ahead[2], up[2]);
  return Math.min(Math.PI / 2, Math.acos(Math.min(1, Math.max(-1, -edge / (height * steep)))) - down);
}

/** How far to the side a piece may stand and still be leant on, as a share of a height. */
const BESIDE = 0.6;

interface Upright {
  thickness: number;
  height: number;
}

/**
 * `sizes` tells a piece by kind and pose. `nearest` finds a piece by its place: the last of a line leans on what stands in its way.
 * On slopes all is as on the level, seen from a piece that stands square to its surface.
 * Worked out once for a fall, from the last hit back, since a piece rests on one that has come to rest.
 */
export function motion(
  pieces: HallPieces,
  times: FallTimes,
  sizes: (kind: number, pose: number) => Upright,
  order = orderOf(times.hit),
  nearest: (x: number, y: number, within: number) => number | null = () => null,
  slopes: Slopes | null = null,
): Motion {
  const { n, x, y, z, yaw, kind, pose } = pieces;
  // What a piece strikes first tells where it comes to lie.
  const struck = new Int32Array(n).fill(-1);
  for (const p of order) {
    const by = times.from[p]!;
    if (by < n && struck[by]! < 0) struck[by] = p;
  }
  const rest = new Float32Array(n);
  const takes = new Float32Array(n).fill(0.2);
  const size = (p: number) => sizes(kind[p]!, pose[p]!);
  const heading = (p: number) => yaw[p]! + (times.way[p] === 1 ? Math.PI : 0);
  const tipped = (p: number) => Math.abs(rest[p]!);
  const foot = (p: number) => z[p]! - size(p).height / 2;
  const slope = (p: number) => (slopes ? slopes.of[p]! : 0);
  const standing = (p: number, as = heading(p)) => squareTo(slopes?.grades[slope(p)] ?? LEVEL, Math.cos(as), Math.sin(as));

  const seen = (p: number, q: number): Seen => {
    const [dx, dy, up] = [x[q]! - x[p]!, y[q]! - y[p]!, foot(q) - foot(p)];
    if (slope(p) === 0 && slope(q) === 0) {
      const [c, s] = [Math.cos(heading(p)), Math.sin(heading(p))];
      return { ahead: dx * c + dy * s, aside: dy * c - dx * s, up, tilt: 0 };
    }
    const mine = standing(p);
    const way = seenFrom(mine, [dx, dy, up]);
    return { ahead: way[0], aside: way[1], up: way[2], tilt: tiltAway(mine, standing(q)) };
  };

  /** What stands within a height before a piece at which nothing falls on. */
  const blocker = (p: number): number => {
    const { thickness, height } = size(p);
    const [c, s] = [Math.cos(heading(p)), Math.sin(heading(p))];
    const far = (thickness + height) / 2;
    const q = nearest(x[p]! + far * c, y[p]! + far * s, far - thickness / 2);
    return q !== null && q !== p && times.hit[q] === NEVER ? q : -1;
  };
  for (let i = order.length - 1; i >= 0; i--) {
    const p = order[i]!;
    const { thickness, height } = size(p);
    const q = struck[p]! >= 0 ? struck[p]! : blocker(p);
    let angle = Math.PI / 2;
    if (q >= 0) {
      const on = size(q);
      const { ahead, aside, up, tilt } = seen(p, q);
      const pitch = Math.max(ahead, (thickness + on.thickness) / 2);
      const gap = pitch - (thickness + on.thickness) / 2;
      // One that turns off to the side gives way, and does not hold what falls past it.
      const along = Math.cos(heading(q) - heading(p));
      const falls = times.hit[q] !== NEVER;
      if (falls || Math.abs(aside) < BESIDE * height) {
        // From edge to edge: a tilted one has its own half a thickness ahead of its foot, and that much lower.
        const apart = gap + on.thickness - (on.thickness / 2) * (1 - Math.cos(tilt));
        angle = lean(height, apart, { ...on, tipped: tilt + (falls && along > 0 ? tipped(q) * along : 0), up: up - (on.thickness / 2) * Math.sin(tilt) });
      }
      if (falls) takes[p] = duration(angle, contactAngle(height, gap), (times.hit[q]! - times.hit[p]!) / 1e6);
    }
    if (slope(p) !== 0) angle = Math.min(angle, downToFloor(height, thickness, foot(p), standing(p)));
    rest[p] = times.way[p] === 1 ? -angle : angle;
  }
  return { rest, takes };
}
