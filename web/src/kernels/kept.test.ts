import { expect, test } from "vitest";
import { isFine, MOST, serves, shareOf, toKeep } from "./kept";

const SIZE = { width: 1000, height: 500 };
/** Two pixels a metre: 500 m x 250 m in sight about (0, 0). */
const VIEW = { scale: 0.002, x: 0, y: 0 };
const SAMPLES = 0.004;
const WIDE = { x0: -1e6, y0: -1e6, x1: 1e6, y1: 1e6 };

test("a kept picture shows a quarter more on each side, and no more than there is", () => {
  const kept = toKeep(VIEW, SIZE, WIDE, SAMPLES)!;
  expect(kept.box).toEqual({ x0: -375_000, y0: -187_500, x1: 375_000, y1: 187_500 });
  expect(kept.samples).toBe(SAMPLES);
  const all = { x0: -1000, y0: -2000, x1: 3000, y1: 4000 };
  // Two samples of 250 mm around.
  expect(toKeep(VIEW, SIZE, all, SAMPLES)!.box).toEqual({ x0: -1500, y0: -2500, x1: 3500, y1: 4500 });
  // Whole samples: 4 100 + 1 000 mm are 20.4 of them.
  const odd = toKeep(VIEW, SIZE, { ...all, x1: 3100 }, SAMPLES)!.box;
  expect(odd.x1 - odd.x0).toBeCloseTo(5250, 6);
  expect(toKeep({ ...VIEW, x: 1e6 }, SIZE, all, SAMPLES)).toBeNull();
});

test("pictures of a view have the same samples, whatever else there is", () => {
  const [x, y] = [1_234.567, 89.01];
  const grid = (all: typeof WIDE) => {
    const { box, samples } = toKeep({ ...VIEW, x, y }, SIZE, all, SAMPLES)!;
    return [box.x0, box.y0, box.x1, box.y1].map((mm) => Math.abs(mm * samples - Math.round(mm * samples)));
  };
  for (const off of [...grid(WIDE), ...grid({ x0: 3.3, y0: -7.7, x1: 4_001.9, y1: 801.1 })]) expect(off).toBeLessThan(1e-9);
});

test("it serves as long as what is seen lies within it", () => {
  const kept = toKeep(VIEW, SIZE, WIDE, SAMPLES)!;
  const at = (x: number, all = WIDE) => serves(kept, { ...VIEW, x }, SIZE, all, SAMPLES);
  expect([at(125_000), at(125_001), at(-125_000), at(-125_001)]).toEqual([true, false, true, false]);
  // When all pieces are in it, no view needs more.
  const few = { x0: 0, y0: 0, x1: 1000, y1: 1000 };
  expect(at(400_000, few)).toBe(true);
});

test("another scale serves up to twice as large or small while the view moves, but is not fine", () => {
  const kept = toKeep(VIEW, SIZE, WIDE, SAMPLES)!;
  const at = (times: number) => serves(kept, { ...VIEW, scale: VIEW.scale * times }, SIZE, { x0: 0, y0: 0, x1: 10, y1: 10 }, SAMPLES * times);
  expect([0.49, 0.5, 1, 2, 2.01].map(at)).toEqual([false, true, true, true, false]);
  expect([isFine(kept, SAMPLES), isFine(kept, SAMPLES * 1.1)]).toEqual([true, false]);
});

test("a picture at its widest is as fine as it can be", () => {
  const kept = toKeep(VIEW, SIZE, WIDE, 0.02)!;
  // One sample may be cut on each side.
  expect(kept.samples).toBeCloseTo((MOST - 1) / 750_000, 12);
  expect(Math.round((kept.box.x1 - kept.box.x0) * kept.samples)).toBeLessThanOrEqual(MOST);
  expect(isFine(kept, 0.02)).toBe(true);
});

test("a view finds its own share, on whole samples at the same scale", () => {
  const kept = toKeep(VIEW, SIZE, WIDE, SAMPLES)!;
  // The view is two thirds of the picture and begins at a sixth of it.
  const [x, y, w, h] = shareOf(kept, VIEW, SIZE, SAMPLES);
  expect([x, y, w, h].map((v) => v.toFixed(9))).toEqual([1 / 6, 1 / 6, 2 / 3, 2 / 3].map((v) => v.toFixed(9)));
  // 60 mm are less than half a sample of 250 mm, 130 mm more.
  const moved = (mm: number, samples = SAMPLES) => (shareOf(kept, { ...VIEW, x: mm }, SIZE, samples)[0] - x) * 750_000;
  expect(moved(60)).toBeCloseTo(0, 6);
  expect(moved(130)).toBeCloseTo(250, 6);
  expect(moved(60, SAMPLES * 1.2)).toBeCloseTo(60, 6);
});
