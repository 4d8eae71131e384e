import { describe, expect, it } from "vitest";
import { bySection, fromRanges, gapAdvice, gapPlace, gravest, ranges } from "./built";

describe("what stands", () => {
  it("is told in ranges, whatever the order", () => {
    expect(ranges([9, 3, 7, 8, 8])).toBe("3,7-9");
    expect(ranges([])).toBe("");
    expect(fromRanges("3,7-9")).toEqual([3, 7, 8, 9]);
  });
  it("comes back as it was told", () => {
    for (const ids of [[], [0], [1, 2], [5, 6, 7, 20, 31, 32]]) expect(fromRanges(ranges(ids))).toEqual(ids);
  });
  it("is nothing when the browser kept something else", () => {
    for (const text of [null, "", "x", "3,", "9-7", "1-999999999"]) expect(fromRanges(text)).toEqual([]);
  });
  it("is listed by section", () => {
    const items = [{ id: 1, section: "B" }, { id: 2, section: "" }, { id: 3, section: "B" }];
    expect(bySection(items)).toEqual([{ section: "B", items: [items[0], items[2]] }, { section: "", items: [items[1]] }]);
  });
});

describe("safety gaps", () => {
  it("lie in the middle of their strokes", () => {
    expect(gapPlace({ strokes: [[[0, 0], [0, 10]], [[30, 0], [30, 10]]] })).toEqual([15, 5]);
    expect(gapPlace({ strokes: [] })).toBe(null);
    expect(gapPlace(undefined)).toBe(null);
  });
  it("are advised on only where they may not hold", () => {
    expect(gapAdvice({ holds: "surely", block: "none", needed: null })).toBe(null);
    expect(gapAdvice({ holds: "unsure", block: "none", needed: 120 })).toBe("needed");
    expect(gapAdvice({ holds: "not", block: "none", needed: null })).toBe("stop");
    expect(gapAdvice({ holds: "unsure", block: "fixed", needed: 120 })).toBe("closer");
    expect(gapAdvice({ holds: "not", block: "loose", needed: 120 })).toBe("loose");
  });
  it("come with the gravest first, else in their order", () => {
    const gaps = [{ holds: "surely", n: 1 }, { holds: "not", n: 2 }, { holds: "unsure", n: 3 }, { holds: "not", n: 4 }] as const;
    expect(gravest(gaps).map((g) => g.n)).toEqual([2, 4, 3, 1]);
  });
});
