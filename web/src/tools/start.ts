/** A start: where somebody pushes the first piece. At a port it stands just before the first piece and pushes along. */
import type { Pair } from "../kernels/floor";
import { apart, direction, off, toHall, turn } from "../kernels/frames";
import { FAR, item, nameOf, type DraftOf } from "./drafts";
import { EMPTY, stay, type Env, type Sketch, type Spot, type Tool } from "./tool";

interface State {
  /** Where it was pressed; while nothing is pressed, where the pointer is. */
  spot: Spot | null;
  to: Pair | null;
  held: boolean;
}
const START: State = { spot: null, to: null, held: false };
/**
 * How far before the middle of the first piece a push begins, mm: well within the reach of a falling piece of 48 mm,
 * and far enough that a hand finds room. Common practice; no source.
 */
export const BEFORE = 20;
const STILL = 12;

/** The way in of what lies there: the port that was met, or the one of the item that was pressed near its port. */
function entry(spot: Spot, env: Env) {
  const t = spot.snap?.target;
  const met = t?.kind === "port" && t.enters ? t : null;
  const id = met?.item ?? spot.on?.item;
  const ports = env.plan.items.find((i) => i.id === id)?.ports.filter((p) => p.enters) ?? [];
  // Branches beside a line's start stand for the line itself.
  const main = ports.find((p) => p.name === met?.port?.replace(/ (left|right)$/, "")) ?? ports[0];
  if (!main) return null;
  return met || apart(main.at, spot.raw) * env.scale < 24 ? main : null;
}

export function startOf(s: State, env: Env): DraftOf<"start"> | null {
  if (!s.spot) return null;
  const port = entry(s.spot, env);
  const drawn = s.to && apart(s.spot.at, s.to) * env.scale > STILL ? direction(s.spot.at, s.to) : null;
  const heading = turn(port ? port.heading : (drawn ?? env.uses.facing));
  const at: Pair = port ? off(port.at, heading, -BEFORE) : s.spot.at;
  return item(nameOf("Start", env), { x: at[0], y: at[1], heading }, { is: "start", width: port && port.width > 0 ? port.width : env.uses.push, after: 0 }, env);
}

export const start: Tool<State> = {
  id: "start",
  purpose: "fall",
  words: "tool.start",
  about: "tool.start.about",
  key: "P",
  icon: "M2 10H10M7 7 10 10 7 13M13 4V16M17 4V16",
  uses: [],
  start: () => START,
  busy: (s) => s.held,
  on(s, press, env) {
    if (press.is === "down") return stay({ spot: press.spot, to: press.spot.raw, held: true });
    if (press.is === "hover") return stay(s.held ? s : { ...START, spot: press.spot });
    if (press.is === "drag") return stay({ ...s, to: press.spot.raw });
    if ((press.is === "up" || press.is === "finish") && s.held) {
      const made = startOf(s, env);
      return made ? { state: START, change: { do: "put", items: [made], label: env.say("did.set", { name: made.name }) } } : stay(START);
    }
    if (press.is === "back") return stay(START);
    if (press.is === "number" && press.id === "angle") return { state: s, uses: { facing: turn(press.value) } };
    if (press.is === "number" && press.id === "push") return { state: s, uses: { push: press.value } };
    return stay(s);
  },
  sketch(s, env): Sketch {
    const made = startOf(s, env);
    const arrow = (d: DraftOf<"start">): Sketch["strokes"] => {
      const [long, half] = [Math.max(BEFORE, 26 / env.scale), d.body.width / 2];
      return [{ points: [toHall(d, [-long, 0]), [d.x, d.y]] }, { points: [toHall(d, [0, half]), toHall(d, [0, -half])] }];
    };
    return {
      ...EMPTY, hint: "tool.start.hint", items: made ? [made] : [], strokes: made ? arrow(made) : [],
      numbers: [
        { id: "angle", words: "tool.angle", kind: "degrees", value: made?.heading ?? env.uses.facing, min: -360, max: 360 },
        { id: "push", words: "tool.push", kind: "length", value: made?.body.width ?? env.uses.push, min: 0.1, max: FAR },
      ],
    };
  },
};
