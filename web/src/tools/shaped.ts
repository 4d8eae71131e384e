/** A tool for shapes that are no items: draws outlines, chooses what is there, moves, resizes, renames, removes it. */
import type { Change } from "../api/generated/Change";
import type { Key } from "../i18n";
import type { Pair } from "../kernels/floor";
import { apart, rounded } from "../kernels/frames";
import { BLANK, cornerAt, gripped, outline, outlineSketch, reshaped, shapeNumbers, still, troubleOf, type Grip, type Outlining } from "./shapes";
import { EMPTY, stay, type Ask, type Env, type Press, type Sketch, type Spot, type Step, type Tool, type Trouble, type Typed } from "./tool";
import type { Uses } from "./uses";

/** The shapes that a tool draws: by a number, or by a name while nobody knows the number. */
export type Id = number | string;
export interface Shapes {
  outline: (env: Env, id: Id) => readonly Pair[] | null;
  /** The number of one that is known by its name so far. */
  known?: (env: Env, id: Id) => Id | null;
  /** What a press there chooses; null where it begins a new one. */
  at: (spot: Spot, env: Env) => Id | null;
  make: (env: Env, outline: Pair[]) => { change: Change; id: Id };
  reshape: (env: Env, id: Id, outline: Pair[]) => Change;
  /** Figures besides the size, and what is asked in words. */
  numbers: (env: Env, id: Id) => Typed[];
  asks: (env: Env, id: Id) => Ask[];
  set: (env: Env, id: Id, what: string, value: string | number) => Change | null;
  take: (env: Env, id: Id) => Change;
  /** Figures for the next one. */
  next: (env: Env) => Typed[];
  uses: (what: string, value: number) => Partial<Uses> | null;
  caution: (env: Env, id: Id | null) => Key | null;
}

export interface ShapedState {
  id: Id | null;
  grip: (Grip & { moved: boolean }) | null;
  draw: Outlining;
  /** It was to be closed and could not be. */
  trouble: Trouble;
}
const START: ShapedState = { id: null, grip: null, draw: BLANK, trouble: null };
/** Pixels that a press on a shape may wander and still only chooses it. */
const STILL = 4;

type Look = Pick<Tool, "id" | "purpose" | "words" | "about" | "key" | "icon" | "uses">;

export function shaped(look: Look, hints: { hint: Key; next: Key; chosen: Key }, of: Shapes): Tool<ShapedState> {
  const chosen = (s: ShapedState, env: Env) => (s.id === null ? null : of.outline(env, s.id));
  const held = (s: ShapedState, o: readonly Pair[]) => (s.grip?.moved ? gripped(o, s.grip).map(rounded) : o);

  function drawn(s: ShapedState, press: Press, env: Env): Step<ShapedState> {
    const { state: draw, made } = outline(s.draw, press, env);
    if (made === undefined) return stay({ ...START, draw, trouble: still(press) ? s.trouble : null });
    const trouble = troubleOf(made);
    if (trouble) return stay({ ...START, draw: s.draw.points.length ? { ...draw, down: null } : BLANK, trouble });
    const { change, id } = of.make(env, made!);
    return { state: { ...START, id }, change };
  }

  return {
    ...look,
    whole: true,
    start: () => START,
    busy: (s) => s.id !== null || s.draw.points.length > 0,
    takes: (s, env) => chosen(s, env) !== null,
    on(before, press, env) {
      const s = before.id === null ? before : { ...before, id: of.known?.(env, before.id) ?? before.id };
      const now = chosen(s, env);
      if (s.draw.points.length > 0) return drawn(s, press, env);
      if (press.is === "down") {
        const { spot } = press;
        const corner = now ? cornerAt(now, spot, env) : null;
        if (now && corner !== null) return stay({ ...s, trouble: null, grip: { corner, from: now[corner]!, to: now[corner]!, moved: false } });
        const id = of.at(spot, env);
        if (id !== null) return stay({ ...START, id, grip: { corner: null, from: spot.raw, to: spot.raw, moved: false } });
        return stay({ ...START, draw: outline(BLANK, press, env).state });
      }
      if (press.is === "drag" && s.grip) {
        const { at, raw } = press.spot;
        const moved = s.grip.moved || apart(s.grip.from, raw) * env.scale > STILL;
        return stay({ ...s, grip: { ...s.grip, moved, to: s.grip.corner === null ? raw : at } });
      }
      if (press.is === "up" && s.grip && now) {
        const next = { ...s, grip: null, trouble: null };
        if (!s.grip.moved) return stay(next);
        const to = held(s, now).map(rounded);
        const trouble = troubleOf(to);
        return trouble ? stay({ ...next, trouble }) : { state: next, change: of.reshape(env, s.id!, to) };
      }
      if (press.is === "finish" || press.is === "back") return stay(START);
      if (!now || s.id === null) {
        const uses = press.is === "number" ? of.uses(press.id, press.value) : null;
        return uses ? { state: s, uses } : stay(s);
      }
      if (press.is === "take") return { state: START, change: of.take(env, s.id) };
      if (press.is === "number") {
        const to = reshaped(now, press.id, press.value);
        const trouble = to && troubleOf(to);
        if (trouble) return stay({ ...s, trouble });
        const change = to ? of.reshape(env, s.id, to) : of.set(env, s.id, press.id, press.value);
        return change ? { state: { ...s, trouble: null }, change } : stay(s);
      }
      if (press.is === "answer") {
        const change = of.set(env, s.id, press.id, press.value);
        return change ? { state: s, change } : stay(s);
      }
      return stay(s);
    },
    // A shape that is only chosen is no step: the plan's last one may be its own.
    undo: (s, env) => (s.draw.points.length > 0 ? { ...s, draw: outline(s.draw, { is: "back" }, env).state, trouble: null } : s.grip?.moved ? { ...s, grip: null } : null),
    sketch(s, env): Sketch {
      const { trouble } = s;
      if (s.draw.points.length > 0) return { ...EMPTY, ...outlineSketch(s.draw, env), hint: hints.next, keys: "tool.outline.keys", trouble, caution: of.caution(env, null) };
      const now = chosen(s, env);
      if (!now || s.id === null) return { ...EMPTY, hint: hints.hint, numbers: of.next(env), trouble, caution: of.caution(env, null) };
      const shape = held(s, now);
      return {
        ...EMPTY, hint: hints.chosen, trouble, strokes: [{ points: shape, closed: true }], points: shape,
        numbers: [...shapeNumbers(shape), ...of.numbers(env, s.id)], asks: of.asks(env, s.id), caution: of.caution(env, s.id),
      };
    },
  };
}
