/** From one place to the next, with a length and a direction that can be typed in place of the pointer's. Shared by tools. */
import type { Pair } from "../kernels/floor";
import { apart, direction, off, turn } from "../kernels/frames";
import { FAR, type DraftOf } from "./drafts";
import { stay, type Env, type Press, type Step, type Trouble, type Typed } from "./tool";

/** What was typed of a reach. */
export interface Typing {
  length?: number | null | undefined;
  angle?: number | null | undefined;
}

/** Where a reach ends: at the pointer, or where the typed figures put it; `least` mm away when only a direction was typed. */
export function reached(from: Pair, to: Pair, typed: Typing, least = 0): Pair {
  if (typed.length == null && typed.angle == null) return to;
  return off(from, typed.angle ?? direction(from, to), typed.length ?? Math.max(least, apart(from, to)));
}

/** Its figures, to be typed; the length is `least` mm or more. */
export const reachNumbers = (from: Pair, to: Pair, typed: Typing, least: number): Typed[] => [
  { id: "length", words: "tool.length", kind: "length", value: typed.length ?? apart(from, to), min: least, max: FAR },
  { id: "angle", words: "tool.angle", kind: "degrees", value: typed.angle ?? turn(direction(from, to)), min: -360, max: 360 },
];

/** An item that two places say all of. */
export interface Span {
  from: Pair | null;
  to: Pair | null;
  typed: Partial<Record<"length" | "angle", number>>;
  trouble: Trouble;
}
export const NO_SPAN: Span = { from: null, to: null, typed: {}, trouble: null };
/** Pixels that a press may wander and still is a click. */
const STILL = 12;

/** The second place of a span; null until both are there. */
export const spanEnd = (s: Span, least = 0): Pair | null => (s.from && s.to ? reached(s.from, s.to, s.typed, least) : null);

/** What presses do with a span: two clicks or one drag set it, Enter too. `made` gives what comes of it, or null; `none` says why, and `did` what was done. */
export function spanOn(s: Span, press: Press, env: Env, made: (s: Span, env: Env) => DraftOf<"dimension" | "camera"> | null, none: NonNullable<Trouble>, did: "did.draw" | "did.set"): Step<Span> {
  const finish = (state: Span): Step<Span> => {
    const item = made(state, env);
    if (!item) return stay({ ...state, trouble: none });
    return { state: NO_SPAN, change: { do: "put", items: [item], label: env.say(did, { name: item.name }) } };
  };
  if (press.is === "down") return s.from ? finish({ ...s, to: press.spot.at }) : stay({ ...NO_SPAN, from: press.spot.at, to: press.spot.at });
  if (press.is === "hover" || press.is === "drag") return stay(s.from ? { ...s, to: press.spot.at } : s);
  if (press.is === "up") return s.from && apart(s.from, press.spot.at) * env.scale > STILL ? finish({ ...s, to: press.spot.at }) : stay(s);
  if (press.is === "finish") return finish(s);
  if (press.is === "back") return stay(NO_SPAN);
  if (press.is === "number" && s.from) return stay({ ...s, typed: { ...s.typed, [press.id]: press.value }, trouble: null });
  return stay(s);
}
