/** Outlines by clicks or boxes by a drag, with typed sizes, and changing them by their corners. Shared by tools. */
import type { Pair } from "../kernels/floor";
import { apart, rounded } from "../kernels/frames";
import { area, boxOf, corners, counterClockwise } from "../kernels/pick";
import { FAR } from "./drafts";
import { reached, reachNumbers } from "./reach";
import { again, type Env, type Press, type Sketch, type Spot, type Trouble, type Typed } from "./tool";

/** Pixels that a press may wander and still is a click; and within which a press meets a corner. */
export const STILL = 12;
const NEAR = 14;
/** The farthest from the datum that a plan takes, mm: ten kilometres. */
export const REACH = 1e7;
/** The least side and area that a shape may have, mm and mm². */
const LEAST = 1;
/** Corners that one outline has at the most. */
const MOST = 1_000;

/** Something that is being outlined. */
export interface Outlining {
  points: readonly Pair[];
  next: Pair | null;
  typed: Partial<Record<"width" | "depth" | "length" | "angle", number>>;
  /** Where the button went down; null between presses. */
  down: Pair | null;
  /** Where the pointer was as it pressed last, whatever that snapped to. */
  pressed: Pair | null;
  /** Boxes alone: a second press is the opposite corner. */
  box: boolean;
}
export const BLANK: Outlining = { points: [], next: null, typed: {}, down: null, pressed: null, box: false };
export const BOX: Outlining = { ...BLANK, box: true };

/** It is a box as soon as a side was typed, or while the first corner is dragged away; or always. */
const isBox = (s: Outlining, env: Env): boolean =>
  s.points.length === 1 && (s.box || s.typed.width !== undefined || s.typed.depth !== undefined || (s.down !== null && s.next !== null && apart(s.down, s.next) * env.scale > STILL));

function box(s: Outlining): Pair[] {
  const [a, b] = [s.points[0]!, s.next ?? s.points[0]!];
  const side = (typed: number | undefined, drawn: number) => (typed === undefined ? drawn : typed * (drawn < 0 ? -1 : 1));
  return corners(boxOf(a, [a[0] + side(s.typed.width, b[0] - a[0]), a[1] + side(s.typed.depth, b[1] - a[1])]));
}

function leg(s: Outlining): Pair | null {
  const last = s.points[s.points.length - 1];
  return last && s.next ? reached(last, s.next, s.typed) : s.next;
}

/** The outline as it would be; null while it has no area. */
export function outlined(s: Outlining, env: Env): Pair[] | null {
  const points = isBox(s, env) ? box(s) : [...s.points];
  return points.length >= 3 && area(points) >= LEAST ? counterClockwise(points).map(rounded) : null;
}

/** Why an outline is none; null when it is one that a plan takes. */
export function troubleOf(outline: readonly Pair[] | null): Trouble {
  if (!outline) return { words: "trouble.noarea" };
  if (outline.some((p) => !(Math.abs(p[0]) <= REACH && Math.abs(p[1]) <= REACH))) return { words: "trouble.far" };
  const [xs, ys] = [outline.map((p) => p[0]), outline.map((p) => p[1])];
  const thin = Math.max(...xs) - Math.min(...xs) < LEAST || Math.max(...ys) - Math.min(...ys) < LEAST || area(outline) < LEAST;
  return thin ? { words: "trouble.noarea" } : null;
}

/** Presses that mend nothing: what was said to be wrong is said on. */
export const still = (press: Press): boolean => press.is === "hover" || press.is === "drag" || press.is === "up";

/** Goes on with an outline; `made` when it was closed, and null in it when it is none yet. */
export function outline(s: Outlining, press: Press, env: Env): { state: Outlining; made?: Pair[] | null } {
  const end = (state: Outlining) => ({ state, made: outlined(state, env) });
  if (press.is === "down") {
    const { at, raw } = press.spot;
    if (s.points.length === 0) return { state: { ...BLANK, box: s.box, points: [at], next: at, down: at, pressed: raw } };
    if (isBox(s, env)) return end({ ...s, next: at });
    const next = leg({ ...s, next: at })!;
    // The first corner again, or the last one, closes it.
    const repeats = (s.typed.length === undefined && s.typed.angle === undefined && again(s.pressed, press.spot, env)) || apart(next, s.points[s.points.length - 1]!) < 0.5;
    if (s.points.length > 2 && (apart(next, s.points[0]!) * env.scale < NEAR || repeats)) return end(s);
    if (repeats || s.points.length >= MOST) return { state: s };
    return { state: { ...s, points: [...s.points, next], next, typed: {}, down: null, pressed: raw } };
  }
  if (press.is === "drag" || press.is === "hover") return { state: s.points.length ? { ...s, next: press.spot.at } : s };
  if (press.is === "up") {
    const dragged = s.down !== null && apart(s.down, press.spot.at) * env.scale > STILL && s.points.length === 1;
    return dragged ? end({ ...s, next: press.spot.at }) : { state: { ...s, down: null } };
  }
  if (press.is === "finish") return end(s);
  if (press.is === "back") return { state: s.points.length > 1 ? { ...s, points: s.points.slice(0, -1), typed: {}, pressed: null } : { ...BLANK, box: s.box } };
  if (press.is === "number" && ["width", "depth", "length", "angle"].includes(press.id)) return { state: { ...s, typed: { ...s.typed, [press.id]: press.value } } };
  return { state: s };
}

export function outlineSketch(s: Outlining, env: Env): Pick<Sketch, "strokes" | "points" | "numbers" | "from"> {
  const first = s.points[0];
  if (!first) return { strokes: [], points: [], numbers: [], from: null };
  const sides = (): Typed[] => {
    const [a, , c] = box(s);
    return [
      { id: "width", words: "tool.width", kind: "length", value: s.typed.width ?? c![0] - a![0], min: LEAST, max: FAR },
      { id: "depth", words: "tool.depth", kind: "length", value: s.typed.depth ?? c![1] - a![1], min: LEAST, max: FAR },
    ];
  };
  if (isBox(s, env)) return { strokes: [{ points: box(s), closed: true }], points: s.points, numbers: sides(), from: null };
  const last = s.points[s.points.length - 1]!;
  const to = leg(s) ?? last;
  const legs = reachNumbers(last, to, s.typed, LEAST);
  return {
    strokes: [{ points: [...s.points, to] }, ...(s.points.length > 1 ? [{ points: [to, first], faint: true }] : [])],
    points: s.points,
    numbers: s.points.length === 1 ? [...sides(), ...legs] : legs,
    from: last,
  };
}

/** A shape that is held at a corner, or as a whole. */
export interface Grip {
  /** Which corner; null for all of it. */
  corner: number | null;
  from: Pair;
  to: Pair;
}

/** Four corners along east and north. */
export const isRect = (o: readonly Pair[]): boolean =>
  o.length === 4 && o.every((p, i) => { const q = o[(i + 1) % 4]!; return Math.abs(p[0] - q[0]) < 0.01 !== Math.abs(p[1] - q[1]) < 0.01; });

/** The corner at a place; null when none is near. */
export function cornerAt(o: readonly Pair[], spot: Spot, env: Env): number | null {
  const near = (spot.touch ? 2 : 1) * NEAR;
  const found = o.map((p, i) => [apart(p, spot.raw) * env.scale, i] as const).filter(([d]) => d < near).sort((a, b) => a[0] - b[0])[0];
  return found ? found[1] : null;
}

/** The shape as it is held. A corner of a box keeps it a box. */
export function gripped(o: readonly Pair[], g: Grip): Pair[] {
  if (g.corner === null) return o.map((p) => [p[0] + g.to[0] - g.from[0], p[1] + g.to[1] - g.from[1]]);
  if (isRect(o)) return corners(boxOf(o[(g.corner + 2) % 4]!, g.to));
  return o.map((p, i) => (i === g.corner ? g.to : p));
}

/** The box around a shape, as figures that can be typed. */
export function shapeNumbers(o: readonly Pair[]): Typed[] {
  const b = around(o);
  const place: Typed[] = [
    { id: "east", words: "tool.east", kind: "length", value: b.x0, min: -REACH, max: REACH },
    { id: "north", words: "tool.north", kind: "length", value: b.y0, min: -REACH, max: REACH },
  ];
  return [
    { id: "width", words: "tool.width", kind: "length", value: b.x1 - b.x0, min: LEAST, max: FAR },
    { id: "depth", words: "tool.depth", kind: "length", value: b.y1 - b.y0, min: LEAST, max: FAR },
    ...place,
  ];
}

/** The shape with one of these figures changed: the others stay, and so does its south-west corner unless it is moved. */
export function reshaped(o: readonly Pair[], id: string, value: number): Pair[] | null {
  const b = around(o);
  const go = (f: (p: Pair) => Pair) => o.map(f).map(rounded);
  if (id === "east") return go((p) => [p[0] - b.x0 + value, p[1]]);
  if (id === "north") return go((p) => [p[0], p[1] - b.y0 + value]);
  if (id === "width") return go((p) => [b.x0 + ((p[0] - b.x0) * value) / Math.max(1e-9, b.x1 - b.x0), p[1]]);
  if (id === "depth") return go((p) => [p[0], b.y0 + ((p[1] - b.y0) * value) / Math.max(1e-9, b.y1 - b.y0)]);
  return null;
}

const around = (o: readonly Pair[]) => {
  const [xs, ys] = [o.map((p) => p[0]), o.map((p) => p[1])];
  return { x0: Math.min(...xs), x1: Math.max(...xs), y0: Math.min(...ys), y1: Math.max(...ys) };
};
