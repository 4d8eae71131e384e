/** An arc: start, end, and how far it bulges; from a port it sets out in the direction of the fall, so that its end says all. */
import type { LegDraft } from "../api/generated/LegDraft";
import type { LinkDraft } from "../api/generated/LinkDraft";
import type { Pair } from "../kernels/floor";
import { apart, direction, round, turn, type Frame } from "../kernels/frames";
import { arcThrough, arcTo } from "../kernels/paths";
import { FAR, item, lineBody, nameOf, type DraftOf } from "./drafts";
import { entry, link, strokeOf, type Entry } from "./line";
import { reached, reachNumbers } from "./reach";
import { EMPTY, stay, type Env, type Sketch, type Step, type Tool } from "./tool";

export interface ArcState {
  a: Pair | null;
  b: Pair | null;
  /** Where the pointer is. */
  next: Pair | null;
  from: LinkDraft | null;
  heading: number | null;
  to: Entry | null;
  typed: Partial<Record<"length" | "angle" | "radius" | "turn", number>>;
  /** In steps of 15°. */
  even: boolean;
}
const START: ArcState = { a: null, b: null, next: null, from: null, heading: null, to: null, typed: {}, even: false };
const RAD = Math.PI / 180;

/** Turn and radius of an arc over a chord; the turn is left when positive. */
export function overChord(chord: number, by: { radius: number; large: boolean; left: boolean } | { turn: number }): { radius: number; turn: number } {
  if ("turn" in by) return { radius: chord / (2 * Math.abs(Math.sin((by.turn * RAD) / 2))), turn: by.turn };
  const radius = Math.max(by.radius, chord / 2);
  const small = (2 * Math.asin(chord / (2 * radius))) / RAD;
  const size = by.large ? 360 - small : small;
  return { radius, turn: by.left ? size : -size };
}

/** The end of the chord: the second point, or where the pointer is, with typed figures in its place. */
function end(s: ArcState): Pair | null {
  if (s.b) return s.b;
  if (!s.a || !s.next) return null;
  return s.heading === null ? reached(s.a, s.next, s.typed) : s.next;
}

function shape(s: ArcState): { frame: Frame; path: LegDraft[] } | null {
  const b = end(s);
  if (!s.a || !b || apart(s.a, b) < 0.5) return null;
  if (s.to) {
    // Into a port: the last leg is laid by the program, and is a circle when it sets out as it arrives.
    return { frame: { x: round(s.a[0]), y: round(s.a[1]), heading: turn(s.heading ?? 2 * direction(s.a, b) - s.to.heading) }, path: [] };
  }
  if (s.heading !== null) {
    const path = arcTo(s.a, s.heading, b);
    const leg = path[0];
    const { radius, turn: by } = s.typed;
    if (radius === undefined && by === undefined) return path.length ? { frame: { x: round(s.a[0]), y: round(s.a[1]), heading: turn(s.heading) }, path } : null;
    const drawn = leg?.is === "arc" ? leg : { radius: apart(s.a, b), turn: 90 };
    return { frame: { x: round(s.a[0]), y: round(s.a[1]), heading: turn(s.heading) }, path: [{ is: "arc", radius: radius ?? drawn.radius, turn: by ?? drawn.turn }] };
  }
  const chord = direction(s.a, b);
  const straight = { frame: { x: round(s.a[0]), y: round(s.a[1]), heading: turn(chord) }, path: [{ is: "straight" as const, length: round(apart(s.a, b)) }] };
  const drawn = s.b && s.next ? arcThrough(s.a, s.next, b) : null;
  const leg = drawn?.path[0];
  const fromTurn = (by: number) => {
    const over = overChord(apart(s.a!, b), { turn: by });
    return { frame: { x: round(s.a![0]), y: round(s.a![1]), heading: turn(chord - by / 2) }, path: [{ is: "arc" as const, radius: round(over.radius), turn: Math.round(by * 1000) / 1000 }] };
  };
  if (s.typed.turn !== undefined) return Math.abs(s.typed.turn) < 0.01 ? straight : fromTurn(s.typed.turn);
  if (s.typed.radius !== undefined) {
    const as = leg?.is === "arc" ? leg.turn : 90;
    return fromTurn(overChord(apart(s.a, b), { radius: s.typed.radius, large: Math.abs(as) > 180, left: as > 0 }).turn);
  }
  if (!s.b) return straight;
  if (s.even && leg?.is === "arc") {
    const by = Math.round(leg.turn / 15) * 15;
    return Math.abs(by) < 1 || Math.abs(by) >= 360 ? straight : fromTurn(by);
  }
  return drawn ?? straight;
}

export function arcOf(s: ArcState, env: Env): DraftOf<"line"> | null {
  const made = shape(s);
  return made && item(nameOf("Arc", env), made.frame, lineBody(made.path, env, { from: s.from, to: s.to?.link ?? null }), env);
}

function finish(s: ArcState, env: Env): Step<ArcState> {
  const made = arcOf(s, env);
  return made ? { state: START, change: { do: "put", items: [made], label: env.say("did.draw", { name: made.name }) } } : stay(START);
}

/** The next thing that a press sets: start, end, bulge. */
function set(s: ArcState, at: Pair, snap: Parameters<typeof link>[0], env: Env): Step<ArcState> {
  if (!s.a) {
    const from = link(snap, false);
    return stay({ ...s, a: at, next: at, from, heading: from ? (snap?.target?.heading ?? null) : null });
  }
  if (!s.b) {
    const free = Object.keys(s.typed).length === 0;
    const to = free ? entry(snap) : null;
    const now = { ...s, next: at, to };
    const b = end(now)!;
    if (apart(s.a, b) * env.scale < 3) return stay(now);
    // A port on either side leaves nothing to say about the bulge.
    if (s.heading !== null || to) return finish(now, env);
    return stay({ ...now, b, typed: {} });
  }
  return finish({ ...s, next: at }, env);
}

export const arc: Tool<ArcState> = {
  id: "arc",
  purpose: "lines",
  words: "tool.arc",
  about: "tool.arc.about",
  key: "R",
  icon: "M3 16A13 13 0 0 1 17 5",
  uses: ["kind", "pattern", "spacing", "placed", "lanes", "across"],
  start: () => START,
  busy: (s) => s.a !== null,
  on(s, press, env) {
    if (press.is === "down") return set({ ...s, even: press.spot.shift }, press.spot.at, press.spot.snap, env);
    if (press.is === "drag" || press.is === "hover") {
      // The bulge follows the pointer itself: what lies near has no say in it.
      return stay(s.a ? { ...s, next: s.b ? press.spot.raw : press.spot.at, to: s.b ? null : entry(press.spot.snap), even: press.spot.shift } : s);
    }
    if (press.is === "up") return s.a && !s.b && apart(s.a, press.spot.at) * env.scale > 12 ? set(s, press.spot.at, press.spot.snap, env) : stay(s);
    if (press.is === "finish") return finish({ ...s, to: null }, env);
    if (press.is === "back") return stay(s.b ? { ...s, b: null, typed: {} } : START);
    if (press.is === "number" && press.id in { length: 1, angle: 1, radius: 1, turn: 1 }) {
      const other = press.id === "radius" && s.heading === null ? { ...s.typed, turn: undefined } : press.id === "turn" && s.heading === null ? { ...s.typed, radius: undefined } : s.typed;
      const typed = Object.fromEntries(Object.entries({ ...other, [press.id]: press.value }).filter(([, v]) => v !== undefined)) as ArcState["typed"];
      return stay({ ...s, typed, to: null });
    }
    return stay(s);
  },
  sketch(s, env): Sketch {
    if (!s.a) return { ...EMPTY, hint: "tool.arc.hint" };
    const made = arcOf(s, env);
    const b = end(s) ?? s.a;
    const leg = made?.body.path[0];
    const bent = s.b !== null || s.heading !== null;
    return {
      items: made ? [made] : [],
      strokes: [{ points: made ? strokeOf(made, s.to, env) : [s.a, b], faint: true }],
      points: s.b ? [s.a, s.b] : [s.a],
      numbers: bent
        ? [
            { id: "radius", words: "tool.radius", kind: "length", value: s.typed.radius ?? (leg?.is === "arc" ? leg.radius : 0), min: 1, max: FAR },
            { id: "turn", words: "tool.turn", kind: "degrees", value: s.typed.turn ?? (leg?.is === "arc" ? leg.turn : 0), min: -3600, max: 3600 },
          ]
        : reachNumbers(s.a, b, s.typed, 1),
      hint: s.b ? "tool.arc.bulge" : s.heading !== null ? "tool.arc.port" : "tool.arc.end",
      from: s.b ? null : s.a,
    };
  },
};
