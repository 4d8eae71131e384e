/** A filled area: its outline by clicks or a box by a drag, then how densely the line in it runs. */
import type { FillingDraft } from "../api/generated/FillingDraft";
import { nearestShot, nextRing, SHOTS, type Shot } from "../kernels/aim";
import type { Pair } from "../kernels/floor";
import { apart, rounded } from "../kernels/frames";
import { area, boxOf, corners, counterClockwise } from "../kernels/pick";
import { FAR, item, kindOf, nameOf, patternOf, type DraftOf } from "./drafts";
import { nextPoint } from "./line";
import { reachNumbers } from "./reach";
import { again, EMPTY, stay, type Env, type Press, type Sketch, type Step, type Tool } from "./tool";

export interface FillState {
  points: readonly Pair[];
  next: Pair | null;
  length: number | null;
  angle: number | null;
  dragging: boolean;
  /** Where the pointer was as it pressed last. */
  pressed: Pair | null;
  /** The outline is whole; figures can be typed until it is laid. */
  set: boolean;
  typed: Partial<Record<"ring" | "course" | "swing", number>>;
  /** A number of pieces to come near to, and what was tried for it. */
  aim: { want: number; shots: readonly Shot[]; over: boolean } | null;
  /** What the sketch took when it was tried last. */
  took: number | null;
}
const START: FillState = { points: [], next: null, length: null, angle: null, dragging: false, pressed: null, set: false, typed: {}, aim: null, took: null };
const CLOSE = 12;
/** Corners of an outline, and pieces of one fill, at the most; a trial of more would keep everybody waiting. */
const MOST_CORNERS = 200;
const MOST_PIECES = 2_000_000;
/** Pieces up to which a fill is tried while its outline still moves. */
const LIVE = 60_000;

/** Pieces stand about so far apart along the line, mm. */
function pitch(env: Env): number {
  const thick = env.plan.kinds.find((k) => k.id === kindOf(env))?.thickness ?? 7.5;
  return Math.max(0.5, env.uses.spacing + (env.uses.spacedBy === "gap" ? thick : 0));
}
/** Pieces that an area takes, about: the line is as long as the area is wide in rings. */
export const about = (mm2: number, ring: number, env: Env): number => mm2 / (ring * pitch(env));

/** The ring distance: typed, or the last one used; never so fine that the fill takes more than it may. */
export function ringOf(s: FillState, mm2: number, env: Env): number {
  const least = Math.max(1, Math.ceil(mm2 / (MOST_PIECES * pitch(env))));
  return Math.max(least, s.typed.ring ?? env.uses.courses);
}

function outline(s: FillState): Pair[] {
  if (s.set) return [...s.points];
  if (s.points.length === 1 && s.dragging && s.next) return corners(boxOf(s.points[0]!, s.next));
  const next = nextPoint(s);
  return next ? [...s.points, next] : [...s.points];
}

function filling(s: FillState, env: Env): FillingDraft {
  const course = s.typed.course ?? env.uses.course;
  if (env.uses.filling === "spiral") return { is: "spiral" };
  return env.uses.filling === "curls" ? { is: "curls", course, swing: s.typed.swing ?? env.uses.swing } : { is: "waves", course };
}

/** The fill over an outline; its place is the first corner. */
export function fillOf(s: FillState, env: Env): DraftOf<"fill"> | null {
  const points = outline(s);
  if (points.length < 3 || area(points) < 1_000) return null;
  const [x, y] = rounded(points[0]!);
  const own = counterClockwise(points).map((p) => rounded([p[0] - x, p[1] - y]));
  const { spacedBy, spacing, placed } = env.uses;
  return item(nameOf("Fill", env), { x, y, heading: 0 }, {
    is: "fill", kind: kindOf(env), outline: own, with: filling(s, env), ring: ringOf(s, area(points), env), spacing: { by: spacedBy, mm: spacing }, placed, colours: patternOf(env),
  }, env);
}

function finish(s: FillState, env: Env): Step<FillState> {
  const made = fillOf({ ...s, next: s.set ? s.next : null, dragging: false }, env);
  if (!made) return stay(START);
  return { state: START, change: { do: "put", items: [made], label: env.say("did.fill", { name: made.name }) } };
}

/** The ring distance that a number of pieces is looked for with first. */
function aimAt(s: FillState, want: number, env: Env): FillState {
  const mm2 = area(outline(s));
  const first = s.took ? (ringOf(s, mm2, env) * s.took) / want : mm2 / (want * pitch(env));
  const ring = Math.min(FAR / 10, Math.max(ringOf({ ...s, typed: { ring: 1 } }, mm2, env), Math.round(first * 100) / 100));
  return { ...s, typed: { ...s.typed, ring }, aim: { want, shots: [], over: false } };
}

/** A trial came back: the next ring distance, or the nearest of all. */
function heard(s: FillState, pieces: number, env: Env): FillState {
  if (!s.set || !s.aim || s.aim.over) return s.took === pieces ? s : { ...s, took: pieces };
  const mm2 = area(s.points);
  const ring = ringOf(s, mm2, env);
  const shots = [...s.aim.shots, { ring, pieces }];
  const next = nextRing(shots, s.aim.want, ringOf({ ...s, typed: { ring: 1 } }, mm2, env), FAR / 10);
  const best = nearestShot(shots, s.aim.want)!;
  if (next === null || shots.length >= SHOTS) return { ...s, typed: { ...s.typed, ring: best.ring }, aim: { ...s.aim, shots, over: true }, took: best.pieces };
  return { ...s, typed: { ...s.typed, ring: next }, aim: { ...s.aim, shots }, took: pieces };
}

export const fill: Tool<FillState> = {
  id: "fill",
  purpose: "lines",
  words: "tool.fill",
  about: "tool.fill.about",
  key: "A",
  icon: "M3 4H17V16H3ZM5 7H15M15 7V10H5M5 10V13H15",
  uses: ["kind", "pattern", "spacing", "placed", "filling", "courses"],
  hears: true,
  start: () => START,
  busy: (s) => s.points.length > 0,
  on(s, press: Press, env) {
    const whole = (points: readonly Pair[]): Step<FillState> =>
      stay(points.length > 2 && area(points) > 1_000 ? { ...s, points, next: null, set: true, dragging: false, length: null, angle: null, took: null } : s);
    if (press.is === "tried") {
      const pieces = press.items[0]?.pieces;
      // Refused: there is nothing to come nearer by.
      if (pieces === undefined) return stay(s.aim && !s.aim.over ? { ...s, aim: { ...s.aim, over: true } } : s);
      return stay(heard(s, pieces, env));
    }
    if (press.is === "down") {
      if (s.set) return finish(s, env);
      const { at, raw } = press.spot;
      if (!s.points.length) return stay({ ...s, points: [at], next: at, dragging: true, pressed: raw });
      if (s.points.length > 2 && apart(s.points[0]!, raw) * env.scale < CLOSE) return whole(s.points);
      const p = nextPoint({ ...s, next: at })!;
      const repeats = s.length === null && s.angle === null && again(s.pressed, press.spot, env);
      if (s.points.length >= MOST_CORNERS || repeats || apart(p, s.points[s.points.length - 1]!) < 0.5) return stay(s);
      return stay({ ...s, points: [...s.points, p], next: p, length: null, angle: null, pressed: raw });
    }
    if (press.is === "drag" || press.is === "hover") return stay(s.set || !s.points.length ? s : { ...s, next: press.spot.at });
    if (press.is === "up") {
      if (!s.dragging) return stay(s);
      const far = s.points.length === 1 && apart(s.points[0]!, press.spot.at) * env.scale > 12;
      return far ? whole(corners(boxOf(s.points[0]!, press.spot.at))) : stay({ ...s, dragging: false });
    }
    if (press.is === "finish") return s.set ? finish(s, env) : s.points.length > 2 ? whole(s.points) : stay(s);
    if (press.is === "back") return stay(s.set ? { ...s, set: false, aim: null, took: null } : s.points.length > 1 ? { ...s, points: s.points.slice(0, -1), pressed: null } : START);
    if (press.is === "number") {
      if (press.id === "length" || press.id === "angle") return stay({ ...s, [press.id]: press.value });
      if (press.id === "pieces") return stay(aimAt(s, press.value, env));
      if (press.id === "density") return stay(aimAt(s, Math.max(1, Math.round((press.value * area(s.points)) / 1e6)), env));
      const typed = { ...s.typed, [press.id]: press.value };
      // Another direction changes the number; what was asked for is looked for again.
      const now = { ...s, typed, took: null };
      return stay(press.id === "ring" || !s.aim ? { ...now, aim: null } : { ...now, aim: { ...s.aim, shots: [], over: false } });
    }
    return stay(s);
  },
  keeps: (s, env) => (s.points.length > 2 ? finish(s, env) : null),
  sketch(s, env): Sketch {
    if (!s.points.length) return { ...EMPTY, hint: "tool.fill.hint" };
    const points = outline(s);
    const last = s.points[s.points.length - 1]!;
    const mm2 = points.length > 2 ? area(points) : 0;
    const ring = ringOf(s, mm2, env);
    const made = s.set || about(mm2, ring, env) < LIVE ? fillOf(s, env) : null;
    const next = nextPoint(s) ?? last;
    const swing: Sketch["numbers"] = env.uses.filling === "curls" ? [{ id: "swing", words: "tool.swing", kind: "length", value: s.typed.swing ?? env.uses.swing, min: 0, max: 10_000 }] : [];
    const course: Sketch["numbers"] = env.uses.filling === "spiral" ? [] : [{ id: "course", words: "tool.course", kind: "degrees", value: s.typed.course ?? env.uses.course, min: -360, max: 360 }];
    const pieces = s.took ?? Math.round(about(mm2, ring, env));
    return {
      items: made ? [made] : [],
      strokes: points.length > 1 ? [{ points, closed: points.length > 2 }] : [],
      points: s.points,
      numbers: s.set
        ? [
            { id: "ring", words: "use.courses", kind: "length", value: ring, min: 1, max: FAR / 10 },
            { id: "pieces", words: "pieces", kind: "count", value: pieces, min: 1, max: MOST_PIECES },
            { id: "density", words: "tool.density", kind: "count", value: mm2 ? Math.round((pieces * 1e6) / mm2) : 0, min: 1, max: 20_000 },
            ...course,
            ...swing,
          ]
        : reachNumbers(last, next, s, 1),
      hint: s.set ? "tool.fill.set" : "tool.fill.next", ...(s.set ? {} : { keys: "tool.fill.keys" as const }),
      from: s.set ? null : last,
    };
  },
};
