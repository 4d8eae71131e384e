/** A dimension: two places and the distance between them, shown on the floor. */
import { apart, direction, round } from "../kernels/frames";
import { item, nameOf, type DraftOf } from "./drafts";
import { NO_SPAN, reachNumbers, spanEnd, spanOn, type Span } from "./reach";
import { EMPTY, type Env, type Sketch, type Tool } from "./tool";

export function dimensionOf(s: Span, env: Env): DraftOf<"dimension"> | null {
  const to = spanEnd(s);
  if (!s.from || !to) return null;
  const long = round(apart(s.from, to));
  return long > 0 ? item(nameOf("Dimension", env), { x: s.from[0], y: s.from[1], heading: direction(s.from, to) }, { is: "dimension", to: [long, 0] }, env) : null;
}

export const dimension: Tool<Span> = {
  id: "dimension",
  purpose: "marks",
  words: "tool.dimension",
  about: "tool.dimension.about",
  key: "M",
  icon: "M3 6V14M17 6V14M3 10H17M6 7 3 10 6 13M14 7 17 10 14 13",
  uses: [],
  start: () => NO_SPAN,
  busy: (s) => s.from !== null,
  on: (s, press, env) => spanOn(s, press, env, dimensionOf, { words: "trouble.nolength" }, "did.draw"),
  sketch(s, env): Sketch {
    const to = spanEnd(s);
    if (!s.from || !to) return { ...EMPTY, hint: "tool.dimension.hint" };
    const made = dimensionOf(s, env);
    return {
      ...EMPTY, hint: "tool.dimension.next", items: made ? [made] : [], strokes: [{ points: [s.from, to] }], points: [s.from, to], from: s.from, trouble: s.trouble,
      numbers: reachNumbers(s.from, to, {}, 0.01),
    };
  },
};
