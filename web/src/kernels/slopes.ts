/** Surfaces that slope: how high they are, the board that is drawn for one, and the frame of a piece that stands square to it. */
import type { SurfaceRow } from "../api/generated/SurfaceRow";
import type { HallPieces } from "./columns";

export type Triple = readonly [number, number, number];
/** By how much a surface rises for each mm to the east and to the north. */
export type Grade = readonly [number, number];
export type Sloping = Pick<SurfaceRow, "height" | "slope" | "uphill" | "outline">;

export const LEVEL: Grade = [0, 0];
const DEGREE = Math.PI / 180;
const dot = (a: Triple, b: Triple): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

export function gradeOf({ slope, uphill }: Pick<Sloping, "slope" | "uphill">): Grade {
  if (slope === 0) return LEVEL;
  const steep = Math.tan(slope * DEGREE);
  return [steep * Math.cos(uphill * DEGREE), steep * Math.sin(uphill * DEGREE)];
}

/** Height of the upper side above the floor at places of the floor plan, mm; `height` is that of the lowest corner. Beyond its outline it goes on. */
export function heights(s: Sloping): (x: number, y: number) => number {
  const [east, north] = gradeOf(s);
  const rise = (x: number, y: number) => east * x + north * y;
  const lowest = Math.min(...s.outline.map(([x, y]) => rise(x, y)));
  return (x, y) => s.height + (Number.isFinite(lowest) ? rise(x, y) - lowest : 0);
}

/** Three directions of length 1, square to each other. */
export interface Square {
  /** The direction in which a piece falls forward; from above it is that of its yaw. */
  ahead: Triple;
  left: Triple;
  /** Away from the surface. */
  up: Triple;
}

/** How something stands on a surface that faces a direction of the floor plan, given by its cosine and sine. */
export function squareTo([east, north]: Grade, c: number, s: number): Square {
  const rise = east * c + north * s;
  const long = Math.hypot(1, rise);
  const tall = Math.hypot(1, east, north);
  const ahead: Triple = [c / long, s / long, rise / long];
  const up: Triple = [-east / tall, -north / tall, 1 / tall];
  return { ahead, up, left: [up[1] * ahead[2] - up[2] * ahead[1], up[2] * ahead[0] - up[0] * ahead[2], up[0] * ahead[1] - up[1] * ahead[0]] };
}

/** A place on and above a foot, of a frame's own directions, in the hall. */
export function inHall({ ahead, left, up }: Square, foot: Triple, [x, y, z]: Triple): Triple {
  const of = (i: 0 | 1 | 2) => foot[i] + x * ahead[i] + y * left[i] + z * up[i];
  return [of(0), of(1), of(2)];
}

/** How far, in the plane in which one falls, another piece stands tilted away from it, radians. */
export const tiltAway = (of: Square, other: Square): number => Math.atan2(dot(other.up, of.ahead), dot(other.up, of.up));

/** A way as one on the level that looks ahead from a foot would see it: ahead, to the left, up. */
export const seenFrom = (of: Square, way: Triple): Triple => [dot(way, of.ahead), dot(way, of.left), dot(way, of.up)];

/** The corners of a board whose upper side is a surface: those above, and square below each the one beneath. */
export function board(s: Sloping, thickness: number): { above: Triple[]; beneath: Triple[] } {
  const at = heights(s);
  const above = s.outline.map(([x, y]): Triple => [x, y, at(x, y)]);
  const square = squareTo(gradeOf(s), 1, 0);
  return { above, beneath: above.map((p) => inHall(square, p, [0, 0, -thickness])) };
}

/** Which of few slopes each piece stands on. */
export interface Slopes {
  /** The first one is the level. */
  grades: readonly Grade[];
  of: Uint16Array;
}

/** Null where no piece stands on a slope. */
export function slopesOf(pieces: HallPieces, items: readonly { id: number; surface: number }[], surfaces: readonly (Sloping & { id: number })[]): Slopes | null {
  const sloping = new Map(surfaces.filter((s) => s.slope !== 0).map((s) => [s.id, s]));
  if (sloping.size === 0) return null;
  const on = new Map(items.map((i) => [i.id, i.surface]));
  const grades: Grade[] = [LEVEL];
  const numbers = new Map<string, number>();
  const of = new Uint16Array(pieces.n);
  for (const { id, first, count } of pieces.items) {
    const surface = sloping.get(on.get(id) ?? 0);
    if (!surface || count === 0) continue;
    const grade = gradeOf(surface);
    const name = grade.join();
    const number = numbers.get(name) ?? grades.length;
    if (number === grades.length) {
      // There are fewer surfaces than numbers.
      grades.push(grade);
      numbers.set(name, number);
    }
    of.fill(number, first, first + count);
  }
  return grades.length > 1 ? { grades, of } : null;
}
