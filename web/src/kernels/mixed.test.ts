import { describe, expect, it } from "vitest";
import { different, shareUnit, together } from "./mixed";

describe("values of several things", () => {
  it("are one when all agree, and what has none says nothing", () => {
    expect(together([25, 25, undefined, 25])).toEqual({ is: "same", value: 25 });
    expect(together([null, undefined])).toEqual({ is: "none" });
    expect(together([])).toEqual({ is: "none" });
    // Nought is a value.
    expect(together([0, 0])).toEqual({ is: "same", value: 0 });
  });
  it("are told each while they are few, rising, and by their ends when they are many", () => {
    expect(together([27, 25, 27])).toEqual({ is: "some", values: [25, 27] });
    expect(together([9, 10, 2])).toEqual({ is: "some", values: [2, 9, 10] });
    expect(together([4, 3, 2, 1])).toEqual({ is: "range", low: 1, high: 4 });
  });
  it("keep their order when they are not figures", () => expect(different(["b", "a", null, "b"])).toEqual(["b", "a"]));
  it("tell a common unit once", () => {
    expect(shareUnit(["25\u00a0mm", "27\u00a0mm"])).toEqual(["25", "27\u00a0mm"]);
    expect(shareUnit(["900 mm", "1.20 m"])).toEqual(["900 mm", "1.20 m"]);
    expect(shareUnit(["3 ft", "8 ft 2 in"])).toEqual(["3 ft", "8 ft 2 in"]);
    expect(shareUnit(["3", "4"])).toEqual(["3", "4"]);
  });
});
