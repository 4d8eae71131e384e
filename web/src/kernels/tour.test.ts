/** Letters of known strokes walked there and back: one line round each, that nothing splits. */
import { describe, expect, it } from "vitest";
import type { Pair } from "./floor";
import { apart } from "./frames";
import { flown, pieces } from "./flown";
import { medial } from "./medial";
import { along } from "./paths";
import { HIGH, inMm, MM, of, PEN, penned, PENNED } from "./penned";
import { evenly } from "./strokes";
import type { Ink } from "./thin";
import { toured } from "./tour";

const PITCH = 15;
/** Letters beside one another in one picture. */
function together(letters: readonly string[]): Ink {
  const all = letters.map((l) => penned(PENNED[l]!));
  const width = 100 * all.length;
  const ink = new Uint8Array(width * HIGH);
  all.forEach((one, k) => one.ink.forEach((v, i) => { if (v) ink[Math.floor(i / 100) * width + 100 * k + (i % 100)] = 1; }));
  return { width, height: HIGH, ink };
}
/** What the pen drew, mm, 20 places to each of its strokes. */
const drawn = (letter: string) => PENNED[letter]!.flatMap((s) => s.slice(1).flatMap((b, i) => Array.from({ length: 20 }, (_, k): Pair => inMm([s[i]![0] + ((b[0] - s[i]![0]) * k) / 20, s[i]![1] + ((b[1] - s[i]![1]) * k) / 20]))));
const laid = (all: ReturnType<typeof toured>) => all.lines.flatMap((l) => evenly(along(l.frame, l.path, 5), 5));

describe("letters walked there and back", () => {
  for (const letter of Object.keys(PENNED)) {
    it(`${letter} is one line that nothing splits, and ends at the link on which it began`, () => {
      const all = toured(of(letter), PITCH, true);
      expect([all.lines.length, all.alone, all.lines[0]!.from]).toEqual([1, [], null]);
      const places = pieces(all.lines[0]!.frame, all.lines[0]!.path, PITCH);
      const [first, last] = [places[0]!, places[places.length - 1]!];
      expect([first.a, Math.abs(Math.sin(last.a)) < 1e-3, last.x > first.x]).toEqual([0, true, true]);
      expect(Math.abs(last.y - first.y)).toBeLessThan(1);
      // Below all that the pen drew, and by more than pieces fly.
      expect(Math.min(...drawn(letter).map((p) => p[1])) - first.y).toBeGreaterThan(101);
    });
    it(`${letter} has the line on both sides of what the pen drew`, () => {
      const line = laid(toured(of(letter), PITCH, true));
      const pen = drawn(letter);
      // 40 mm beside it, and somewhat more where the way back keeps out of what flies; rounds are open for some 200 mm, and a short bar may be left out.
      const near = (p: Pair) => line.filter((q) => apart(p, q) < 75);
      const both = pen.filter((p) => near(p).some((q, _, all) => all.some((r) => (q[0] - p[0]) * (r[0] - p[0]) + (q[1] - p[1]) * (r[1] - p[1]) < 0)));
      expect(both.length / pen.length).toBeGreaterThan(0.72);
    });
    it(`${letter} fits, bends no tighter than the wave passes, and nothing flies onto what is to fall`, () => {
      // Small bowls of this pen, as B, R and 8 have them, take higher letters.
      const all = toured(["B", "R", "8"].includes(letter) ? medial(penned(PENNED[letter]!), 1.6 * MM) : of(letter), PITCH, true);
      const { lines } = all;
      const found = flown(lines, PITCH);
      // Of an 8, two rounds one on the other, the last one is hit; and that is told.
      expect(found).toEqual({ knocked: letter === "8" ? all.flown.knocked : 0, clashes: 0, tight: 0, bent: 0 });
      expect(found).toEqual(all.flown);
      // A turn of 30° a piece ran at every gap that was measured (findings, `turn.rs`): chords of a pitch on this radius.
      for (const { path } of lines) for (const leg of path) if (leg.is === "arc" && Math.abs(leg.turn) > 30) expect(leg.radius).toBeGreaterThan(1.9319 * PITCH);
    });
  }
  it("words are one line too, whose letters nothing flies to from one another", () => {
    for (const word of [["L", "A", "T"], ["S", "O", "I"], ["T", "O", "A"]]) {
      const all = toured(medial(together(word), MM), PITCH, true);
      expect([word, all.lines.length, all.alone, all.flown]).toEqual([word, 1, [], { knocked: 0, clashes: 0, tight: 0, bent: 0 }]);
      expect(flown(all.lines, PITCH)).toEqual(all.flown);
    }
  });
  it("the second of two same letters stands as the first", () => {
    const one = toured(of("A"), PITCH, true).lines[0]!;
    const two = toured(medial(together(["A", "A"]), MM), PITCH, true).lines[0]!;
    // Straight on their link they have one leg in common.
    expect(two.path.length).toBe(2 * one.path.length - 1);
  });
  it("apart, each is a line of its own; dots always are", () => {
    const apart = toured(medial(together(["L", "A"]), MM), PITCH, false);
    expect([apart.lines.length, apart.alone]).toEqual([2, [1]]);
    const dot = (top: number) => toured(medial(penned([[[50, 8], [50, top]], [[50, 105], [50, 105.1]]]), MM), PITCH, true);
    const dotted = dot(60);
    expect([dotted.lines.length, dotted.alone]).toEqual([2, [1]]);
    expect(dotted.lines[1]!.frame.y).toBeGreaterThan(95 * MM);
    // 125 mm between middle lines is no room for 40 mm and half a piece of each.
    const close = dot(80);
    expect([close.lines.length, close.alone, close.lost]).toEqual([1, [], 1]);
  });
  it("too low, it tells that strokes do not fit, and comes to an end at any height", () => {
    for (const mm of [1e-6, 0.01, 0.5, 1.2, 12]) {
      const all = toured(medial(penned(PENNED.B!), mm), PITCH, true);
      if (mm === 1.2) expect(all.flown.clashes + all.flown.tight).toBeGreaterThan(0);
      for (const l of all.lines) for (const leg of l.path) expect(leg.is === "arc" ? leg.radius : leg.is === "straight" ? leg.length : NaN).toBeGreaterThan(0);
    }
    expect(toured({ nodes: [], edges: [], width: 1 }, PITCH, true).lines).toEqual([]);
  });
  it("is as wide as the pen at the least where strokes of the pen are as wide", () => {
    // The pen is 65 mm wide, the line 80: so its middle lines are, from pieces' middle to middle.
    expect(PEN * MM).toBeLessThan(80);
    const xs = laid(toured(of("I"), PITCH, true)).filter((p) => p[1] > 200 && p[1] < 400).map((p) => p[0]);
    expect(Math.max(...xs) - Math.min(...xs)).toBeCloseTo(80, 0);
  });
});
