/** A line drawn by hand: the stroke is calmed and laid as a curve through the few points that it needs. */
import type { LinkDraft } from "../api/generated/LinkDraft";
import type { Pair } from "../kernels/floor";
import { apart, direction } from "../kernels/frames";
import { drawnOn, knots } from "../kernels/strokes";
import type { DraftOf } from "./drafts";
import { entry, lineThrough, link, strokeOf, type Entry } from "./line";
import { EMPTY, stay, type Env, type Sketch, type Spot, type Step, type Tool } from "./tool";

export interface FreehandState {
  stroke: readonly Pair[];
  from: LinkDraft | null;
  heading: number | null;
  to: Entry | null;
  /** The button is held; without it the pen was set down by a click or a key, and the next one lifts it. */
  held: boolean;
  typed: number | null;
}
const START: FreehandState = { stroke: [], from: null, heading: null, to: null, held: false, typed: null };
/** Pixels that the curve may lie beside the stroke, and that points of it lie apart. */
const BESIDE = 4;
const APART = 2;
/** Pixels within which the end meets the beginning. */
const CLOSE = 12;

const tolerance = (s: FreehandState, env: Env): number => s.typed ?? Math.max(1, Math.round(BESIDE / env.scale));

export function freehandOf(s: FreehandState, env: Env): DraftOf<"line"> | null {
  const last = s.stroke[s.stroke.length - 1];
  if (!last || s.stroke.length < 2) return null;
  const points = knots(s.to ? [...s.stroke.slice(0, -1), s.to.at] : s.stroke, tolerance(s, env));
  const closed = points.length > 4 && !s.from && !s.to && apart(points[0]!, last) * env.scale < CLOSE;
  const smooth: Env = { ...env, uses: { ...env.uses, curve: "smooth" } };
  return lineThrough(points, { from: s.from, heading: s.heading, to: s.to, closed, bent: true }, smooth);
}

function finish(s: FreehandState, env: Env): Step<FreehandState> {
  const made = freehandOf(s, env);
  return made ? { state: START, change: { do: "put", items: [made], label: env.say("did.draw", { name: made.name }) } } : stay(START);
}

/** The stroke goes on; Shift keeps to a straight from where it began. */
function on(s: FreehandState, spot: Spot, env: Env): FreehandState {
  const first = s.stroke[0]!;
  if (spot.shift) return { ...s, stroke: [first, spot.at], to: entry(spot.snap) };
  return { ...s, stroke: drawnOn(s.stroke, spot.raw, APART / env.scale), to: entry(spot.snap) };
}

export const freehand: Tool<FreehandState> = {
  id: "freehand",
  purpose: "lines",
  words: "tool.freehand",
  about: "tool.freehand.about",
  key: "W",
  icon: "M2 13C4 8 6 8 7 11S9 15 11 11 13 5 15 7 15 12 18 10",
  uses: ["kind", "pattern", "spacing", "placed", "lanes", "across"],
  start: () => START,
  busy: (s) => s.stroke.length > 0,
  on(s, press, env) {
    if (press.is === "down") {
      if (s.stroke.length) return finish(on(s, press.spot, env), env);
      const from = link(press.spot.snap, false);
      return stay({ ...s, stroke: [press.spot.at], from, heading: from ? (press.spot.snap?.target?.heading ?? null) : null, held: true });
    }
    if (press.is === "drag" || press.is === "hover") return stay(s.stroke.length ? on(s, press.spot, env) : s);
    if (press.is === "up") {
      if (!s.held || !s.stroke.length) return stay(s);
      // A click only sets the pen down.
      const far = s.stroke.some((p) => apart(p, s.stroke[0]!) * env.scale > 6);
      return far ? finish(on(s, press.spot, env), env) : stay({ ...s, held: false });
    }
    if (press.is === "finish") return finish(s, env);
    if (press.is === "back") return stay(START);
    if (press.is === "number" && press.id === "smoothing") return stay({ ...s, typed: press.value });
    return stay(s);
  },
  sketch(s, env): Sketch {
    if (!s.stroke.length) return { ...EMPTY, hint: "tool.freehand.hint" };
    const made = freehandOf(s, env);
    const last = s.stroke[s.stroke.length - 1]!;
    return {
      items: made ? [made] : [],
      strokes: [{ points: made ? strokeOf(made, s.to, env) : s.stroke, faint: true }],
      points: [s.stroke[0]!],
      numbers: [{ id: "smoothing", words: "tool.smoothing", kind: "length", value: tolerance(s, env), min: 0.5, max: 5_000 }],
      hint: "tool.freehand.next",
      // Corners and angles do not pull at a free hand, but Shift counts from the last place.
      from: s.stroke.length > 1 && apart(s.stroke[0]!, last) > 0 && Number.isFinite(direction(s.stroke[0]!, last)) ? s.stroke[0]! : null,
    };
  },
};
