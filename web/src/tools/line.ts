/** A line: click points, drag to bend, Enter or a double click at the end; ports give it a direction and carry it on. */
import type { LinkDraft } from "../api/generated/LinkDraft";
import type { Pair } from "../kernels/floor";
import { apart, direction, turn } from "../kernels/frames";
import { along, rounded_, smooth } from "../kernels/paths";
import type { Snap } from "../kernels/snap";
import { FAR, item, lineBody, nameOf, type DraftOf } from "./drafts";
import { EMPTY, stay, type Env, type Press, type Sketch, type Spot, type Step, type Tool } from "./tool";

export interface LineState {
  points: readonly Pair[];
  /** Where the pointer is; the next point. */
  next: Pair | null;
  /** Bends of the legs by what was dragged: points between, by the leg that they are in. */
  bends: readonly (Pair | null)[];
  from: LinkDraft | null;
  heading: number | null;
  to: LinkDraft | null;
  /** A figure that was typed for the next leg. */
  length: number | null;
  angle: number | null;
  dragging: boolean;
}
const START: LineState = { points: [], next: null, bends: [], from: null, heading: null, to: null, length: null, angle: null, dragging: false };

/** The port that a snap met, when the fall goes that way. */
export const link = (snap: Snap | null, enters: boolean): LinkDraft | null => {
  const t = snap?.target;
  return t?.kind === "port" && t.item !== undefined && t.port !== undefined && t.enters === enters ? { item: t.item, port: t.port } : null;
};

/** The next point, with typed length and angle in place of the pointer's. */
export function nextPoint(s: Pick<LineState, "points" | "next" | "length" | "angle">): Pair | null {
  const last = s.points[s.points.length - 1];
  if (!last || !s.next || (s.length === null && s.angle === null)) return s.next;
  const long = s.length ?? apart(last, s.next);
  const a = ((s.angle ?? direction(last, s.next)) * Math.PI) / 180;
  return [last[0] + long * Math.cos(a), last[1] + long * Math.sin(a)];
}

function route(points: readonly Pair[], bends: readonly (Pair | null)[]): Pair[] {
  return points.flatMap((p, i) => (bends[i] ? [bends[i]!, p] : [p]));
}

export function drawn(s: LineState, env: Env, last: Pair | null): DraftOf<"line"> | null {
  const points = route(last ? [...s.points, last] : s.points, s.bends);
  const made = env.uses.curve === "corners" && !s.bends.some(Boolean) && s.heading === null ? rounded_(points, env.uses.radius) : smooth(points, s.heading);
  return made && item(nameOf(env.plan.items.length ? "Line" : "Line 1", env), made.frame, lineBody(made.path, env, { from: s.from, to: s.to }), env);
}

function set(s: LineState, spot: Spot): LineState {
  if (s.points.length === 0) {
    const from = link(spot.snap, false);
    return { ...s, points: [spot.at], next: spot.at, from, heading: from ? (spot.snap?.target?.heading ?? null) : null };
  }
  const at = nextPoint({ ...s, next: spot.at })!;
  if (apart(at, s.points[s.points.length - 1]!) < 0.5) return s;
  return { ...s, points: [...s.points, at], next: at, length: null, angle: null, to: link(spot.snap, true) };
}

function finish(s: LineState, env: Env): Step<LineState> {
  const made = drawn(s, env, null);
  if (!made) return stay(START);
  return { state: START, change: { do: "put", items: [made], label: `Draw ${made.name}` }, done: true };
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
      const now = set(s, press.spot);
      // A port to go into ends the line.
      return now.to && now.points.length > 1 ? finish(now, env) : stay({ ...now, dragging: true });
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
    if (press.is === "up") return stay({ ...s, dragging: false });
    if (press.is === "hover") return stay({ ...s, next: press.spot.at });
    if (press.is === "finish") return finish(s, env);
    if (press.is === "back") return stay({ ...s, points: s.points.slice(0, -1), bends: s.bends.slice(0, Math.max(0, s.points.length - 1)), to: null });
    if (press.is === "number") return stay({ ...s, [press.id]: press.value });
    return stay(s);
  },
  sketch(s, env): Sketch {
    const last = s.points[s.points.length - 1] ?? null;
    if (!last) return { ...EMPTY, hint: "tool.line.hint" };
    const next = s.dragging ? null : nextPoint(s);
    const made = drawn(s, env, next && apart(next, last) > 0.5 ? next : null);
    const to = next ?? last;
    const base = s.points.length > 1 && !next ? s.points[s.points.length - 2]! : last;
    return {
      items: made ? [made] : [],
      strokes: [{ points: made ? along(made, made.body.path, 20) : [last, to], faint: true }],
      points: s.points,
      numbers: [
        { id: "length", words: "tool.length", kind: "length", value: s.length ?? apart(base, to), min: 1, max: FAR },
        { id: "angle", words: "tool.angle", kind: "degrees", value: s.angle ?? turn(direction(base, to)), min: -360, max: 360 },
      ],
      hint: "tool.line.next",
      from: last,
    };
  },
};
