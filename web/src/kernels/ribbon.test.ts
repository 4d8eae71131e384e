import { describe, expect, it } from "vitest";
import type { Call } from "../api/generated/Call";
import { asText, marks, runs, strips, tens } from "./ribbon";

const calls = (...list: [number, number][]): Call[] => {
  let from = 1;
  let laid = 0;
  return list.map(([colour, count]) => {
    if (colour) laid += count;
    const call = { colour, count, laid, from };
    from += count;
    return call;
  });
};

describe("the ribbon", () => {
  it("joins the comb loads of one run again", () => {
    expect(runs(calls([1, 30], [1, 22], [2, 6]))).toEqual([
      { first: 0, calls: 2, colour: 1, count: 52, from: 1 },
      { first: 2, calls: 1, colour: 2, count: 6, from: 53 },
    ]);
  });
  it("covers the whole lane without overlap", () => {
    const laid = strips(runs(calls([1, 14], [0, 7], [2, 31])), 52, 520, () => 1);
    expect(laid[0]!.at).toBe(0);
    for (let i = 1; i < laid.length; i++) expect(laid[i]!.at).toBeCloseTo(laid[i - 1]!.at + laid[i - 1]!.width, 12);
    expect(laid.at(-1)!.at + laid.at(-1)!.width).toBeCloseTo(1, 12);
  });
  it("letters only what has room for its code", () => {
    const all = runs(calls([1, 1], [2, 2], [3, 20]));
    expect(strips(all, 23, 23 * 8, () => 1).map((s) => s.lettered)).toEqual([false, true, true]);
    expect(strips(all, 23, 23 * 8, () => 2).map((s) => s.lettered)).toEqual([false, false, true]);
  });
  it("keeps its marks apart", () => {
    expect(marks(152, 980)[0]).toBe(10);
    expect(marks(152, 358)[0]).toBe(20);
    expect(marks(0, 358)).toEqual([]);
  });
  it("sums pieces only, not places that stay empty", () => {
    expect(asText(runs(calls([1, 22], [0, 7], [2, 6], [1, 3])), (c) => "-CK"[c]!)).toBe("C 22  - 7  K 6  C 3 = 31");
  });
});

describe("fives and tens", () => {
  it.each([0, 1, 5, 6, 10, 11, 22, 30])("%i pieces stay %i pieces", (n) => {
    expect(tens(n).flat().reduce((a, b) => a + b, 0)).toBe(n);
  });
  it("groups 22 as two tens and two", () => expect(tens(22)).toEqual([[5, 5], [5, 5], [2]]));
});
