/** Paths against closed forms of circles, spirals and polygons (school geometry; from memory), not against themselves. */
import { describe, expect, it } from "vitest";
import type { LegDraft } from "../api/generated/LegDraft";
import type { Pair } from "./floor";
import { apart, direction, toHall, turn } from "./frames";
import { along, arcThrough, arcTo, between, centripetal, loop, cornered, smooth, spiralCentre, spiralHeading, stations } from "./paths";

const last = <T>(list: readonly T[]): T => list[list.length - 1]!;
const near = (a: Pair, b: Pair, within = 0.02) => expect(apart(a, b)).toBeLessThan(within);
/** The end of a path and its direction there. */
const end = (made: { frame: { x: number; y: number; heading: number }; path: LegDraft[] }) => last(stations(made.frame, made.path));

describe("an arc", () => {
  it("lies on its circle and turns as far as it says", () => {
    const path = along({ x: 100, y: 50, heading: 30 }, [{ is: "arc", radius: 200, turn: 135 }], 5);
    const centre = toHall({ x: 100, y: 50, heading: 30 }, [0, 200]);
    for (const p of path) expect(apart(p, centre)).toBeCloseTo(200, 6);
    expect(turn(direction(centre, last(path)) - direction(centre, path[0]!))).toBeCloseTo(135, 3);
  });
  it("from a direction to a point ends there", () => {
    for (const to of [[300, 100], [300, -100], [-50, 200], [-200, -1], [0, 400]] as Pair[]) {
      const path = arcTo([10, 20], 25, [10 + to[0], 20 + to[1]]);
      near(last(along({ x: 10, y: 20, heading: 25 }, path, 5)), [10 + to[0], 20 + to[1]], 0.05);
    }
    expect(arcTo([0, 0], 90, [0, 500])).toEqual([{ is: "straight", length: 500 }]);
    // A quarter circle: the point lies as far ahead as beside.
    expect(arcTo([0, 0], 0, [250, 250])).toEqual([{ is: "arc", radius: 250, turn: 90 }]);
  });
  it("through three points is the circle through them", () => {
    // On the circle of radius 500 around (1000, 2000), at 10, 95 and 260 degrees.
    const on = (a: number): Pair => [1000 + 500 * Math.cos((a * Math.PI) / 180), 2000 + 500 * Math.sin((a * Math.PI) / 180)];
    const made = arcThrough(on(10), on(95), on(260))!;
    expect(made.path[0]).toMatchObject({ is: "arc", radius: 500, turn: 250 });
    expect(made.frame.heading).toBeCloseTo(100, 2);
    near([end(made).x, end(made).y], on(260), 0.05);
    // The other way round it turns to the right.
    expect(arcThrough(on(95), on(50), on(10))!.path[0]).toMatchObject({ radius: 500, turn: -85 });
    expect(arcThrough([0, 0], [1, 0], [10, 0])!.path).toEqual([{ is: "straight", length: 10 }]);
    expect(arcThrough([0, 0], [0, 0], [10, 0])).toBeNull();
  });
});

describe("a spiral", () => {
  it("is r = r0 + ring * angle / 360 around its centre, begins in its direction, and is as long as the integral", () => {
    for (const hand of ["left", "right"] as const)
      for (const ring of [60, -60]) {
        const left = hand === "left" ? 1 : -1;
        const [centre, first]: [Pair, Pair] = [[1000, 500], [1000 + 500 * Math.cos(1), 500 + 500 * Math.sin(1)]];
        const frame = { x: first[0], y: first[1], heading: spiralHeading(centre, first, ring, hand) };
        near(spiralCentre(frame, 500, ring, hand), centre, 1e-6);
        const path = along(frame, [{ is: "spiral", radius: 500, ring, turns: 5, hand }], 5);
        const n = path.length - 1;
        path.forEach((p, i) => {
          const phi = (2 * Math.PI * 5 * i) / n;
          const r = 500 + (ring * phi) / (2 * Math.PI);
          near(p, [1000 + r * Math.cos(1 + left * phi), 500 + r * Math.sin(1 + left * phi)], 1e-6);
        });
        expect(Math.abs(turn(direction(path[0]!, path[1]!) - frame.heading))).toBeLessThan(5);
        // With rings far narrower than the radius: the mean radius times the angle, to a few parts in ten thousand.
        const long = path.reduce((sum, p, i) => sum + (i ? apart(p, path[i - 1]!) : 0), 0);
        expect(long / ((500 + ring * 2.5) * 10 * Math.PI)).toBeCloseTo(1, 2);
        // The direction at its end is that of its last chord.
        const { heading } = last(stations(frame, [{ is: "spiral", radius: 500, ring, turns: 5, hand }]));
        expect(Math.abs(turn(heading - direction(path[n - 1]!, path[n]!)))).toBeLessThan(5);
      }
  });
});

describe("straights with rounded corners", () => {
  const U: Pair[] = [[0, 0], [1000, 0], [1000, 600], [0, 600]];
  it("end at the last point, with arcs of the radius where there is room", () => {
    const made = cornered(U, 150)!;
    expect(made.path).toEqual([{ is: "straight", length: 850 }, { is: "arc", radius: 150, turn: 90 }, { is: "straight", length: 300 }, { is: "arc", radius: 150, turn: 90 }, { is: "straight", length: 850 }]);
    near([end(made).x, end(made).y], [0, 600]);
  });
  it("take a smaller radius where a side is short: two corners share it", () => {
    const made = cornered(U, 5000)!;
    expect(made.path.filter((l) => l.is === "arc").map((l) => l.is === "arc" && l.radius)).toEqual([300, 300]);
    near([end(made).x, end(made).y], [0, 600]);
  });
  it("set out in a given direction and still pass the points", () => {
    const made = cornered([[0, 0], [1000, 500], [2000, 500]], 200, 0)!;
    expect(made.frame.heading).toBe(0);
    near([end(made).x, end(made).y], [2000, 500], 0.5);
    expect(cornered([[0, 0], [1000, 0]], 200, 0)!.path).toEqual([{ is: "straight", length: 1000 }]);
  });
  it("come back to where and how they began when closed", () => {
    const made = cornered([[0, 0], [1000, 0], [1000, 600], [0, 600], [0, 0]], 100, null, true)!;
    const to = end(made);
    near([to.x, to.y], [made.frame.x, made.frame.y], 0.05);
    expect(turn(to.heading - made.frame.heading)).toBe(0);
    // 4 straights less 2 radii each, and one whole circle; the first straight is parted.
    const long = made.path.reduce((sum, l) => sum + (l.is === "straight" ? l.length : l.is === "arc" ? (Math.abs(l.turn) * Math.PI * l.radius) / 180 : 0), 0);
    expect(long).toBeCloseTo(3200 - 800 + 200 * Math.PI, 1);
  });
  it("say nothing for a single place", () => expect(cornered([[5, 5], [5.2, 5]], 100)).toBeNull());
});

describe("a smooth curve", () => {
  it("is a straight through two points, and passes all of several", () => {
    expect(smooth([[0, 0], [300, 400]], null)).toEqual({ frame: { x: 0, y: 0, heading: 53.13 }, path: [{ is: "straight", length: 500 }] });
    const points: Pair[] = [[0, 0], [500, 100], [700, 600], [200, 900]];
    const made = smooth(points, null)!;
    const path = along(made.frame, made.path, 5);
    for (const p of points) expect(Math.min(...path.map((q) => apart(p, q)))).toBeLessThan(0.05);
  });
  it("between two directions of a circle stays near that circle", () => {
    // A quarter of a circle of radius 1000: Hermite pieces of that speed are off by 3 parts in 10 000 at the most.
    for (const t of [0.1, 0.25, 0.5, 0.8]) expect(Math.abs(apart(between([1000, 0], 90, [0, 1000], 180, t), [0, 0]) - 1000)).toBeLessThan(1);
    near(between([1000, 0], 90, [0, 1000], 180, 1), [0, 1000], 1e-9);
  });
  it("has the direction of the neighbours at evenly set points, and leans to the nearer one else", () => {
    expect(centripetal([0, 0], [100, 50], [200, 0])).toBeCloseTo(0, 9);
    // Weighed by roots: sqrt(4) and sqrt(1) of the lengths 400 and 100.
    const [d1, d2] = [400 * (Math.sqrt(100) / Math.sqrt(400)), 100 * (Math.sqrt(400) / Math.sqrt(100))];
    expect(centripetal([0, 0], [400, 0], [400, 100])).toBeCloseTo((Math.atan2(d2, d1) * 180) / Math.PI, 9);
  });
  it("around comes back in the direction in which it set out", () => {
    const square: Pair[] = [[0, 0], [1000, 0], [1000, 1000], [0, 1000]];
    const made = loop([...square, [0, 0]])!;
    const to = end(made);
    near([to.x, to.y], [0, 0]);
    expect(Math.abs(turn(to.heading - made.frame.heading))).toBeLessThan(1);
    expect(made.frame.heading).toBeCloseTo(-45, 2);
    expect(loop([[0, 0], [10, 0]])).toBeNull();
  });
});
