import { describe, expect, it } from "vitest";
import { onLines } from "./rows";

describe("spans on few lines", () => {
  it("go to the first line with room, those first that come first in the list", () => {
    expect(onLines([[0, 50], [40, 90], [50, 80], [10, 20]], 2)).toEqual([0, 1, 0, 1]);
    // The second one of one line has no room, and what comes later and is free of it has.
    expect(onLines([[0, 50], [40, 90], [60, 80]], 1)).toEqual([0, null, 0]);
  });
  it("have no line where there is none", () => expect(onLines([[0, 1]], 0)).toEqual([null]));
});
