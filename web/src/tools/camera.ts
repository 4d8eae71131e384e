/** A place for a camera, and what it looks at. */
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
const HIGH = 100_000;
/** Above this a camera hangs or stands on a tower rather than on a tripod, mm; common practice, no source. */
const TALL = 2500;

function end(s: State): Pair | null {
  if (!s.from || !s.to) return null;
  if (s.typed.length === undefined && s.typed.angle === undefined) return s.to;
  const long = s.typed.length ?? Math.max(1, apart(s.from, s.to));
  const a = ((s.typed.angle ?? direction(s.from, s.to)) * Math.PI) / 180;
  return [s.from[0] + long * Math.cos(a), s.from[1] + long * Math.sin(a)];
}

export function cameraOf(s: State, env: Env): DraftOf<"camera"> | null {
  const to = end(s);
  if (!s.from || !to) return null;
  const long = round(apart(s.from, to));
  if (!(long > 0)) return null;
  return item(nameOf("Camera", env), { x: s.from[0], y: s.from[1], heading: direction(s.from, to) }, {
    is: "camera", height: env.uses.lens, look: [long, 0], look_height: 0, field_of_view: env.uses.sees,
  }, env);
}

/** What a camera sees, as a triangle from the lens to as far as it looks. */
export function fan(at: Pair, look: Pair, seen: number): Pair[] {
  const [long, to] = [apart(at, look), direction(at, look)];
  // The edges end where the middle does, so that wide views stay within bounds.
  const edge = (by: number): Pair => {
    const a = ((to + by) * Math.PI) / 180;
    return [at[0] + long * Math.cos(a), at[1] + long * Math.sin(a)];
  };
  return [at, edge(-seen / 2), edge(seen / 2)];
}

export const camera: Tool<State> = {
  id: "camera",
  purpose: "marks",
  words: "tool.camera",
  about: "tool.camera.about",
  key: "C",
  icon: "M2 7H12V15H2ZM12 10 18 6V16L12 12M4 4H8V7",
  uses: [],
  start: () => START,
  busy: (s) => s.from !== null,
  on(s, press, env) {
    const finish = (state: State) => {
      const made = cameraOf(state, env);
      if (!made) return stay({ ...state, trouble: { words: "trouble.nolook" } as const });
      return { state: START, change: { do: "put" as const, items: [made], label: `Set ${made.name}` }, done: true };
    };
    if (press.is === "down") return s.from ? finish({ ...s, to: press.spot.at }) : stay({ ...START, from: press.spot.at, to: press.spot.at });
    if (press.is === "hover" || press.is === "drag") return stay(s.from ? { ...s, to: press.spot.at } : s);
    if (press.is === "up") return s.from && apart(s.from, press.spot.at) * env.scale > STILL ? finish({ ...s, to: press.spot.at }) : stay(s);
    if (press.is === "finish") return finish(s);
    if (press.is === "back") return stay(START);
    if (press.is === "number" && press.id === "lens") return { state: s, uses: { lens: press.value } };
    if (press.is === "number" && press.id === "sees") return { state: s, uses: { sees: press.value } };
    if (press.is === "number" && s.from) return stay({ ...s, typed: { ...s.typed, [press.id]: press.value }, trouble: null });
    return stay(s);
  },
  sketch(s, env): Sketch {
    const caution = env.uses.lens > TALL ? "caution.overhead" : "caution.camera";
    const own: Sketch["numbers"] = [
      { id: "lens", words: "tool.lens", kind: "length", value: env.uses.lens, min: 0, max: HIGH },
      { id: "sees", words: "tool.sees", kind: "degrees", value: env.uses.sees, min: 1, max: 170 },
    ];
    const to = end(s);
    if (!s.from || !to) return { ...EMPTY, hint: "tool.camera.hint", numbers: own, caution };
    const made = cameraOf(s, env);
    return {
      ...EMPTY, hint: "tool.camera.next", items: made ? [made] : [], points: [s.from], from: s.from, trouble: s.trouble, caution,
      strokes: [{ points: fan(s.from, to, env.uses.sees), closed: true }, { points: [s.from, to], faint: true }],
      numbers: [
        { id: "length", words: "tool.length", kind: "length", value: apart(s.from, to), min: 0.01, max: FAR },
        { id: "angle", words: "tool.angle", kind: "degrees", value: turn(direction(s.from, to)), min: -360, max: 360 },
        ...own,
      ],
    };
  },
};
