/** What a place snaps to. Places are chosen so that what is nearest can be told by hand. */
import { describe, expect, it } from "vitest";
import type { Pair } from "./floor";
import { atAngle, foot, gridFor, snap, type Asked, type Target, type Targets } from "./snap";

const ASKED: Asked = { within: 10, grid: null, from: null, only: null };
const NOTHING: Targets = { points: [], edges: [] };
const point = (at: Pair, kind: Target["kind"] = "corner", more: Partial<Target> = {}): Target => ({ at, kind, ...more });
const points = (...list: Target[]): Targets => ({ points: list, edges: [] });

describe("snapping", () => {
  it("meets nothing where nothing is near", () => {
    expect(snap([0, 0], NOTHING, ASKED)).toBeNull();
    expect(snap([0, 0], points(point([50, 50])), ASKED)).toBeNull();
  });
  it("meets the nearest of its kind, and only within its reach", () => {
    const two = points(point([8, 0]), point([0, 5]));
    expect(snap([0, 0], two, ASKED)!.at).toEqual([0, 5]);
    expect(snap([0, 0], points(point([10.1, 10.1])), ASKED)).toBeNull();
  });
  it("takes a port rather than a corner that is a little nearer, but not one that is far nearer", () => {
    const port = point([9, 0], "port", { item: 7, port: "end", enters: false, heading: 30 });
    const met = snap([0, 0], points(port, point([0, 6], "corner")), ASKED)!;
    expect(met.kind).toBe("port");
    expect(met.target).toEqual(port);
    expect(snap([0, 0], points(port, point([0, 1], "corner")), ASKED)!.kind).toBe("corner");
  });
  it("goes to the foot on an edge, and to its end when the foot lies beyond", () => {
    const edge: [Pair, Pair] = [[0, 0], [100, 100]];
    const met = snap([53, 47], { points: [], edges: [edge] }, ASKED)!;
    expect(met.kind).toBe("edge");
    expect(met.at[0]).toBeCloseTo(50, 9);
    expect(met.at[1]).toBeCloseTo(50, 9);
    expect(foot([200, 120], edge)).toEqual([100, 100]);
    expect(foot([3, 4], [[1, 1], [1, 1]])).toEqual([1, 1]);
    // Edges reach less far than points.
    expect(snap([50, 61.5], { points: [], edges: [edge] }, ASKED)).toBeNull();
  });
  it("meets an edge where a line of sight crosses it", () => {
    const met = snap([43, 3], { points: [point([40, 500])], edges: [[[0, 0], [100, 0]]] }, ASKED)!;
    expect(met.at).toEqual([40, 0]);
    expect(met.guides).toHaveLength(2);
  });
  it("stands straight north, south, east and west of points", () => {
    expect(snap([303, 777], points(point([300, 100])), ASKED)).toMatchObject({ kind: "line", at: [300, 777] });
    expect(snap([303, 777], points(point([300, 100]), point([900, 780])), ASKED)!.at).toEqual([300, 780]);
  });
  it("keeps the distance that two points in a row have", () => {
    const met = snap([604, 2], points(point([0, 0]), point([300, 0])), ASKED)!;
    expect(met.kind).toBe("spacing");
    expect(met.at).toEqual([600, 0]);
    expect(snap([-304, 2], points(point([0, 0]), point([300, 0])), ASKED)!.at).toEqual([-300, 0]);
  });
  it("pulls softly at every 15 degrees from the point before, and at no others", () => {
    const from: Pair = [0, 0];
    const at = (a: number): Pair => [1000 * Math.cos((a * Math.PI) / 180), 1000 * Math.sin((a * Math.PI) / 180)];
    const met = snap(at(45.2), NOTHING, { ...ASKED, from })!;
    expect(met.kind).toBe("angle");
    expect(Math.atan2(met.at[1], met.at[0])).toBeCloseTo(Math.PI / 4, 9);
    expect(snap(at(52), NOTHING, { ...ASKED, from })).toBeNull();
    // With a grid the length becomes round along the ray.
    expect(Math.hypot(...snap(at(45.2), NOTHING, { ...ASKED, from, grid: 50 })!.at)).toBeCloseTo(1000, 6);
  });
  it("keeps to steps of the angle when only these are asked for, whatever lies near", () => {
    const met = snap([100, 8], points(point([100, 9])), { ...ASKED, from: [0, 0], only: 15 })!;
    expect(met).toMatchObject({ kind: "angle", at: [100, 0] });
    // The foot on a ray at 60 degrees: cos(60 - 53.13) of the length.
    const on = atAngle([30, 40], [0, 0], 60);
    expect(Math.hypot(...on)).toBeCloseTo(50 * Math.cos(Math.PI / 3 - Math.atan2(4, 3)), 9);
  });
  it("takes the grid when nothing else is near", () => {
    expect(snap([123, 477], NOTHING, { ...ASKED, grid: 50 })).toMatchObject({ kind: "grid", at: [100, 500] });
    expect(snap([123, 477], points(point([120, 470])), { ...ASKED, grid: 50 })!.kind).toBe("corner");
  });
  it("has a grid of round widths that are some pixels wide, in either measure", () => {
    expect(gridFor(0.05, false)).toBe(200);
    expect(gridFor(1, false)).toBe(10);
    expect(gridFor(1, true)).toBe(12.7);
    expect(gridFor(1e-6, false)).toBe(5000);
  });
});
