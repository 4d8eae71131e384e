import { describe, expect, it } from "vitest";
import { kept } from "./same";

const told = () => ({
  name: "From Spring to Sea",
  saved: { change: 7, at: "" },
  floor_plan: { outline: [[0, 0], [9, 0], [9, 9]], parts: [] as object[] },
  items: [{ id: 1, x: 0, body: { is: "plain" } }, { id: 2, x: 5, body: { is: "plain" } }, { id: 5, x: 8, body: { is: "plain" } }],
  undo: null as string | null,
});

describe("what is told again", () => {
  it("is what was told before when all of it is alike", () => {
    const before = told();
    expect(kept(before, told())).toBe(before);
  });

  it("is kept in all parts but the one that changed", () => {
    const before = told();
    const now = told();
    now.items[1]!.x = 6;
    const got = kept(before, now);
    expect(got).toEqual({ ...told(), items: [told().items[0], { ...told().items[1], x: 6 }, told().items[2]] });
    expect([got === before, got.items === before.items, got.items[1] === before.items[1]]).toEqual([false, false, false]);
    expect([got.saved === before.saved, got.floor_plan === before.floor_plan, got.items[0] === before.items[0], got.items[2] === before.items[2], got.items[1]!.body === before.items[1]!.body]).toEqual([true, true, true, true, true]);
    // What was told before is left as it was.
    expect(before).toEqual(told());
  });

  it("finds rows by their ids when others came or went", () => {
    const before = told();
    const [fewer, more] = [told(), told()];
    fewer.items.splice(0, 1);
    more.items.unshift({ id: 9, x: 1, body: { is: "plain" } });
    expect(kept(before, fewer).items.map((i) => before.items.indexOf(i))).toEqual([1, 2]);
    expect(kept(before, more).items.map((i) => before.items.indexOf(i))).toEqual([-1, 0, 1, 2]);
  });

  it("is another order when rows changed places", () => {
    const before = told();
    const now = told();
    now.items.reverse();
    const got = kept(before, now);
    expect(got.items).not.toBe(before.items);
    expect(got.items.map((i) => before.items.indexOf(i))).toEqual([2, 1, 0]);
  });

  it.each([
    ["a part that came", {}, { a: undefined }],
    ["a part that went", { a: 1, b: 2 }, { a: 1 }],
    ["nothing for something", { a: { b: 1 } }, { a: null }],
    ["a list for a record", { a: {} }, { a: [] }],
    ["a shorter list", [1, 2], [1]],
    ["a number as text", { a: 1 }, { a: "1" }],
  ])("tells %s apart", (_, before, now) => {
    const got = kept<unknown>(before, now);
    expect(got).not.toBe(before);
    expect(got).toStrictEqual(now);
  });
});
