import { describe, expect, it } from "vitest";
import { length, parseLength, parseNumber, size, taped, trimmed } from "./units";

const plain = (text: string) => text.replace(/[\u202f\u00a0]/g, " ");

describe("lengths as typed", () => {
  // One inch is 25.4 mm and one foot 304.8 mm exactly (international yard and pound agreement, 1959).
  it.each([
    ["15", 15],
    ["2.4 m", 2400],
    ["2,4m", 2400],
    ["240 cm", 2400],
    ["8ft 2in", 8 * 304.8 + 2 * 25.4],
    ["8' 2\"", 8 * 304.8 + 2 * 25.4],
    ["3m+20cm", 3200],
    ["3 m - 20 cm", 2800],
    ["7 390", 7390],
    ["7\u202f390 mm", 7390],
    [".5 in", 12.7],
    ["1/2in", 12.7],
    ["5 1/4\"", 5.25 * 25.4],
    ["8ft 2 1/2in", 8 * 304.8 + 2.5 * 25.4],
    ["\u221250.03", -50.03],
  ])("%s is %f mm", (text, mm) => expect(parseLength(text)).toBeCloseTo(mm, 9));
  it.each(["", "abc", "2.4.1", "5 miles", "m", "1e3", "--2", "1/", "1/0", "0/0", "1/2/3", "1 2"])("%s is refused", (text) => expect(parseLength(text)).toBeNull());
  it("gives a bare figure the unit of the field", () => expect(parseLength("6", 1000)).toBe(6000));
  it("reads back what it writes, metric", () => {
    for (const mm of [7.5, 15, 999, 1000, 4320, 26780]) expect(parseLength(length(mm, "metric", "en"))).toBeCloseTo(mm, 6);
    expect(parseLength(length(4320, "metric", "de"))).toBeCloseTo(4320, 6);
  });
  it("reads back what it writes, imperial, to a tenth of an inch", () => {
    for (const mm of [15, 304.8, 2489.2, 8000]) {
      expect(Math.abs((parseLength(length(mm, "imperial", "en")) ?? 0) - mm)).toBeLessThanOrEqual(1.28);
    }
  });
});

describe("lengths as shown", () => {
  it("turns to metres at a thousand", () => {
    expect(plain(length(15, "metric", "en"))).toBe("15 mm");
    expect(plain(length(7.5, "metric", "de"))).toBe("7,5 mm");
    expect(plain(length(2400, "metric", "en"))).toBe("2.40 m");
  });
  it("never shows twelve inches", () => {
    expect(plain(length(609.5, "imperial", "en"))).toBe("2 ft");
    expect(plain(length(2489.2, "imperial", "en"))).toBe("8 ft 2 in");
    expect(plain(length(15, "imperial", "en"))).toBe("0.59 in");
  });
  it("shares the unit of a size", () => expect(plain(size([4320, 2600], "metric", "en"))).toBe("4.32 × 2.60 m"));
  it("drops noughts at the end, but not those of tens", () => {
    expect(trimmed(7.5, 2, "en")).toBe("7.5");
    expect(trimmed(120, 2, "en")).toBe("120");
    expect(trimmed(120, 0, "en")).toBe("120");
  });
});

describe("lengths as taped", () => {
  // 18 003 mm are 708.7795 in, 59 ft and 0.78 in; two millimetres less are 0.70 in (one inch is 25.4 mm exactly).
  it.each([
    [18_003, "metric", "18 003 mm"],
    [18_001, "metric", "18 001 mm"],
    [0.34, "metric", "0.3 mm"],
    [18_003, "imperial", "59 ft 0.78 in"],
    [18_001, "imperial", "59 ft 0.7 in"],
    [0.3, "imperial", "0.012 in"],
    [304.79, "imperial", "1 ft"],
    [-18_003, "imperial", "−59 ft 0.78 in"],
  ] as const)("%d %s is %s", (mm, system, text) => expect(plain(taped(mm, system, "en"))).toBe(text));
});

describe("numbers as typed", () => {
  it.each([["0.35", 0.35], ["0,35", 0.35], ["12 000", 12000], ["\u22124", -4]])("%s", (text, n) => expect(parseNumber(text)).toBe(n));
  it.each(["", "1e5", "abc", "-", "1.2.3"])("%s is refused", (text) => expect(parseNumber(text)).toBeNull());
});
