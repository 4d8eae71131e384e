/** Letters drawn by a pen of known width along known lines: the lines that come of them, and what feeds each. */
import { describe, expect, it } from "vitest";
import type { Pair } from "./floor";
import { apart, toHall, turn, type Frame } from "./frames";
import { linked, type EndPort, type Linked } from "./linked";
import { medial } from "./medial";
import { along, stations } from "./paths";
import { B, inMm, L, MM, of, PEN, penned, PENNED, T } from "./penned";
import { evenly } from "./strokes";

const PITCH = 15;

/** Where a port of a line lies. Beside its end by 15 mm, as crate `placement` has it (`BRANCH_MM`). */
function port(all: Linked, line: number, at: EndPort): Frame {
  const { frame, path } = all.lines[line]!;
  const end = stations(frame, path)[path.length]!;
  const [x, y] = toHall(end, [0, at === "end left" ? 15 : at === "end right" ? -15 : 0]);
  return { x, y, heading: end.heading };
}
const long = (all: Linked, i: number) => all.lines[i]!.path.reduce((sum, l) => sum + (l.is === "straight" ? l.length : l.is === "arc" ? (l.radius * Math.abs(l.turn) * Math.PI) / 180 : 0), 0);

describe("medial lines", () => {
  // Strokes between ends and crossings, counted by hand on the shapes above.
  for (const [letter, edges, free] of [["I", 1, 2], ["L", 1, 2], ["T", 3, 3], ["O", 1, 0], ["A", 4, 2], ["S", 1, 2], ["R", 4, 2]] as const)
    it(`of ${letter} are ${edges} strokes with ${free} free ends`, () => {
      const m = of(letter);
      const ends = new Map<number, number>();
      for (const e of m.edges) for (const n of [e.a, e.b]) ends.set(n, (ends.get(n) ?? 0) + 1);
      expect(m.edges.length).toBe(edges);
      expect([...ends.values()].filter((n) => n === 1).length).toBe(free);
    });
  it("are straight where the pen was, within a pixel, corners included", () => {
    const [stroke] = of("L").edges;
    const pen: Pair[] = [inMm([L, T]), inMm([L, B])];
    const [up, , right] = stroke!.points.length === 3 ? stroke!.points : [];
    expect(stroke!.points).toHaveLength(3);
    expect(apart(stroke!.points[1]!, pen[1]!)).toBeLessThan(MM * 1.5);
    const tall = up![1] > right![1] ? up! : right!;
    expect(Math.abs(tall[0] - pen[0]![0])).toBeLessThan(MM);
  });
  it("lie where the pen was all along a round stroke", () => {
    for (const p of of("O").edges[0]!.points) {
      const [x, y] = [p[0] / MM - 50.5, p[1] / MM - 60.5];
      // Beside an ellipse by so much of its radius there; a pixel of 36 and a half.
      expect(Math.abs(Math.hypot(x / 36, y / 52) - 1)).toBeLessThan(1.5 / 36);
    }
  });
});

describe("linked letters", () => {
  for (const letter of Object.keys(PENNED)) {
    it(`${letter} is fed by its link: each line but the first begins at a port of an earlier one`, () => {
      const all = linked(of(letter), PITCH, true);
      expect([all.alone, all.lost]).toEqual([[], 0]);
      all.lines.forEach(({ frame, from }, i) => {
        if (i === 0) return expect(from).toBeNull();
        expect(from!.line).toBeLessThan(i);
        const at = port(all, from!.line, from!.port);
        // The program lays a line from its port, wherever it was drawn: what differs moves the letter.
        expect(apart([frame.x, frame.y], [at.x, at.y])).toBeLessThan(0.5);
        expect(Math.abs(turn(frame.heading - at.heading))).toBeLessThan(0.1);
      });
    });
    it(`${letter} splits by whole pieces, in two, and bends no tighter than the wave passes`, () => {
      const all = linked(of(letter), PITCH, true);
      const after = all.lines.map((_, i) => all.lines.flatMap((l) => (l.from?.line === i ? [l.from.port] : [])).sort());
      after.forEach((ports, i) => {
        if (ports.length === 0) return;
        expect(ports).toEqual(ports.length === 1 ? ["end"] : ["end left", "end right"]);
        expect(Math.abs(long(all, i) / PITCH - Math.round(long(all, i) / PITCH)) * PITCH).toBeLessThan(0.1);
      });
      // A turn of 30° a piece ran at every gap that was measured (findings, `turn.rs`): chords of a pitch on this radius.
      for (const { path } of all.lines) for (const leg of path) if (leg.is === "arc" && Math.abs(leg.turn) > 30) expect(leg.radius).toBeGreaterThan(1.9319 * PITCH);
    });
    it(`${letter} is covered: a line passes near all of what the pen drew`, () => {
      const all = linked(of(letter), PITCH, true);
      const laid = all.lines.flatMap((l) => evenly(along(l.frame, l.path, 5), 5));
      // Bends at splits and corners, and the room where lines end, leave some out; most lies within half of the pen.
      const drawn = PENNED[letter]!.flatMap((s) => s.slice(1).flatMap((b, i) => Array.from({ length: 20 }, (_, k): Pair => inMm([s[i]![0] + ((b[0] - s[i]![0]) * k) / 20, s[i]![1] + ((b[1] - s[i]![1]) * k) / 20]))));
      const near = drawn.filter((p) => laid.some((q) => apart(p, q) < (PEN / 2) * MM));
      expect(near.length / drawn.length).toBeGreaterThan(0.85);
    });
  }
  it("apart, a letter has a first line of its own, and one start fells it", () => {
    for (const letter of Object.keys(PENNED)) expect([letter, linked(of(letter), PITCH, false).alone]).toEqual([letter, []]);
  });
  it("a dot above a stem has no way in and is told", () => {
    const dotted = medial(penned([[[50, 8], [50, 80]], [[50, 105], [50, 105.1]]]), MM);
    const all = linked(dotted, PITCH, true);
    expect(all.alone).toHaveLength(1);
    expect(all.lines[all.alone[0]!]!.frame.y).toBeGreaterThan(95 * MM);
  });
});
