/** A line: click points, drag to bend, Enter or a double click at the end; ports give it a direction and carry it on. */
import type { LinkDraft } from "../api/generated/LinkDraft";
import type { Pair } from "../kernels/floor";
import { apart, direction, toOwn, type Frame } from "../kernels/frames";
import type { LegDraft } from "../api/generated/LegDraft";
import { along, loop, cornered, smooth } from "../kernels/paths";
import type { Snap } from "../kernels/snap";
import { item, lineBody, nameOf, type DraftOf } from "./drafts";
import { reached, reachNumbers } from "./reach";
import { again, EMPTY, stay, type Env, type Press, type Sketch, type Spot, type Step, type Tool } from "./tool";

export interface LineState {
  points: readonly Pair[];
  /** Where the pointer is; the next point. */
  next: Pair | null;
  /** Bends of the legs by what was dragged: points between, by the leg that they are in. */
  bends: readonly (Pair | null)[];
  from: LinkDraft | null;
  heading: number | null;
  /** The port that the last point, or the pointer, has met. */
  to: Entry | null;
  /** A figure that was typed for the next leg. */
  length: number | null;
  angle: number | null;
  dragging: boolean;
  /** Where the pointer was as it pressed last, whatever that snapped to. */
  pressed: Pair | null;
  /** It comes back to its first point. */
  closed: boolean;
}
const START: LineState = { points: [], next: null, bends: [], from: null, heading: null, to: null, length: null, angle: null, dragging: false, pressed: null, closed: false };
/** Pixels within which a click counts as one on the first point. */
const CLOSE = 12;
/** Points that a line takes at the most; the plan takes more, nobody clicks them. */
const MOST = 500;

/** A port that a line leads to. */
export interface Entry {
  link: LinkDraft;
  at: Pair;
  heading: number;
}

/** The port that a snap met, when the fall goes that way. */
export const link = (snap: Snap | null, enters: boolean): LinkDraft | null => {
  const t = snap?.target;
  return t?.kind === "port" && t.item !== undefined && t.port !== undefined && t.enters === enters ? { item: t.item, port: t.port } : null;
};
/** The same with its place, for a port that the fall enters. */
export function entry(snap: Snap | null): Entry | null {
  const to = link(snap, true);
  return to && { link: to, at: snap!.target!.at, heading: snap!.target!.heading ?? 0 };
}

/** The next point, with typed length and angle in place of the pointer's. */
export function nextPoint(s: Pick<LineState, "points" | "next" | "length" | "angle">): Pair | null {
  const last = s.points[s.points.length - 1];
  return last && s.next ? reached(last, s.next, s) : s.next;
}

function route(points: readonly Pair[], bends: readonly (Pair | null)[]): Pair[] {
  return points.flatMap((p, i) => (bends[i] ? [bends[i]!, p] : [p]));
}

/** The line through points; into a port it ends one point before, since the last leg to a port is laid by the program. */
export function lineThrough(points: readonly Pair[], s: Pick<LineState, "from" | "heading" | "to" | "closed"> & { bent: boolean }, env: Env, name = "Line"): DraftOf<"line"> | null {
  const corners = env.uses.curve === "corners" && !s.bent;
  const through = s.to ? points.slice(0, -1) : points;
  let made: { frame: Frame; path: LegDraft[] } | null;
  if (s.closed) made = corners ? cornered(points, env.uses.radius, null, true) : loop(points);
  else if (through.length === 1 && s.to) {
    const heading = s.heading ?? 2 * direction(points[0]!, s.to.at) - s.to.heading;
    made = apart(points[0]!, s.to.at) < 0.5 ? null : { frame: { x: points[0]![0], y: points[0]![1], heading }, path: [] };
  } else made = corners ? cornered(through, env.uses.radius, s.heading) : smooth(through, s.heading);
  return made && item(nameOf(name, env), made.frame, lineBody(made.path, env, { from: s.from, to: s.to?.link ?? null }), env);
}

export function drawn(s: LineState, env: Env, last: Pair | null): DraftOf<"line"> | null {
  const points = route(last ? [...s.points, last] : s.points, s.bends);
  return lineThrough(points, { ...s, bent: s.bends.some(Boolean) }, env);
}

/** Strokes of a line for the sketch, to the port that it leads to. */
export function strokeOf(made: DraftOf<"line">, to: Entry | null, env: Env): Pair[] {
  const step = Math.max(4, 4 / env.scale);
  const path = made.body.path;
  const end = path[path.length - 1];
  // A curve through points goes on to the port.
  if (to && end?.is === "through") return along(made, [...path.slice(0, -1), { ...end, points: [...end.points, toOwn(made, to.at)] }], step);
  const points = along(made, path, step);
  if (!to) return points;
  const last = points[points.length - 1]!;
  const before = points[points.length - 2];
  const heading = before ? direction(before, last) : made.heading;
  return [...points, ...along({ x: last[0], y: last[1], heading }, [{ is: "through", points: [toOwn({ x: last[0], y: last[1], heading }, to.at)] }], step).slice(1)];
}

/** Whether a place is on the first point, so that it closes the line. */
const closes = (s: LineState, p: Pair, env: Env): boolean => s.points.length > 2 && s.from === null && apart(s.points[0]!, p) * env.scale < CLOSE;

function set(s: LineState, spot: Spot, env: Env): LineState {
  if (s.points.length === 0) {
    const from = link(spot.snap, false);
    return { ...s, points: [spot.at], next: spot.at, from, heading: from ? (spot.snap?.target?.heading ?? null) : null };
  }
  if (s.points.length >= MOST) return s;
  if (closes(s, spot.raw, env)) return { ...s, closed: true };
  const at = nextPoint({ ...s, next: spot.at })!;
  // The second click of a double click is where the first one was, within what a hand shakes; a typed figure sets a point from there.
  const typed = s.length !== null || s.angle !== null;
  if ((!typed && again(s.pressed, spot, env)) || apart(at, s.points[s.points.length - 1]!) < 0.5) return s;
  return { ...s, points: [...s.points, at], next: at, length: null, angle: null, to: s.length === null && s.angle === null ? entry(spot.snap) : null };
}

function finish(s: LineState, env: Env): Step<LineState> {
  const made = drawn(s, env, null);
  if (!made) return stay(START);
  return { state: START, change: { do: "put", items: [made], label: env.say("did.draw", { name: made.name }) } };
}

export const line: Tool<LineState> = {
  id: "line",
  purpose: "lines",
  words: "tool.line",
  about: "tool.line.about",
  key: "L",
  icon: "M2 16C6 4 9 16 13 9S17 5 18 4",
  uses: ["kind", "pattern", "spacing", "placed", "lanes", "across", "curve", "radius"],
  start: () => START,
  busy: (s) => s.points.length > 0,
  on(s, press: Press, env) {
    if (press.is === "down") {
      const now = set(s, press.spot, env);
      // A port to go into ends the line, and so does its own beginning.
      if (now.closed || (now.to && now.points.length > 1)) return finish(now, env);
      return stay({ ...now, dragging: true, pressed: press.spot.raw });
    }
    if (press.is === "drag") {
      const n = s.points.length;
      if (!s.dragging || n < 2) return stay({ ...s, next: press.spot.at });
      const [a, b] = [s.points[n - 2]!, s.points[n - 1]!];
      // The middle of the leg follows the pointer, twice as far as half of the way: the pull of a bow.
      const [dx, dy] = [press.spot.raw[0] - b[0], press.spot.raw[1] - b[1]];
      if (Math.hypot(dx, dy) * env.scale < 8) return stay(s);
      const bends = [...s.bends];
      bends[n - 1] = [(a[0] + b[0]) / 2 + dx, (a[1] + b[1]) / 2 + dy];
      return stay({ ...s, bends });
    }
    if (press.is === "up") {
      // A drag from the first point sets the second one where it is let go.
      if (s.dragging && s.points.length === 1 && apart(s.points[0]!, press.spot.at) * env.scale > 12) {
        const now = set(s, press.spot, env);
        return now.to ? finish(now, env) : stay({ ...now, dragging: false });
      }
      return stay({ ...s, dragging: false });
    }
    if (press.is === "hover") return stay({ ...s, next: press.spot.at, to: s.points.length ? entry(press.spot.snap) : null });
    if (press.is === "finish") return finish({ ...s, to: null }, env);
    if (press.is === "back") return stay(s.points.length > 1 ? { ...s, points: s.points.slice(0, -1), bends: s.bends.slice(0, s.points.length - 1), to: null, closed: false, pressed: null } : START);
    if (press.is === "number") return stay({ ...s, [press.id]: press.value });
    return stay(s);
  },
  keeps: (s, env) => (s.points.length > 1 ? finish({ ...s, to: null }, env) : null),
  sketch(s, env): Sketch {
    const last = s.points[s.points.length - 1] ?? null;
    if (!last) return { ...EMPTY, hint: "tool.line.hint" };
    const next = s.dragging && s.points.length > 1 ? null : nextPoint(s);
    const ahead = next && apart(next, last) > 0.5 ? next : null;
    const closed = ahead !== null && closes(s, ahead, env);
    const typed = s.length !== null || s.angle !== null;
    const to = ahead && !typed && !closed ? s.to : null;
    const made = drawn({ ...s, to, closed }, env, closed ? null : ahead);
    const end = next ?? last;
    const base = s.points.length > 1 && !next ? s.points[s.points.length - 2]! : last;
    return {
      items: made ? [made] : [],
      strokes: [{ points: made ? strokeOf(made, to, env) : [last, end], faint: true }],
      points: s.points,
      numbers: reachNumbers(base, end, s, 1),
      hint: s.points.length > 2 ? "tool.line.close" : "tool.line.next", keys: "tool.line.keys",
      from: last,
    };
  },
};
