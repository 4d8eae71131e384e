/** Strokes against shapes whose answer is known. */
import { describe, expect, it } from "vitest";
import type { Pair } from "./floor";
import { apart } from "./frames";
import { calmed, drawnOn, evenly, knots, simplify, upTo } from "./strokes";

const circle = (n: number, r: number): Pair[] => Array.from({ length: n + 1 }, (_, i) => [r * Math.cos((2 * Math.PI * i) / n), r * Math.sin((2 * Math.PI * i) / n)]);

describe("a stroke", () => {
  it("on a straight keeps its ends alone, and each corner of a polygon", () => {
    expect(simplify(Array.from({ length: 50 }, (_, i): Pair => [i * 10, i * 5]), 0.1)).toEqual([[0, 0], [490, 245]]);
    const L: Pair[] = [...Array.from({ length: 11 }, (_, i): Pair => [i * 10, 0]), ...Array.from({ length: 10 }, (_, i): Pair => [100, 10 + i * 10])];
    expect(simplify(L, 1)).toEqual([[0, 0], [100, 0], [100, 100]]);
  });
  it("never leaves out a point that lies farther than the tolerance", () => {
    const stroke = Array.from({ length: 400 }, (_, i): Pair => [i * 5, 80 * Math.sin(i / 17) + 20 * Math.sin(i / 3)]);
    const left = simplify(stroke, 6);
    const off = (p: Pair) => Math.min(...left.slice(1).map((b, i) => {
      const a = left[i]!;
      const t = Math.min(1, Math.max(0, ((p[0] - a[0]) * (b[0] - a[0]) + (p[1] - a[1]) * (b[1] - a[1])) / apart(a, b) ** 2));
      return apart(p, [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])]);
    }));
    for (const p of stroke) expect(off(p)).toBeLessThanOrEqual(6 + 1e-9);
    expect(left.length).toBeLessThan(stroke.length / 2);
  });
  it("on a circle needs about as many chords as its sagitta says", () => {
    // A chord over the angle a lies r (1 - cos(a / 2)) inside: 8 mm of 1000 mm are 14.5 degrees, 25 chords; halving gives 32 or fewer.
    const n = simplify(circle(720, 1000), 8).length - 1;
    expect(n).toBeGreaterThanOrEqual(24);
    expect(n).toBeLessThanOrEqual(40);
  });
  it("has points evenly along it, and its ends", () => {
    const even = evenly([[0, 0], [30, 0], [30, 45]], 10);
    expect(even).toEqual([[0, 0], [10, 0], [20, 0], [30, 0], [30, 10], [30, 20], [30, 30], [30, 45]]);
  });
  it("shakes less when calmed, and keeps its ends", () => {
    const shaky = Array.from({ length: 101 }, (_, i): Pair => [i * 4, i % 2 ? 3 : -3]);
    const calm = calmed(shaky, 2);
    expect([calm[0], calm[100]]).toEqual([shaky[0], shaky[100]]);
    expect(Math.max(...calm.slice(3, -3).map((p) => Math.abs(p[1])))).toBeLessThan(0.5);
  });
  it("of any length becomes a bounded number of points", () => {
    const wild = Array.from({ length: 4000 }, (_, i): Pair => [i * 3, (i * 7919) % 500]);
    expect(knots(wild, 1).length).toBeLessThanOrEqual(400);
    let long: readonly Pair[] = [];
    for (let i = 0; i < 20_000; i++) long = drawnOn(long, [i, 0], 0.5);
    expect(long.length).toBeLessThanOrEqual(4000);
    expect(long[long.length - 1]).toEqual([19_999, 0]);
    expect(drawnOn(long, [19_999.2, 0], 0.5)).toBe(long);
  });

  it("begins so long, within a side of it or at a corner, and no longer than it is", () => {
    const stroke: Pair[] = [[0, 0], [3, 0], [3, 4]];
    expect(upTo(stroke, 5)).toEqual([[0, 0], [3, 0], [3, 2]]);
    expect(upTo(stroke, 3)).toEqual([[0, 0], [3, 0]]);
    expect(upTo(stroke, 9)).toEqual(stroke);
  });
});
