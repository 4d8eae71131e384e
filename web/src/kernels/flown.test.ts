/** What flies out of bends and what stands in one another, on paths whose figures are known. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import type { LegDraft } from "../api/generated/LegDraft";
import { flies, flown, MOST_TURN, pieces, SAFE_TURN, THICK, WIDE } from "./flown";

const straight = (length: number): LegDraft => ({ is: "straight", length });
const arc = (radius: number, turn: number): LegDraft => ({ is: "arc", radius, turn });
const FROM = { x: 0, y: 0, heading: 0 };

describe("what flies out of a bend", () => {
  // Own runs of a rigid-body model with which crate `fall` is checked: friction 0.15, the worst of eight lines each.
  it("was no farther in any measured line than is told", () => {
    const rows = readFileSync(join(import.meta.dirname, "../../../crates/fall/tests/data/transfers/line_end.csv"), "utf8").trim().split("\n").slice(1).map((r) => r.split(","));
    const curves = rows.filter((r) => r[0]!.includes("_R") && Number(r[1]) === 0.15);
    expect(curves.length).toBeGreaterThan(8);
    for (const r of curves) expect([r[0], flies(Number(r[0]!.split("_R")[1])) >= Number(r[9])]).toEqual([r[0], true]);
    // And no farther than the longest of them by much, or nothing would ever fit.
    expect(flies(1)).toBeLessThan(Math.max(...curves.map((r) => Number(r[9]))) + 1);
  });
  // The page draws letters by figures of its own; the program judges them by those of its crates.
  it("is as far as the program reckons", () => {
    const source = (file: string) => readFileSync(join(import.meta.dirname, "../../../crates", file), "utf8");
    const reach = source("fall/src/law/reach.rs");
    const number = String.raw`([\d._]+)`;
    const slick = [...(/const OUTSIDE:[^=]*= \[(.*?)\];/s.exec(reach)?.[1] ?? "").matchAll(new RegExp(String.raw`\(${number}, \[${number},`, "g"))].map(([, r, out]) => [Number(r), Number(out)] as const);
    const beside = Number(new RegExp(String.raw`const BESIDE:[^=]*= \[\(0\.15, ${number}\)`).exec(reach)?.[1]);
    const straight = Number(new RegExp(`const STRAIGHT_FROM: f64 = ${number};`).exec(reach)?.[1]);
    const rows = [...slick, [straight, beside] as const];
    expect(slick.length).toBeGreaterThan(2);
    for (const [i, [r, out]] of rows.entries()) {
      expect([r, flies(r)]).toEqual([r, out]);
      // Straight between the rows.
      const next = rows[i + 1];
      if (next) expect(flies((r + next[0]) / 2)).toBeCloseTo((out + next[1]) / 2, 9);
    }
    expect([flies(rows[0]![0] / 2), flies(10 * straight)]).toEqual([rows[0]![1], beside]);
    const turns = source("findings/src/turn.rs");
    const turn = (name: string) => Number(new RegExp(`const ${name}: f64 = ${number};`).exec(turns)?.[1]);
    expect([SAFE_TURN, MOST_TURN]).toEqual([turn("SAFE"), turn("MOST")]);
    const [, thick, wide] = new RegExp(String.raw`thickness: Length::mm\(${number}\),\s*width: Length::mm\(${number}\)`).exec(source("plan/src/stock.rs"))!;
    expect([THICK, WIDE]).toEqual([Number(thick), Number(wide)]);
  });
  it("counts what is to fall later, and nothing that lies by then", () => {
    // A quarter to the left on 60 mm throws to the right and ahead: east of the line that goes on north at x = 360. Round it comes
    // back southwards, so far to the east that its western sides are `far` beyond the eastern sides of the bend.
    const round = (far: number) => {
      const back = far + 24;
      const wide = back / 2;
      return flown([{ frame: FROM, path: [straight(300), arc(60, 90), straight(200), arc(wide, -180), straight(300)] }], 15);
    };
    expect(round(96).knocked).toBeGreaterThan(0);
    expect(round(110).knocked).toBe(0);
    // The other way round the same pieces lie before the bend falls.
    const far = 96;
    const path = [straight(300), arc((far + 24) / 2, 180), straight(200), arc(60, -90), straight(300)];
    expect(flown([{ frame: { x: 360 + far + 24, y: -40, heading: 90 }, path }], 15).knocked).toBe(0);
  });
  it("tells pieces that stand in one another and turns beyond 30°", () => {
    // Two lines side by side: pieces are 24 mm wide.
    const beside = (apart: number) => flown([0, apart].map((y) => ({ frame: { x: 0, y, heading: 0 }, path: [straight(300)] })), 15).clashes;
    expect([beside(23) > 15, beside(25)]).toEqual([true, 0]);
    // A chord of 15 mm turns by 30° on a radius of 15 / (2 sin 15°) = 28.98 mm.
    expect(flown([{ frame: FROM, path: [straight(100), arc(28, 90), straight(100)] }], 15).bent).toBeGreaterThan(0);
    expect(flown([{ frame: FROM, path: [straight(100), arc(30, 90), straight(100)] }], 15).bent).toBe(0);
    // By 45° on 19.6 mm.
    expect([18, 21].map((r) => flown([{ frame: FROM, path: [straight(100), arc(r, 90), straight(100)] }], 15).tight > 0)).toEqual([true, false]);
  });
  it("stands a pitch apart along arcs too", () => {
    const all = pieces(FROM, [straight(100), arc(60, 180), straight(100)], 15);
    expect(all.length).toBe(Math.round((200 + Math.PI * 60) / 15));
    // Half a round on 60 mm comes back 120 mm to the left.
    expect(all[all.length - 1]!.y).toBeCloseTo(120, 6);
    for (let i = 1; i < all.length; i++) {
      const chord = Math.hypot(all[i]!.x - all[i - 1]!.x, all[i]!.y - all[i - 1]!.y);
      expect(chord).toBeLessThan(15.001);
      expect(chord).toBeGreaterThan(2 * 60 * Math.sin(15 / 120) - 0.001);
    }
  });
});
