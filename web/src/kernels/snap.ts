/** What a place on the floor snaps to: ports, ends, corners, edges, lines of sight, angles, equal spacing, the grid. */
import type { Pair } from "./floor";
import { apart } from "./frames";

/** Kinds of what can be met, strongest first. */
export const SNAPS = ["port", "end", "corner", "middle", "edge", "line", "angle", "spacing", "grid"] as const;
export type SnapKind = (typeof SNAPS)[number];

/** A point that can be met. */
export interface Target {
  at: Pair;
  kind: "port" | "end" | "corner" | "middle";
  item?: number;
  port?: string;
  /** Whether the fall enters there; ports only. */
  enters?: boolean;
  /** Direction of the fall there, degrees; ports only. */
  heading?: number;
}
export interface Targets {
  points: readonly Target[];
  edges: readonly (readonly [Pair, Pair])[];
}
export interface Snap {
  /** Where the place counts, mm. */
  at: Pair;
  kind: SnapKind;
  /** The point that was met, for all kinds that meet one. */
  target: Target | null;
  /** Strokes that show why. */
  guides: readonly (readonly [Pair, Pair])[];
}
export interface Asked {
  /** How far a place may be moved, mm. */
  within: number;
  /** Width of the grid, mm; null without one. */
  grid: number | null;
  /** The point before: angles are counted from it. */
  from: Pair | null;
  /** Only directions of this many degrees from `from`; null for a soft snap to every 15. */
  only: number | null;
}

const SOFT_ANGLE = 15;
/** Lines of sight are looked for among so many points at the most, so that a crowded floor does not hold up the pointer. */
const SIGHTS = 4_000;

/** The foot of a place on a stroke. */
export function foot(p: Pair, [a, b]: readonly [Pair, Pair]): Pair {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const long = dx * dx + dy * dy;
  const t = long === 0 ? 0 : Math.min(1, Math.max(0, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / long));
  return [a[0] + t * dx, a[1] + t * dy];
}

/** A direction from a point, at steps of so many degrees: the foot of the place on the nearest ray. */
export function atAngle(p: Pair, from: Pair, step: number): Pair {
  const [dx, dy] = [p[0] - from[0], p[1] - from[1]];
  const angle = (Math.round((Math.atan2(dy, dx) * 180) / Math.PI / step) * step * Math.PI) / 180;
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  const along = dx * c + dy * s;
  return [from[0] + along * c, from[1] + along * s];
}

/** The strongest thing that lies near a place; null when nothing does. */
export function snap(p: Pair, targets: Targets, asked: Asked): Snap | null {
  const { within, from } = asked;
  if (asked.only !== null && from) {
    const at = atAngle(p, from, asked.only);
    return { at, kind: "angle", target: null, guides: [[from, at]] };
  }
  const met = nearest(p, targets.points, within);
  if (met) return { at: met.at, kind: met.kind, target: met, guides: [] };
  const edge = nearestEdge(p, targets.edges, within * 0.8);
  const sight = sights(p, targets.points, within * 0.6);
  if (edge) {
    // Where a line of sight crosses the edge, both are met.
    const crossing = sight && crossings(edge.of, sight).find((c) => apart(c, p) <= within);
    if (crossing) return { at: crossing, kind: "edge", target: null, guides: [edge.of, ...lines(crossing, sight)] };
    return { at: edge.at, kind: "edge", target: null, guides: [edge.of] };
  }
  if (from) {
    const at = atAngle(p, from, SOFT_ANGLE);
    if (apart(at, p) <= within * 0.6 && apart(at, from) > within) {
      const rounded = asked.grid ? onRay(at, from, asked.grid) : at;
      return { at: rounded, kind: "angle", target: null, guides: [[from, rounded]] };
    }
  }
  if (sight) {
    const at: Pair = [sight.x?.at[0] ?? onGrid(p[0], asked.grid), sight.y?.at[1] ?? onGrid(p[1], asked.grid)];
    return { at, kind: sight.spaced ? "spacing" : "line", target: null, guides: lines(at, sight) };
  }
  if (asked.grid) return { at: [onGrid(p[0], asked.grid), onGrid(p[1], asked.grid)], kind: "grid", target: null, guides: [] };
  return null;
}

const onGrid = (v: number, grid: number | null): number => (grid ? Math.round(v / grid) * grid : v);

/** On the ray at a round length. */
function onRay(at: Pair, from: Pair, grid: number): Pair {
  const long = apart(at, from);
  const round = Math.max(grid, Math.round(long / grid) * grid);
  return [from[0] + ((at[0] - from[0]) * round) / long, from[1] + ((at[1] - from[1]) * round) / long];
}

function nearest(p: Pair, points: readonly Target[], within: number): Target | null {
  let [best, least] = [null as Target | null, Infinity];
  for (const target of points) {
    const d = apart(p, target.at);
    if (d > within) continue;
    // A port a little farther away is meant rather than a corner beside it.
    const weight = d + SNAPS.indexOf(target.kind) * within * 0.2;
    if (weight < least) [best, least] = [target, weight];
  }
  return best;
}

function nearestEdge(p: Pair, edges: Targets["edges"], within: number): { at: Pair; of: readonly [Pair, Pair] } | null {
  let best: { at: Pair; of: readonly [Pair, Pair] } | null = null;
  let least = within;
  for (const of of edges) {
    const at = foot(p, of);
    const d = apart(at, p);
    if (d <= least) [best, least] = [{ at, of }, d];
  }
  return best;
}

interface Sight {
  /** A point of the same east; and of the same north. */
  x: Target | null;
  y: Target | null;
  spaced: readonly Pair[] | null;
}

/** Points that a place is straight north, south, east or west of; or as far from one as that is from the next. */
function sights(p: Pair, points: readonly Target[], within: number): Sight | null {
  let [x, y] = [null as Target | null, null as Target | null];
  let [dx, dy] = [within, within];
  for (const target of points.length > SIGHTS ? points.slice(0, SIGHTS) : points) {
    const [ex, ey] = [Math.abs(target.at[0] - p[0]), Math.abs(target.at[1] - p[1])];
    if (ex < dx || (ex === dx && x && ey < Math.abs(x.at[1] - p[1]))) [x, dx] = [target, ex];
    if (ey < dy || (ey === dy && y && ex < Math.abs(y.at[0] - p[0]))) [y, dy] = [target, ey];
  }
  const spaced = y && !x ? equal(p, points, 0, y.at[1], within) : x && !y ? equal(p, points, 1, x.at[0], within) : null;
  if (spaced) {
    const met: Target = { at: spaced[0]!, kind: "middle" };
    return y ? { x: met, y, spaced } : { x, y: met, spaced };
  }
  return x || y ? { x, y, spaced: null } : null;
}

/** A place on a row of points, as far from the last one as that is from the one before. */
function equal(p: Pair, points: readonly Target[], axis: 0 | 1, level: number, within: number): readonly Pair[] | null {
  const other = axis === 0 ? 1 : 0;
  const row = [...new Set(points.filter((t) => t.kind !== "port" && Math.abs(t.at[other] - level) < 0.5).map((t) => t.at[axis]))].sort((a, b) => a - b);
  for (let i = 0; i + 1 < row.length; i++) {
    const step = row[i + 1]! - row[i]!;
    if (step < 4 * within) continue;
    for (const v of [row[i + 1]! + step, row[i]! - step])
      if (Math.abs(p[axis] - v) <= within) {
        const at = (w: number): Pair => (axis === 0 ? [w, level] : [level, w]);
        return v > row[i]! ? [at(v), at(row[i + 1]!), at(row[i]!)] : [at(v), at(row[i]!), at(row[i + 1]!)];
      }
  }
  return null;
}

function crossings([a, b]: readonly [Pair, Pair], sight: Sight): Pair[] {
  const found: Pair[] = [];
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  if (sight.x && dx !== 0) {
    const t = (sight.x.at[0] - a[0]) / dx;
    if (t >= 0 && t <= 1) found.push([sight.x.at[0], a[1] + t * dy]);
  }
  if (sight.y && dy !== 0) {
    const t = (sight.y.at[1] - a[1]) / dy;
    if (t >= 0 && t <= 1) found.push([a[0] + t * dx, sight.y.at[1]]);
  }
  return found;
}

function lines(at: Pair, sight: Sight): [Pair, Pair][] {
  if (sight.spaced) return [[sight.spaced[2]!, sight.spaced[1]!], [sight.spaced[1]!, at]];
  return [sight.x, sight.y].flatMap((t): [Pair, Pair][] => (t && apart(t.at, at) > 0 ? [[t.at, at]] : []));
}

/** A round width for the grid: some pixels wide at the least, in millimetres or inches. */
export function gridFor(scale: number, imperial: boolean): number {
  const steps = imperial ? [3.175, 6.35, 12.7, 25.4, 76.2, 152.4, 304.8, 1524] : [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 5000];
  return steps.find((s) => s * scale >= 7) ?? steps[steps.length - 1]!;
}
