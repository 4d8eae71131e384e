/** Planks, tables and tops of walls: what items stand on above the floor. */
import type { Change } from "../api/generated/Change";
import type { SurfaceIs } from "../api/generated/SurfaceIs";
import type { SurfaceRow } from "../api/generated/SurfaceRow";
import { area, inside } from "../kernels/pick";
import { shaped, type Id } from "./shaped";
import type { Env } from "./tool";

const SURFACES = ["plank", "table", "wall-top"] as const satisfies readonly SurfaceIs[];
const NAMES: Record<SurfaceIs, string> = { plank: "Plank", table: "Table", "wall-top": "Wall top" };
const HIGH = 100_000;
const STEEP = 45;

const find = (env: Env, id: Id): SurfaceRow | null => env.plan.surfaces.find((s) => (typeof id === "number" ? s.id === id : s.name === id)) ?? null;
const put = (s: SurfaceRow, change: Partial<SurfaceRow>): Change => ({ do: "put-surface", ...s, ...change });

function nameFor(env: Env): string {
  const word = NAMES[env.uses.surface];
  for (let n = 1; ; n++) if (!find(env, `${word} ${n}`)) return `${word} ${n}`;
}

export const surface = shaped(
  {
    id: "surface", purpose: "hall", words: "tool.surface", about: "tool.surface.about", key: "U",
    icon: "M2 8H18V11H2ZM5 11V17M15 11V17", uses: ["surface"],
  },
  { hint: "tool.surface.hint", next: "tool.outline.next", chosen: "tool.surface.chosen" },
  {
    outline: (env, id) => find(env, id)?.outline ?? null,
    known: (env, id) => find(env, id)?.id ?? null,
    at(spot, env) {
      const hit = env.plan.surfaces.filter((s) => inside(spot.raw, s.outline)).sort((a, b) => area(a.outline) - area(b.outline))[0];
      return hit?.id ?? null;
    },
    make(env, outline) {
      const name = nameFor(env);
      const { surface: is, surfaceHeight: height } = env.uses;
      return { change: { do: "put-surface", id: null, name, is, height, slope: 0, uphill: 0, outline: outline.map((p): [number, number] => [p[0], p[1]]) }, id: name };
    },
    reshape: (env, id, outline) => put(find(env, id)!, { outline: outline.map((p) => [p[0], p[1]]) }),
    numbers(env, id) {
      const s = find(env, id)!;
      const uphill = { id: "uphill", words: "tool.uphill", kind: "degrees", value: s.uphill, min: -360, max: 360 } as const;
      return [
        { id: "height", words: "tool.height", kind: "length", value: s.height, min: 0, max: HIGH },
        { id: "slope", words: "tool.slope", kind: "degrees", value: s.slope, min: 0, max: STEEP },
        ...(s.slope > 0 ? [uphill] : []),
      ];
    },
    asks(env, id) {
      const s = find(env, id)!;
      return [
        { is: "text", id: "name", words: "tool.name", value: s.name, most: 200 },
        { is: "choice", id: "is", words: "use.surface", value: s.is, choices: SURFACES.map((value) => ({ value, words: `surface.${value}` })) },
      ];
    },
    set(env, id, what, value) {
      const s = find(env, id)!;
      if (what === "height" || what === "slope" || what === "uphill") return put(s, { [what]: Number(value) });
      if (what === "name") return value === "" ? null : put(s, { name: String(value) });
      return what === "is" ? put(s, { is: value as SurfaceIs }) : null;
    },
    take: (env, id) => ({ do: "remove-surface", id: find(env, id)!.id }),
    next: (env) => [{ id: "height", words: "tool.height", kind: "length", value: env.uses.surfaceHeight, min: 0, max: HIGH }],
    uses: (what, value) => (what === "height" ? { surfaceHeight: value } : null),
    caution: () => "caution.surface",
  },
);
