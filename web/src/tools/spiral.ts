/** A spiral: its middle and its outer radius, or from a port on; ring after ring, inwards or outwards. */
import type { LinkDraft } from "../api/generated/LinkDraft";
import type { Pair } from "../kernels/floor";
import { apart, direction, off, round, turn, type Frame } from "../kernels/frames";
import { along, spiralCentre, spiralHeading } from "../kernels/paths";
import { item, lineBody, nameOf, type DraftOf } from "./drafts";
import { entry, link, type Entry } from "./line";
import { EMPTY, stay, type Env, type Press, type Sketch, type Step, type Tool } from "./tool";

export interface SpiralState {
  /** The middle; or, from a port, where it begins. */
  first: Pair | null;
  next: Pair | null;
  from: LinkDraft | null;
  heading: number | null;
  to: Entry | null;
  typed: Partial<Record<"radius" | "ring" | "turns" | "inner", number>>;
}
const START: SpiralState = { first: null, next: null, from: null, heading: null, to: null, typed: {} };
/** The innermost ring when nobody says otherwise, mm: 15 mm pitch turns by some 9° a piece there, a quarter in ten pieces; common practice, no source. */
const INNER = 100;
const MOST_TURNS = 500;
/** Radii beyond any hall, mm. */
const WIDEST = 100_000;

interface Shape {
  frame: Frame;
  radius: number;
  inner: number;
  ring: number;
  turns: number;
  hand: "left" | "right";
  centre: Pair;
}

/** The figures of a spiral and where it begins. */
export function shapeOf(s: SpiralState, env: Env): Shape | null {
  if (!s.first || !s.next) return null;
  const ring = s.typed.ring ?? env.uses.ring;
  const inwards = env.uses.inwards === "in" || s.from !== null;
  const radius = Math.min(WIDEST, s.typed.radius ?? apart(s.first, s.next));
  if (radius < 1 || ring <= 0) return null;
  let inner = Math.min(s.typed.inner ?? INNER, radius);
  let turns = Math.min(MOST_TURNS, s.typed.turns ?? Math.max(0.05, (radius - inner) / ring));
  // Turns count more than the inner radius, but not past the middle.
  if (s.typed.turns !== undefined) turns = Math.min(turns, radius / ring);
  inner = Math.max(0, radius - turns * ring);
  turns = Math.floor(turns * 1000) / 1000;
  if (s.from && s.heading !== null) {
    // From a port: the middle lies on the side of the pointer.
    const frame = { x: s.first[0], y: s.first[1], heading: s.heading };
    const side = turn(direction(s.first, s.next) - s.heading) >= 0 ? "left" : "right";
    return { frame, radius, inner, ring: -ring, turns, hand: side, centre: spiralCentre(frame, radius, -ring, side) };
  }
  const { hand } = env.uses;
  const left = hand === "left" ? 1 : -1;
  const out = direction(s.first, s.next) || 0;
  const at = (r: number, degrees: number): Pair => off(s.first!, degrees, r);
  // Into a port it stops a quarter turn before, so that the last leg has room.
  if (s.to && !inwards) turns = Math.max(0.05, turns - 0.25);
  const begin = inwards ? at(radius, out) : at(Math.max(0.5, inner), out - left * 360 * (turns + (s.to ? 0.25 : 0)));
  const growth = inwards ? -ring : ring;
  const heading = spiralHeading(s.first, begin, growth, hand);
  return { frame: { x: begin[0], y: begin[1], heading }, radius, inner: Math.max(inwards ? 0 : 0.5, inner), ring: growth, turns, hand, centre: s.first };
}

export function spiralOf(s: SpiralState, env: Env): DraftOf<"line"> | null {
  const shape = shapeOf(s, env);
  if (!shape) return null;
  const { frame, ring, turns, hand } = shape;
  const radius = round(Math.max(0.5, ring < 0 ? shape.radius : shape.inner));
  const path = [{ is: "spiral" as const, radius, ring: round(ring), turns: ring < 0 ? Math.min(turns, Math.floor((radius / -round(ring)) * 1000) / 1000) : turns, hand }];
  return item(nameOf("Spiral", env), { ...frame, x: round(frame.x), y: round(frame.y) }, lineBody(path, env, { from: s.from, to: s.to?.link ?? null }), env);
}

function finish(s: SpiralState, env: Env): Step<SpiralState> {
  const made = spiralOf(s, env);
  return made ? { state: START, change: { do: "put", items: [made], label: env.say("did.draw", { name: made.name }) } } : stay(START);
}

export const spiral: Tool<SpiralState> = {
  id: "spiral",
  purpose: "lines",
  words: "tool.spiral",
  about: "tool.spiral.about",
  key: "S",
  icon: "M10 10C10 8 13 8 13 11S8 14 7 10S11 4 15 7S16 17 10 17S2 12 3 8",
  uses: ["kind", "pattern", "spacing", "placed", "ring", "hand", "inwards"],
  start: () => START,
  busy: (s) => s.first !== null,
  on(s, press: Press, env) {
    const outer = (at: Pair, snap: Parameters<typeof link>[0]): SpiralState => {
      const typed = s.typed.radius !== undefined;
      if (s.from || typed) return { ...s, next: at, to: null };
      return { ...s, next: at, to: env.uses.inwards === "out" ? entry(snap) : null };
    };
    if (press.is === "down") {
      if (!s.first) {
        const from = link(press.spot.snap, false);
        return stay({ ...s, first: press.spot.at, next: press.spot.at, from, heading: from ? (press.spot.snap?.target?.heading ?? 0) : null });
      }
      if (apart(s.first, press.spot.at) * env.scale < 6 && s.typed.radius === undefined) return stay(s);
      const now = outer(press.spot.at, press.spot.snap);
      // It carries on from a port that its outer end meets: the port says the direction then.
      const from = env.uses.inwards === "in" && !s.from && s.typed.radius === undefined ? link(press.spot.snap, false) : null;
      return finish(from ? { ...now, first: press.spot.at, next: s.first, from, heading: press.spot.snap?.target?.heading ?? 0 } : now, env);
    }
    if (press.is === "drag" || press.is === "hover") return stay(s.first ? outer(press.spot.at, press.spot.snap) : s);
    if (press.is === "up") return s.first && apart(s.first, press.spot.at) * env.scale > 12 ? finish(outer(press.spot.at, press.spot.snap), env) : stay(s);
    if (press.is === "finish") return finish(s, env);
    if (press.is === "back") return stay(START);
    if (press.is === "number") {
      const typed = { ...s.typed, [press.id]: press.value };
      // Turns and the innermost radius say the same thing; the last word counts.
      if (press.id === "turns") delete typed.inner;
      if (press.id === "inner") delete typed.turns;
      return stay({ ...s, typed, to: null });
    }
    return stay(s);
  },
  sketch(s, env): Sketch {
    if (!s.first) return { ...EMPTY, hint: "tool.spiral.hint" };
    const made = s.next && (apart(s.first, s.next) > 5 || s.typed.radius !== undefined) ? spiralOf(s, env) : null;
    const shape = shapeOf(s, env);
    const ring = s.typed.ring ?? env.uses.ring;
    return {
      items: made ? [made] : [],
      strokes: made ? [{ points: along(made, made.body.path, 20), faint: true }] : [],
      points: shape && s.from ? [s.first, shape.centre] : [s.first],
      numbers: [
        { id: "radius", words: "tool.radius", kind: "length", value: shape?.radius ?? 0, min: 10, max: WIDEST },
        { id: "ring", words: "use.ring", kind: "length", value: ring, min: 1, max: 10_000 },
        { id: "turns", words: "tool.turns", kind: "turns", value: Math.round((shape?.turns ?? 0) * 100) / 100, min: 0.05, max: MOST_TURNS },
        { id: "inner", words: "tool.inner", kind: "length", value: shape?.inner ?? INNER, min: 1, max: WIDEST },
      ],
      hint: s.from ? "tool.spiral.port" : "tool.spiral.next",
      from: s.first,
    };
  },
};
