/** A field: one corner, the opposite one; a picture is dropped on it then. */
import type { Pair } from "../kernels/floor";
import { apart, round } from "../kernels/frames";
import { boxOf, corners } from "../kernels/pick";
import { MOST_CELLS, fieldBody, fieldLabel, isSize, item, nameOf, sized, sizeNumbers, type DraftOf, type Size } from "./drafts";
import { EMPTY, stay, type Env, type Sketch, type Tool } from "./tool";

interface FieldState {
  first: Pair | null;
  next: Pair | null;
  /** Typed: metres of the frame, or lanes and ranks. */
  typed: Size;
}
const START: FieldState = { first: null, next: null, typed: {} };

function frame(s: FieldState, env: Env) {
  const [a, b] = [s.first!, s.next ?? s.first!];
  const { fieldAlong, fieldAcross } = env.uses;
  const count = (typed: number | undefined, long: number | undefined, drawn: number, pitch: number) =>
    typed ?? Math.min(MOST_CELLS, Math.max(1, Math.round((long ?? Math.abs(drawn)) / pitch)));
  const ranks = count(s.typed.ranks, s.typed.width, b[0] - a[0], fieldAlong);
  const lanes = count(s.typed.lanes, s.typed.depth, b[1] - a[1], fieldAcross);
  const [wide, deep] = [ranks * fieldAlong, lanes * fieldAcross];
  // It grows from the first corner to where the pointer is, by whole ranks and lanes.
  const corner: Pair = [b[0] < a[0] ? a[0] - wide : a[0], b[1] < a[1] ? a[1] - deep : a[1]];
  return { ranks, lanes, wide, deep, corner };
}

export function fieldOf(s: FieldState, env: Env): DraftOf<"field"> | null {
  if (!s.first) return null;
  const { ranks, lanes, corner } = frame(s, env);
  const { fieldAlong, fieldAcross } = env.uses;
  // Its place is that of the first piece of the lane on the right hand; half a pitch inside its frame.
  return item(nameOf("Field", env), { x: round(corner[0] + fieldAlong / 2), y: round(corner[1] + fieldAcross / 2), heading: 0 }, fieldBody(lanes, ranks, env), env);
}

export const field: Tool<FieldState> = {
  id: "field",
  purpose: "fields",
  words: "tool.field",
  about: "tool.field.about",
  key: "F",
  icon: "M3 4H17V16H3ZM3 8H17M3 12H17M8 4V16M13 4V16",
  uses: ["kind", "fieldAlong", "fieldAcross"],
  start: () => START,
  busy: (s) => s.first !== null,
  on(s, press, env) {
    const end = (state: FieldState) => {
      const made = fieldOf(state, env);
      return made ? { state: START, change: { do: "put" as const, items: [made], label: env.say("did.draw", { name: made.name }) } } : stay(START);
    };
    if (press.is === "down") return s.first ? end({ ...s, next: press.spot.at }) : stay({ ...s, first: press.spot.at, next: press.spot.at });
    if (press.is === "drag" || press.is === "hover") return stay(s.first ? { ...s, next: press.spot.at } : s);
    // A click sets one corner; a drag sets both.
    if (press.is === "up") return s.first && apart(s.first, press.spot.at) * env.scale > 12 ? end({ ...s, next: press.spot.at }) : stay(s);
    if (press.is === "finish") return end(s);
    if (press.is === "back") return stay(START);
    if (press.is === "number" && isSize(press.id)) return stay({ ...s, typed: sized(s.typed, press.id, press.value) });
    return stay(s);
  },
  sketch(s, env): Sketch {
    if (!s.first) return { ...EMPTY, hint: "tool.field.hint" };
    const { wide, deep, corner } = frame(s, env);
    const made = fieldOf(s, env);
    return {
      items: made ? [made] : [],
      strokes: [{ points: corners(boxOf(corner, [corner[0] + wide, corner[1] + deep])), closed: true }],
      points: [s.first],
      numbers: made ? Object.values(sizeNumbers(made.body, s.typed)) : [],
      hint: "tool.field.next",
      label: made && fieldLabel(made.body),
      from: null,
    };
  },
};
