import { describe, expect, it } from "vitest";
import type { Fall } from "../api/generated/Fall";
import { cellAspect, cellAt, pictureSize, spotAt, stroke } from "./grid";

const FALLS: readonly Fall[] = ["right", "up", "left", "down"];

describe("cells of a picture", () => {
  it.each(FALLS)("%s: every picture cell is a different piece", (fall) => {
    const g = { lanes: 3, ranks: 5, fall };
    const { columns, rows } = pictureSize(g);
    const seen = new Set<number>();
    for (let c = 0; c < columns; c++) for (let r = 0; r < rows; r++) seen.add(cellAt(g, c, r));
    expect([...seen].sort((a, b) => a - b)).toEqual(Array.from({ length: 15 }, (_, i) => i));
  });
  it.each(FALLS)("%s: rank 0 lies at the edge where the fall enters, lane 0 at its right hand", (fall) => {
    const g = { lanes: 3, ranks: 5, fall };
    const { columns, rows } = pictureSize(g);
    // The corner at the entry on the right hand of somebody who looks along the fall, top of the picture north.
    const corner = { right: [0, rows - 1], up: [columns - 1, rows - 1], left: [columns - 1, 0], down: [0, 0] }[fall];
    expect(spotAt(g, corner[0]!, corner[1]!)).toEqual([0, 0]);
  });
  it("has as many ranks as columns when the fall goes across", () => {
    expect(pictureSize({ lanes: 3, ranks: 5, fall: "left" })).toEqual({ columns: 5, rows: 3 });
    expect(pictureSize({ lanes: 3, ranks: 5, fall: "up" })).toEqual({ columns: 3, rows: 5 });
  });
  it("turns the shape of a cell with the fall", () => {
    expect(cellAspect("right", 15, 25)).toBe(0.6);
    expect(cellAspect("up", 15, 25)).toBeCloseTo(25 / 15);
  });
});

describe("strokes of the brush", () => {
  it("leave no gap however fast the pointer moved", () => {
    const cells = stroke([0, 0], [7, 3]);
    expect(cells[0]).toEqual([0, 0]);
    expect(cells.at(-1)).toEqual([7, 3]);
    for (let i = 1; i < cells.length; i++) {
      expect(Math.max(Math.abs(cells[i]![0] - cells[i - 1]![0]), Math.abs(cells[i]![1] - cells[i - 1]![1]))).toBe(1);
    }
  });
  it("of one point is one cell", () => expect(stroke([4, 4], [4, 4])).toEqual([[4, 4]]));
});
