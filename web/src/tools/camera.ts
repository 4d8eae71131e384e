/** A place for a camera, and what it looks at. */
import type { Pair } from "../kernels/floor";
import { apart, direction, off, round } from "../kernels/frames";
import { item, nameOf, type DraftOf } from "./drafts";
import { NO_SPAN, reachNumbers, spanEnd, spanOn, type Span } from "./reach";
import { EMPTY, type Env, type Sketch, type Tool } from "./tool";

const HIGH = 100_000;
/** How near it looks at the least when only a direction was typed, mm. */
const NEAREST = 1;
/** Above this a camera hangs or stands on a tower rather than on a tripod, mm; common practice, no source. */
const TALL = 2500;

export function cameraOf(s: Span, env: Env): DraftOf<"camera"> | null {
  const to = spanEnd(s, NEAREST);
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
  const edge = (by: number): Pair => off(at, to + by, long);
  return [at, edge(-seen / 2), edge(seen / 2)];
}

export const camera: Tool<Span> = {
  id: "camera",
  purpose: "marks",
  words: "tool.camera",
  about: "tool.camera.about",
  key: "C",
  icon: "M2 7H12V15H2ZM12 10 18 6V16L12 12M4 4H8V7",
  uses: [],
  start: () => NO_SPAN,
  busy: (s) => s.from !== null,
  on(s, press, env) {
    if (press.is === "number" && press.id === "lens") return { state: s, uses: { lens: press.value } };
    if (press.is === "number" && press.id === "sees") return { state: s, uses: { sees: press.value } };
    return spanOn(s, press, env, cameraOf, { words: "trouble.nolook" }, "did.set");
  },
  sketch(s, env): Sketch {
    const caution = env.uses.lens > TALL ? "caution.overhead" : "caution.camera";
    const own: Sketch["numbers"] = [
      { id: "lens", words: "tool.lens", kind: "length", value: env.uses.lens, min: 0, max: HIGH },
      { id: "sees", words: "tool.sees", kind: "degrees", value: env.uses.sees, min: 1, max: 170 },
    ];
    const to = spanEnd(s, NEAREST);
    if (!s.from || !to) return { ...EMPTY, hint: "tool.camera.hint", numbers: own, caution };
    const made = cameraOf(s, env);
    return {
      ...EMPTY, hint: "tool.camera.next", items: made ? [made] : [], points: [s.from], from: s.from, trouble: s.trouble, caution,
      strokes: [{ points: fan(s.from, to, env.uses.sees), closed: true }, { points: [s.from, to], faint: true }],
      numbers: [...reachNumbers(s.from, to, {}, 0.01), ...own],
    };
  },
};
