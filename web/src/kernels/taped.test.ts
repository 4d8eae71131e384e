import { describe, expect, it } from "vitest";
import type { MarkFit } from "../api/generated/MarkFit";
import type { TapedHall } from "../api/generated/TapedHall";
import type { TapeFit } from "../api/generated/TapeFit";
import { listed, markNear, nextMark, offOf, strokeOf, verdict, wordsOn } from "./taped";

const mark = (name: string, at: [number, number], more: Partial<MarkFit> = {}): MarkFit => ({ name, at, fitted: at, loose: false, ...more });
const tape = (more: Partial<TapeFit> = {}): TapeFit => ({ from: "A", to: "B", length: 4_000, misfit: 0, is: "fine", too_long: null, ...more });

describe("the hall as measured", () => {
  it("names marks by letters that none has, and goes on after Z as columns of a table do", () => {
    expect(nextMark([])).toBe("A");
    expect(nextMark(["A", "C", "Pillar"])).toBe("B");
    const many: string[] = [];
    for (let i = 0; i < 703; i++) many.push(nextMark(many));
    expect([many[25], many[26], many[51], many[52], many[701], many[702]]).toEqual(["Z", "AA", "AZ", "BA", "ZZ", "AAA"]);
    expect(new Set(many).size).toBe(703);
  });

  it("tells how far a mark is off only where the tapes fix it and it is worth a word", () => {
    expect(offOf(mark("A", [100, 200], { fitted: [50, 200] }))).toEqual([-50, 0]);
    expect(offOf(mark("A", [100, 200], { fitted: [100.3, 200] }))).toBeNull();
    expect(offOf(mark("A", [100, 200], { fitted: null }))).toBeNull();
    expect(offOf(mark("A", [100, 200], { fitted: [50, 200], loose: true }))).toBeNull();
  });

  it("lists those that clash of very many, and those that came last", () => {
    const many = Array.from({ length: 10 }, (_, i) => tape({ is: i === 2 ? "doubted" : "fine" }));
    expect(listed(many, 10)).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8, 9]);
    expect(listed(many, 3)).toEqual([2, 8, 9]);
    expect(listed(many.map((t) => ({ ...t, is: "untrue" as const })), 3)).toEqual([0, 1, 2]);
    expect(listed([], 3)).toEqual([]);
  });

  it("calls a tape fitting only when others check it", () => {
    expect(verdict(tape(), 1)).toBe("fits");
    expect(verdict(tape(), 0)).toBe("unchecked");
    expect(verdict(tape({ misfit: null }), 2)).toBe("unchecked");
    expect(verdict(tape({ is: "doubted" }), 0)).toBe("doubted");
    expect(verdict(tape({ is: "untrue" }), 3)).toBe("untrue");
  });

  it("lays a tape from mark to mark, and meets the nearest mark within reach", () => {
    const marks = [mark("A", [0, 0]), mark("B", [4_000, 0])];
    const told = { marks } as unknown as TapedHall;
    expect(strokeOf(told, tape({ from: "B", to: "A" }))).toEqual([[4_000, 0], [0, 0]]);
    expect(strokeOf(told, tape({ to: "C" }))).toBeNull();
    expect(markNear(marks, [3_990, 5], 20)?.name).toBe("B");
    expect(markNear(marks, [2_000, 0], 20)).toBeNull();
  });

  it("puts words on a stroke where none lie yet, or nowhere", () => {
    const stroke: [[number, number], [number, number]] = [[0, 0], [600, 0]];
    const first = wordsOn(stroke, 100, 20, [])!;
    expect(first).toEqual({ at: [300, 0], box: [250, -10, 350, 10] });
    expect(wordsOn(stroke, 100, 20, [[290, -5, 360, 5]])!.at).toEqual([200, 0]);
    expect(wordsOn(stroke, 100, 20, [[160, -5, 360, 5]])!.at).toEqual([450, 0]);
    expect(wordsOn(stroke, 100, 20, [[0, -5, 600, 5]])).toBeNull();
  });
});
