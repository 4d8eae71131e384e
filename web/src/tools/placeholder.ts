/** A placeholder: room for something that is built by other means, with a way in and a way out at its short sides. */
import type { PortDraft } from "../api/generated/PortDraft";
import type { Pair } from "../kernels/floor";
import { round } from "../kernels/frames";
import { item, kindOf, nameOf, type DraftOf } from "./drafts";
import { BOX, outline, outlineSketch, outlined, still, troubleOf, type Outlining } from "./shapes";
import { EMPTY, stay, type Env, type Sketch, type Tool, type Trouble } from "./tool";

interface State {
  draw: Outlining;
  trouble: Trouble;
}
const START: State = { draw: BOX, trouble: null };
const HIGH = 100_000;
/** Width of its ports to begin with: one usual piece, mm. */
const PORT = 24;
/** Thickness of a usual piece, mm. */
const USUAL = 7.5;

const port = (name: string, flow: PortDraft["flow"], x: number, y: number): PortDraft => ({ name, flow, x: round(x), y: round(y), direction: 0, height: 0, width: PORT });

/** The box around an outline, with its length along the longer side. */
export function placeholderOf(shape: readonly Pair[], env: Env): DraftOf<"placeholder"> {
  const [xs, ys] = [shape.map((p) => p[0]), shape.map((p) => p[1])];
  const [x0, x1, y0, y1] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const upright = y1 - y0 > x1 - x0;
  const [length, width] = upright ? [y1 - y0, x1 - x0] : [x1 - x0, y1 - y0];
  // Its place is its corner behind and at the right, seen along its heading.
  const frame = { x: upright ? x1 : x0, y: y0, heading: upright ? 90 : 0 };
  // The way out lies where the next piece would stand: half a piece beyond.
  const half = (env.plan.kinds.find((k) => k.id === kindOf(env))?.thickness ?? USUAL) / 2;
  return item(nameOf("Placeholder", env), frame, {
    is: "placeholder", length, width, height: env.uses.boxHeight, needs: [], hours: 0, who: "", delay: null,
    ports: [port("in", "in", 0, width / 2), port("out", "out", length + half, width / 2)],
  }, env);
}

export const placeholder: Tool<State> = {
  id: "placeholder",
  purpose: "fields",
  words: "tool.placeholder",
  about: "tool.placeholder.about",
  key: "B",
  icon: "M3 5H17V15H3ZM3 5 17 15M3 15 17 5",
  uses: [],
  start: () => START,
  busy: (s) => s.draw.points.length > 0,
  on(s, press, env) {
    if (press.is === "number" && press.id === "height") return { state: s, uses: { boxHeight: press.value } };
    const { state, made } = outline(s.draw, press, env);
    if (made === undefined) return stay({ draw: state, trouble: still(press) ? s.trouble : null });
    const trouble = troubleOf(made);
    if (trouble) return stay({ draw: s.draw.points.length ? { ...s.draw, down: null } : BOX, trouble });
    const draft = placeholderOf(made!, env);
    return { state: START, change: { do: "put", items: [draft], label: env.say("did.draw", { name: draft.name }) } };
  },
  sketch(s, env): Sketch {
    const height = { id: "height", words: "tool.height", kind: "length", value: env.uses.boxHeight, min: 0, max: HIGH } as const;
    if (s.draw.points.length === 0) return { ...EMPTY, hint: "tool.placeholder.hint", numbers: [height], trouble: s.trouble };
    const shape = outlined(s.draw, env);
    const { numbers, ...rest } = outlineSketch(s.draw, env);
    return {
      ...EMPTY, ...rest, hint: "tool.placeholder.next", trouble: s.trouble, numbers: [...numbers, height],
      items: shape && !troubleOf(shape) ? [placeholderOf(shape, env)] : [],
    };
  },
};
