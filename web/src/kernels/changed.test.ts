import { describe, expect, it } from "vitest";
import { Changed, samplesOf } from "./changed";

/** Four numbers a piece. */
const pieces = (...rows: [number, number, number, number][]) => Float32Array.from(rows.flat());

describe("what changed of many pieces", () => {
  it("is where a piece was and where it is", () => {
    const [before, after] = [pieces([0, 0, 0, 1], [100, 50, 0, 1], [900, 900, 0, 1]), pieces([0, 0, 0, 1], [140, 20, 0, 1], [900, 900, 0, 1])];
    const changed = new Changed();
    changed.places(before, after, [3, 3], 10);
    expect(changed.window).toEqual({ x0: 90, y0: 10, x1: 150, y1: 60 });
  });

  it("is nothing where nothing changed, and what lies beyond the pieces counts for nothing", () => {
    const changed = new Changed();
    changed.places(pieces([0, 0, 0, 1], [7, 7, 7, 7]), pieces([0, 0, 0, 1], [8, 8, 8, 8]), [1, 1], 10);
    expect(changed.window).toBeNull();
  });

  it.each([["heading", 2], ["size", 3]] as const)("sees another %s at the same place", (_, at) => {
    const [before, after] = [pieces([5, 6, 0, 1]), pieces([5, 6, 0, 1])];
    after[at] = 2;
    const changed = new Changed();
    changed.places(before, after, [1, 1], 1);
    expect(changed.window).toEqual({ x0: 4, y0: 5, x1: 6, y1: 7 });
  });

  it("sees pieces that came and that went", () => {
    const [few, many] = [pieces([0, 0, 0, 1]), pieces([0, 0, 0, 1], [30, 40, 0, 1])];
    const [came, went] = [new Changed(), new Changed()];
    came.places(few, many, [1, 2], 1);
    went.places(many, few, [2, 1], 1);
    expect(came.window).toEqual({ x0: 29, y0: 39, x1: 31, y1: 41 });
    expect(went.window).toEqual(came.window);
  });
});

describe("samples of a picture that a window touches", () => {
  const box = { x0: 1000, y0: 2000, x1: 3000, y1: 3000 };
  it("are those within it and two around", () => {
    expect(samplesOf({ x0: 1500, y0: 2250, x1: 1600, y1: 2300 }, box, 0.5)).toEqual([248, 123, 54, 29]);
  });
  it("never lie outside of the picture", () => {
    expect(samplesOf({ x0: 0, y0: 0, x1: 9000, y1: 9000 }, box, 0.5)).toEqual([0, 0, 1000, 500]);
    expect(samplesOf({ x0: 900, y0: 2900, x1: 1001, y1: 4000 }, box, 0.5)).toEqual([0, 448, 3, 52]);
  });
  it("are none where the window lies beside it", () => {
    expect(samplesOf({ x0: 0, y0: 0, x1: 900, y1: 900 }, box, 0.5)).toBeNull();
    expect(samplesOf({ x0: 3100, y0: 2100, x1: 3200, y1: 2200 }, box, 0.5)).toBeNull();
  });
});
