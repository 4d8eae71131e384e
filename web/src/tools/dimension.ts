/** A dimension: two places and the distance between them, shown on the floor. */
import type { Pair } from "../kernels/floor";
import { apart, direction, round, turn } from "../kernels/frames";
import { FAR, item, nameOf, type DraftOf } from "./drafts";
import { EMPTY, stay, type Env, type Sketch, type Tool, type Trouble } from "./tool";

interface State {
  from: Pair | null;
  to: Pair | null;
  typed: Partial<Record<"length" | "angle", number>>;
  trouble: Trouble;
}
const START: State = { from: null, to: null, typed: {}, trouble: null };
const STILL = 12;

function end(s: State): Pair | null {
  if (!s.from || !s.to) return null;
  if (s.typed.length === undefined && s.typed.angle === undefined) return s.to;
  const long = s.typed.length ?? apart(s.from, s.to);
  const a = ((s.typed.angle ?? direction(s.from, s.to)) * Math.PI) / 180;
  return [s.from[0] + long * Math.cos(a), s.from[1] + long * Math.sin(a)];
}

export function dimensionOf(s: State, env: Env): DraftOf<"dimension"> | null {
  const to = end(s);
  if (!s.from || !to) return null;
  const long = round(apart(s.from, to));
  return long > 0 ? item(nameOf("Dimension", env), { x: s.from[0], y: s.from[1], heading: direction(s.from, to) }, { is: "dimension", to: [long, 0] }, env) : null;
}

export const dimension: Tool<State> = {
  id: "dimension",
  purpose: "marks",
  words: "tool.dimension",
  about: "tool.dimension.about",
  key: "M",
  icon: "M3 6V14M17 6V14M3 10H17M6 7 3 10 6 13M14 7 17 10 14 13",
  uses: [],
  start: () => START,
  busy: (s) => s.from !== null,
  on(s, press, env) {
    const finish = (state: State) => {
      const made = dimensionOf(state, env);
      if (!made) return stay({ ...state, trouble: { words: "trouble.nolength" } as const });
      return { state: START, change: { do: "put" as const, items: [made], label: `Draw ${made.name}` }, done: true };
    };
    if (press.is === "down") return s.from ? finish({ ...s, to: press.spot.at }) : stay({ ...START, from: press.spot.at, to: press.spot.at });
    if (press.is === "hover" || press.is === "drag") return stay(s.from ? { ...s, to: press.spot.at } : s);
    if (press.is === "up") return s.from && apart(s.from, press.spot.at) * env.scale > STILL ? finish({ ...s, to: press.spot.at }) : stay(s);
    if (press.is === "finish") return finish(s);
    if (press.is === "back") return stay(START);
    if (press.is === "number" && s.from) return stay({ ...s, typed: { ...s.typed, [press.id]: press.value }, trouble: null });
    return stay(s);
  },
  sketch(s, env): Sketch {
    const to = end(s);
    if (!s.from || !to) return { ...EMPTY, hint: "tool.dimension.hint" };
    const made = dimensionOf(s, env);
    return {
      ...EMPTY, hint: "tool.dimension.next", items: made ? [made] : [], strokes: [{ points: [s.from, to] }], points: [s.from, to], from: s.from, trouble: s.trouble,
      numbers: [
        { id: "length", words: "tool.length", kind: "length", value: apart(s.from, to), min: 0.01, max: FAR },
        { id: "angle", words: "tool.angle", kind: "degrees", value: turn(direction(s.from, to)), min: -360, max: 360 },
      ],
    };
  },
};
