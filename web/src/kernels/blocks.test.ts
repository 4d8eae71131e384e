import { describe, expect, it } from "vitest";
import { blocksOf, runsOf, seenBlocks } from "./blocks";

/** Ten pieces in a row eastwards, 100 mm apart, four numbers each. */
const ROW = Float32Array.from(Array.from({ length: 10 }, (_, i) => [100 * i, 5, 0, 0]).flat());

describe("blocks of pieces", () => {
  it("hold all their pieces and what these reach", () => {
    const { bounds } = blocksOf(ROW, 10, 4, 12);
    expect([...bounds]).toEqual([-12, -7, 312, 17, 388, -7, 712, 17, 788, -7, 912, 17]);
  });

  it("are drawn when a window meets them, and only then", () => {
    const blocks = blocksOf(ROW, 10, 4, 12);
    expect(seenBlocks(blocks, 320, -50, 380, 50)).toEqual([]);
    expect(seenBlocks(blocks, 712, 17, 900, 20)).toEqual([[1, 3]]);
    expect(seenBlocks(blocks, 0, 18, 900, 20)).toEqual([]);
  });

  it("leave out no block that holds a piece in the window, whatever the window", () => {
    let seed = 7;
    const random = () => (seed = (seed * 16_807) % 2_147_483_647) / 2_147_483_647;
    const [n, block, reach] = [2_000, 16, 24];
    const place = Float32Array.from({ length: 4 * n }, () => 20_000 * random());
    const blocks = blocksOf(place, n, block, reach);
    for (let i = 0; i < 200; i++) {
      const [west, south] = [20_000 * random(), 20_000 * random()];
      const [east, north] = [west + 500 * random(), south + 500 * random()];
      const runs = seenBlocks(blocks, west, south, east, north);
      const drawn = (p: number) => runs.some(([a, b]) => p >= a * block && p < b * block);
      for (let p = 0; p < n; p++) {
        const [x, y] = [place[4 * p]!, place[4 * p + 1]!];
        if (x + reach >= west && x - reach <= east && y + reach >= south && y - reach <= north) expect(drawn(p)).toBe(true);
      }
    }
  });

  it("are joined over a few unseen ones, and no more", () => {
    const seen = (...all: number[]) => (b: number) => all.includes(b);
    expect(runsOf(20, seen(1, 2, 6, 12), 3)).toEqual([[1, 7], [12, 13]]);
    expect(runsOf(20, seen(1, 3), 0)).toEqual([[1, 2], [3, 4]]);
    expect(runsOf(0, () => true)).toEqual([]);
  });
});
