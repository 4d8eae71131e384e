import { describe, expect, it } from "vitest";
import { ticks } from "./rulers";

const longs = (from: number, to: number, scale: number, imperial = false) => ticks(from, to, scale, imperial).filter((t) => t.long).map((t) => t.at);

describe("rulers", () => {
  it("carry round figures that are 64 pixels apart at the least", () => {
    // 0.05 pixels a millimetre: 64 pixels are 1 280 mm, so 2 m.
    expect(longs(0, 10_000, 0.05)).toEqual([0, 2_000, 4_000, 6_000, 8_000, 10_000]);
    // Two pixels a millimetre: 64 pixels are 32 mm, so 50 mm.
    expect(longs(-60, 110, 2)).toEqual([-50, 0, 50, 100]);
  });
  it("count in inches and feet where lengths are imperial", () => {
    // 0.05 pixels a millimetre: five feet are 76 pixels, two are 30.
    expect(longs(0, 3_048, 0.05, true).map((mm) => mm / 304.8)).toEqual([0, 5, 10]);
    // Four pixels a millimetre: an inch is 102 pixels.
    expect(longs(0, 60, 4, true).map((mm) => mm / 25.4)).toEqual([0, 1, 2]);
  });
  it("are cut into equal parts, every figure on a mark, whatever the scale", () => {
    for (const imperial of [false, true])
      for (let scale = 1e-4; scale < 40; scale *= 1.37) {
        const [from, to] = [-300 / scale, 900 / scale];
        const all = ticks(from, to, scale, imperial);
        const figures = all.filter((t) => t.long).map((t) => t.at);
        const gaps = all.slice(1).map((t, i) => (t.at - all[i]!.at) * scale);
        expect(Math.max(...gaps) - Math.min(...gaps)).toBeLessThan(1e-6);
        expect(Math.min(...gaps)).toBeGreaterThanOrEqual(6 - 1e-9);
        expect(figures).toContain(0);
        for (let i = 1; i < figures.length; i++) expect((figures[i]! - figures[i - 1]!) * scale).toBeGreaterThanOrEqual(63.9);
        expect(all.every((t) => t.at >= from - 1e-6 && t.at <= to + 1e-6)).toBe(true);
      }
  });
  it("have no marks where nothing is seen", () => {
    expect(ticks(10, 10, 1, false)).toEqual([]);
    expect(ticks(0, 10, 0, false)).toEqual([]);
    expect(ticks(0, NaN, 1, false)).toEqual([]);
  });
});
