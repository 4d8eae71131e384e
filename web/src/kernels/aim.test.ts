import { describe, expect, it } from "vitest";
import { nearestShot, nextRing, SHOTS, type Shot } from "./aim";

/** Shoots until nothing is nearer; gives the trials. */
function aim(takes: (ring: number) => number, want: number, first: number): Shot[] {
  const shots: Shot[] = [];
  for (let ring: number | null = first; ring !== null; ring = nextRing(shots, want, 1, 1e5)) shots.push({ ring, pieces: takes(ring) });
  return shots;
}

describe("aiming at a number of pieces", () => {
  it("meets it where pieces go as one over the ring", () => {
    const shots = aim((r) => Math.round(6e6 / (r * 15)), 5000, 60);
    expect(Math.abs(nearestShot(shots, 5000)!.pieces - 5000)).toBeLessThanOrEqual(1);
    expect(shots.length).toBeLessThanOrEqual(3);
  });
  it("comes near where pieces go in steps, as courses do, and ends", () => {
    // Whole courses of 3 m in a room of 2 m: the nearest count to 4000 is that of 20 courses of 200 pieces.
    const takes = (r: number) => Math.floor(2000 / r) * 200;
    const shots = aim(takes, 4000, 60);
    expect(nearestShot(shots, 4000)!.pieces).toBe(4000);
    for (const want of [1, 900, 3999, 70_000]) {
      const tried = aim(takes, want, 60);
      expect(tried.length).toBeLessThanOrEqual(SHOTS);
      expect(Math.abs(nearestShot(tried, want)!.pieces - want)).toBeLessThanOrEqual(Math.max(200, want * 0.05));
    }
  });
  it("ends when a fill takes nothing", () => expect(aim(() => 0, 100, 60).length).toBeLessThanOrEqual(SHOTS));
});
