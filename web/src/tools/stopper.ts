/** A stopper: a block that a fallen lane runs against. On a line it stands across it. */
import { toHall, turn } from "../kernels/frames";
import { item, nameOf, type DraftOf } from "./drafts";
import { EMPTY, stay, type Env, type Sketch, type Spot, type Tool, type Typed } from "./tool";
import type { Uses } from "./uses";

interface State {
  spot: Spot | null;
  held: boolean;
}
const START: State = { spot: null, held: false };
const MOST = 100_000;
const SIZES = ["stopperThickness", "stopperWidth", "stopperHeight"] as const satisfies readonly (keyof Uses)[];

export function stopperOf(spot: Spot, env: Env): DraftOf<"stopper"> {
  const { stopperThickness: thickness, stopperWidth: width, stopperHeight: height, stopperFixed: fixed, facing } = env.uses;
  const piece = spot.on?.piece != null ? env.piece?.(spot.on.item, spot.on.piece) : null;
  const port = spot.snap?.target?.kind === "port" ? spot.snap.target : null;
  const at = port?.at ?? piece?.at ?? spot.at;
  return item(nameOf("Stopper", env), { x: at[0], y: at[1], heading: turn(port?.heading ?? piece?.heading ?? facing) }, { is: "stopper", thickness, width, height, fixed }, env);
}

export const stopper: Tool<State> = {
  id: "stopper",
  purpose: "fall",
  words: "tool.stopper",
  about: "tool.stopper.about",
  key: "O",
  icon: "M3 4V16M7 4V16M12 2H16V18H12Z",
  uses: [],
  start: () => START,
  busy: (s) => s.held,
  on(s, press, env) {
    if (press.is === "down") return stay({ spot: press.spot, held: true });
    if (press.is === "hover" || press.is === "drag") return stay({ ...s, spot: press.spot });
    if ((press.is === "up" || press.is === "finish") && s.held && s.spot) {
      const made = stopperOf(s.spot, env);
      return { state: START, change: { do: "put", items: [made], label: env.say("did.set", { name: made.name }) } };
    }
    if (press.is === "back") return stay(START);
    if (press.is === "number") return { state: s, uses: press.id === "angle" ? { facing: turn(press.value) } : { [press.id]: press.value } };
    if (press.is === "answer" && press.id === "fixed") return { state: s, uses: { stopperFixed: press.value === "fixed" } };
    return stay(s);
  },
  sketch(s, env): Sketch {
    const made = s.spot ? stopperOf(s.spot, env) : null;
    const sizes = SIZES.map((id): Typed => ({ id, words: `tool.${id}`, kind: "length", value: env.uses[id], min: 0.1, max: MOST }));
    return {
      ...EMPTY, hint: "tool.stopper.hint", items: made ? [made] : [], strokes: made ? [{ points: block(made), closed: true }] : [],
      numbers: [...sizes, { id: "angle", words: "tool.angle", kind: "degrees", value: made?.heading ?? env.uses.facing, min: -360, max: 360 }],
      asks: [{ is: "choice", id: "fixed", words: "tool.stopper.fixed", value: env.uses.stopperFixed ? "fixed" : "loose", choices: [{ value: "loose", words: "stopper.loose" }, { value: "fixed", words: "stopper.fixed" }] }],
      caution: "caution.stopper",
    };
  },
};

function block({ x, y, heading, body }: DraftOf<"stopper">) {
  const at = (u: number, v: number) => toHall({ x, y, heading }, [u, v]);
  const [t, b] = [body.thickness / 2, body.width / 2];
  return [at(-t, -b), at(t, -b), at(t, b), at(-t, b)];
}
