/** A taped distance: from one mark, corner or pillar to another, and what the tape says. */
import type { MarkRow } from "../api/generated/MarkRow";
import type { Pair } from "../kernels/floor";
import { apart } from "../kernels/frames";
import { markNear, nextMark } from "../kernels/taped";
import { EMPTY, stay, type Choice, type Env, type Sketch, type Spot, type Step, type Tool, type Trouble } from "./tool";

interface State {
  from: MarkRow | null;
  to: MarkRow | null;
  /** What the tape says, mm. */
  length: number | null;
  /** Where the pointer is. */
  over: Pair | null;
  trouble: Trouble;
}
const START: State = { from: null, to: null, length: null, over: null, trouble: null };
/** Pixels within which a press meets a mark, and a finger. */
const NEAR = 10;
const FINGER = 20;
/** Pixels that a press may wander and still is a click. */
const STILL = 12;
/** What a tape may say, mm. */
export const TAPED: readonly [number, number] = [0.1, 2e7];

const marksOf = (env: Env): readonly MarkRow[] => env.plan.floor_plan.marks;

/** The mark that is met there, or a new one under the next name. */
function end(spot: Spot, other: MarkRow | null, env: Env): MarkRow {
  const known = [...marksOf(env), ...(other ? [other] : [])];
  // What was met counts before the pointer: a corner may lie close to a mark.
  const met = markNear(known, spot.at, 0.5) ?? (spot.snap && spot.snap.kind !== "grid" ? null : markNear(known, spot.raw, (spot.touch ? FINGER : NEAR) / env.scale));
  return met ?? { name: nextMark(known.map((m) => m.name)), at: [spot.at[0], spot.at[1]] };
}

/** Sends it once both ends and the length are there. */
function ready(s: State, env: Env): Step<State> {
  if (!s.from || !s.to || s.length === null) return stay(s);
  const known = new Set(marksOf(env).map((m) => m.name));
  return {
    state: START,
    change: { do: "put-tape", was: null, tape: { from: s.from.name, to: s.to.name, length: s.length }, marks: [s.from, s.to].filter((m) => !known.has(m.name)) },
    // What is chosen stays, so that the next one can follow.
    choose: env.chosen,
  };
}

function set(s: State, which: "from" | "to", mark: MarkRow | null, env: Env): Step<State> {
  const other = which === "from" ? s.to : s.from;
  if (mark && other?.name === mark.name) return stay({ ...s, trouble: { words: "trouble.samemark", values: { mark: mark.name } } });
  return ready({ ...s, [which]: mark, trouble: null }, env);
}

export const tape: Tool<State> = {
  id: "tape",
  purpose: "hall",
  words: "tool.tape",
  about: "tool.tape.about",
  key: "",
  icon: "M3 6V14M17 6V14M3 10H17",
  uses: [],
  // A new mark has the next free name, so that the one before has to be in the plan.
  whole: true,
  start: () => START,
  busy: (s) => s.from !== null || s.to !== null || s.length !== null,
  on(s, press, env) {
    if (press.is === "down") {
      if (s.from && s.to) return set({ ...START, length: s.length }, "from", end(press.spot, null, env), env);
      return s.from ? set(s, "to", end(press.spot, s.from, env), env) : set(s, "from", end(press.spot, s.to, env), env);
    }
    if (press.is === "hover" || press.is === "drag") return stay({ ...s, over: press.spot.at });
    // One drag from end to end.
    if (press.is === "up") return s.from && !s.to && apart(s.from.at, press.spot.at) * env.scale > STILL ? set(s, "to", end(press.spot, s.from, env), env) : stay(s);
    if (press.is === "answer" && (press.id === "from" || press.id === "to")) return set(s, press.id, marksOf(env).find((m) => m.name === press.value) ?? null, env);
    if (press.is === "number" && press.id === "length") return ready({ ...s, length: press.value, trouble: null }, env);
    if (press.is === "finish") return stay({ ...s, trouble: { words: s.from && s.to ? "trouble.nottaped" : "trouble.noends" } });
    if (press.is === "back") return stay(s.to ? { ...s, to: null, trouble: null } : START);
    return stay(s);
  },
  sketch(s, env): Sketch {
    const to = s.to?.at ?? (s.from ? s.over : null);
    const one = (name: string): Choice => ({ value: name, words: "tape.end", values: { name } });
    const choices = (now: MarkRow | null): Choice[] => {
      const names = marksOf(env).map((m) => m.name);
      return [{ value: "", words: "tape.none" }, ...names.map(one), ...(now && !names.includes(now.name) ? [one(now.name)] : [])];
    };
    return {
      ...EMPTY,
      hint: !s.from ? "tool.tape.hint" : !s.to ? "tool.tape.next" : "tool.tape.length",
      strokes: s.from && to ? [{ points: [s.from.at, to], faint: s.to === null }] : [],
      points: [s.from, s.to].flatMap((m) => (m ? [m.at] : [])),
      from: s.to ? null : (s.from?.at ?? null),
      trouble: s.trouble,
      tells: s.from && s.to ? { words: "tape.drawn", lengths: { length: apart(s.from.at, s.to.at) } } : null,
      asks: [
        { is: "choice", id: "from", words: "tape.from", value: s.from?.name ?? "", choices: choices(s.from) },
        { is: "choice", id: "to", words: "tape.to", value: s.to?.name ?? "", choices: choices(s.to) },
      ],
      numbers: [{ id: "length", words: "tape.length", kind: "length", value: s.length ?? 0, min: TAPED[0], max: TAPED[1], open: s.length === null }],
    };
  },
};
