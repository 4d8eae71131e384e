/** The hall: its walls, and pillars, doors, exits, aisles, tables and overhead points in it. */
import type { Change } from "../api/generated/Change";
import type { PartDraft } from "../api/generated/PartDraft";
import type { PartIs } from "../api/generated/PartIs";
import type { Pair } from "../kernels/floor";
import { apart } from "../kernels/frames";
import { area, inside } from "../kernels/pick";
import { foot } from "../kernels/snap";
import { shaped, type Id } from "./shaped";
import type { Env, Spot } from "./tool";

export const PARTS = ["pillar", "door", "exit", "aisle", "table", "overhead"] as const satisfies readonly PartIs[];
/** Names of new parts, as the names of new items: they are of the plan, not of the page. */
const NAMES: Record<PartIs, string> = { pillar: "Pillar", door: "Door", exit: "Exit", aisle: "Aisle", table: "Table", overhead: "Overhead point" };
const WALLS = "walls";
/** Pixels within which a press meets the walls. */
const NEAR = 10;
/** The highest that a part may be, mm. */
const HIGH = 1e6;

/** Parts of the hall; planks and tables to stand on are told among them and are none. */
export const partsOf = (env: Env): PartDraft[] =>
  env.plan.floor_plan.parts.flatMap((p) => ((PARTS as readonly string[]).includes(p.is) ? [{ name: p.name, is: p.is as PartIs, outline: p.outline, height: p.height }] : []));

function hall(env: Env, change: { outline?: readonly Pair[]; parts?: PartDraft[]; name?: string }): Change {
  const { floor_plan: now, hall: name, floor } = env.plan;
  return {
    do: "hall", name: change.name ?? name, floor, outline: pairs(change.outline ?? now.outline), parts: change.parts ?? partsOf(env), grip: now.grip,
  };
}
const pairs = (o: readonly Pair[]): [number, number][] => o.map((p) => [p[0], p[1]]);

/** The kind and the next number that no part has. */
export function partName(is: PartIs, env: Env): string {
  const taken = new Set(partsOf(env).map((p) => p.name));
  for (let n = 1; ; n++) if (!taken.has(`${NAMES[is]} ${n}`)) return `${NAMES[is]} ${n}`;
}

function at(spot: Spot, env: Env): Id | null {
  const { part } = env.uses;
  let [best, least] = [null as number | null, Infinity];
  partsOf(env).forEach((p, i) => {
    // What is walked through or hangs above has room for others; only its own kind is chosen by a press inside it.
    const room = (p.is === "aisle" || p.is === "overhead") && part !== p.is;
    if (!room && inside(spot.raw, p.outline) && area(p.outline) < least) [best, least] = [i, area(p.outline)];
  });
  if (best !== null) return best;
  // Doors and exits begin at the walls.
  if (part === "door" || part === "exit") return null;
  const walls = env.plan.floor_plan.outline;
  const near = walls.some((a, i) => apart(foot(spot.raw, [a, walls[(i + 1) % walls.length]!]), spot.raw) * env.scale < (spot.touch ? 2 : 1) * NEAR);
  return walls.length > 2 && near ? WALLS : null;
}

const others = (env: Env, id: Id, change: Partial<PartDraft> | null): PartDraft[] =>
  partsOf(env).flatMap((p, i) => (i !== id ? [p] : change === null ? [] : [{ ...p, ...change }]));

export const hallTool = shaped(
  {
    id: "hall", purpose: "hall", words: "tool.hall", about: "tool.hall.about", key: "H",
    icon: "M3 3H17V17H12M8 17H3ZM9 8H11V10H9Z", uses: ["part"],
  },
  { hint: "tool.hall.hint", next: "tool.outline.next", chosen: "tool.hall.chosen" },
  {
    outline: (env, id) => (id === WALLS ? (env.plan.floor_plan.outline.length > 2 ? env.plan.floor_plan.outline : null) : (partsOf(env)[id as number]?.outline ?? null)),
    at,
    make(env, outline) {
      const { part, partHeight } = env.uses;
      if (part === "outline") return { change: hall(env, { outline }), id: WALLS };
      const parts = partsOf(env);
      return { change: hall(env, { parts: [...parts, { name: partName(part, env), is: part, outline: pairs(outline), height: partHeight }] }), id: parts.length };
    },
    reshape: (env, id, outline) => (id === WALLS ? hall(env, { outline }) : hall(env, { parts: others(env, id, { outline: pairs(outline) }) })),
    numbers: (env, id) => (id === WALLS ? [] : [{ id: "height", words: "tool.height", kind: "length", value: partsOf(env)[id as number]!.height, min: 0, max: HIGH }]),
    asks(env, id) {
      if (id === WALLS) return [{ is: "text", id: "name", words: "tool.name", value: env.plan.hall, most: 200 }];
      const part = partsOf(env)[id as number]!;
      return [
        { is: "text", id: "name", words: "tool.name", value: part.name, most: 200 },
        { is: "choice", id: "is", words: "use.part", value: part.is, choices: PARTS.map((value) => ({ value, words: `part.${value}` })) },
      ];
    },
    set(env, id, what, value) {
      if (id === WALLS) return what === "name" && value !== "" ? hall(env, { name: String(value) }) : null;
      if (what === "height") return hall(env, { parts: others(env, id, { height: Number(value) }) });
      if (what === "name") return hall(env, { parts: others(env, id, { name: String(value) }) });
      return what === "is" ? hall(env, { parts: others(env, id, { is: value as PartIs }) }) : null;
    },
    take: (env, id) => (id === WALLS ? hall(env, { outline: [] }) : hall(env, { parts: others(env, id, null) })),
    next: (env) => (env.uses.part === "outline" ? [] : [{ id: "height", words: "tool.height", kind: "length", value: env.uses.partHeight, min: 0, max: HIGH }]),
    uses: (what, value) => (what === "height" ? { partHeight: value } : null),
    caution(env, id) {
      const is = id === null ? env.uses.part : id === WALLS ? "outline" : partsOf(env)[id as number]!.is;
      return is === "overhead" ? "caution.overhead" : is === "exit" || is === "door" || is === "aisle" ? "caution.exits" : null;
    },
  },
);
