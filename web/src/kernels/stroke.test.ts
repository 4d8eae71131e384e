import { describe, expect, it } from "vitest";
import { strokeCost } from "./stroke";

const stock = [
  { kind: 1, colour: 1, needed: 90, wanted: 90, usable: 100 },
  { kind: 1, colour: 2, needed: 10, wanted: 10, usable: 100 },
];

describe("a stroke", () => {
  it("adds its pieces and hours, and says which colours get short", () => {
    const items = [{ id: null, pieces: 35, hours: [1, 2] as const, needs: [{ kind: 1, colour: 1, count: 20 }, { kind: 1, colour: 2, count: 15 }] }];
    expect(strokeCost(items, () => undefined, stock)).toEqual({
      pieces: 35, hours: [1, 2], takes: [{ kind: 1, colour: 1, count: 20 }, { kind: 1, colour: 2, count: 15 }], short: [{ kind: 1, colour: 1, by: 10 }],
    });
  });
  it("counts what several new items take together, and what nobody owns", () => {
    const one = { id: null, pieces: 6, hours: [0, 0] as const, needs: [{ kind: 1, colour: 1, count: 6 }] };
    const other = { id: null, pieces: 1, hours: [0, 0] as const, needs: [{ kind: 2, colour: 9, count: 1 }] };
    expect(strokeCost([one, one, other], () => undefined, stock).short).toEqual([{ kind: 1, colour: 1, by: 2 }, { kind: 2, colour: 9, by: 1 }]);
  });
  it("counts an item that is there already by its difference", () => {
    const items = [{ id: 4, pieces: 10, hours: [1, 1] as const, needs: [{ kind: 1, colour: 1, count: 10 }] }];
    const cost = strokeCost(items, () => ({ pieces: 12, hours: [1, 1.5] }), stock);
    expect(cost).toEqual({ pieces: -2, hours: [0, -0.5], takes: [], short: [] });
  });
});
