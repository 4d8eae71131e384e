import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import type { Change } from "../api/generated/Change";
import type { ItemDraft } from "../api/generated/ItemDraft";
import type { ItemRow } from "../api/generated/ItemRow";
import { KNOWN, draftLeft, elsewhere, last, left as leftBy, leftWithIds, orphan, strokesOf, withIds, withLeft } from "./waiting";

const row = (id: number, x: number, y: number): ItemRow => ({
  id, name: `Item ${id}`, section: "", surface: 0, locked: false, group: null, pieces: 4, x, y, heading: 0, hours: [0, 0], sort: "line",
  outline: [[x, y], [x + 100, y], [x + 100, y + 20], [x, y + 20]], pitch: [15, 0],
  ports: [{ name: "end", enters: false, at: [x + 100, y + 10], heading: 0, width: 24 }], gaps: [], body: { is: "plain" },
});
const draft = (id: number | null, x: number, y: number): ItemDraft => ({
  id, name: "Brook", section: null, surface: 0, x, y, heading: 90, built: null, gaps: [], locked: false, group: null, cells_from: null,
  body: {
    is: "line", kind: 1, lanes: 1, pitch_across: 26, spacing: { by: "pitch", mm: 15 }, placed: "comb", path: [{ is: "straight", length: 300 }],
    from: null, to: null, colours: { is: "plain", colour: 1 }, bridges: [],
  },
});
const rows = [row(1, 0, 0), row(2, 500, 0)];
const known = new Map(rows.map((r) => [r.id, r]));
const left = (change: Change, of: ReadonlyMap<number, ItemRow>) => leftBy(change, of, () => -7);

describe("what changes leave that the plan does not tell of yet", () => {
  it("is an item at another place, with its outline and its ports", () => {
    const [one] = left({ do: "arrange", items: [1], how: { is: "move", by: [30, -10] } }, known);
    expect(one!.row).toMatchObject({ x: 30, y: -10, outline: [[30, -10], [130, -10], [130, 10], [30, 10]], ports: [{ at: [130, 0] }] });
    expect(one!.strokes[0]!.points).toEqual(one!.row!.outline);
    // A quarter turn about the datum takes (500, 0) to (0, 500), and east to north.
    const [turned] = left({ do: "arrange", items: [2], how: { is: "turn", about: [0, 0], by: 90 } }, known);
    expect(turned!.row).toMatchObject({ x: 0, y: 500, heading: 90 });
    expect(turned!.row!.outline[1]!.map(Math.round)).toEqual([0, 600]);
  });
  it("adds up: a move of what waits starts where the last one leaves it", () => {
    const first = left({ do: "arrange", items: [1], how: { is: "move", by: [30, 0] } }, known);
    const then = withLeft(rows, first);
    const second = left({ do: "arrange", items: [1], how: { is: "move", by: [5, 7] } }, new Map(then.map((r) => [r.id, r])));
    expect(withLeft(rows, last([...first, ...second]))[0]).toMatchObject({ x: 35, y: 7 });
  });
  it("is nothing of what is taken away, and of what is new an item of this page's own number", () => {
    const gone = left({ do: "take", items: [2] }, known);
    expect(withLeft(rows, gone).map((r) => r.id)).toEqual([1]);
    expect(gone[0]!.strokes).toEqual([]);
    const made = left({ do: "put", items: [draft(null, 10, 20)], label: "Draw" }, known);
    expect(withLeft(rows, made).map((r) => r.id)).toEqual([1, 2, -7]);
    // 300 mm to the north.
    const { points, closed } = made[0]!.strokes[0]!;
    expect([closed, points[0], points.at(-1)!.map(Math.round)]).toEqual([false, [10, 20], [10, 320]]);
  });
  it("leaves an item whole for whoever changes it next", () => {
    const told = draft(1, 0, 0);
    const move = left({ do: "arrange", items: [1], how: { is: "move", by: [30, 0] } }, known);
    expect(draftLeft(1, told, move)).toEqual({ ...told, x: 30, name: "Item 1", heading: 0 });
    expect(draftLeft(2, undefined, move)).toBeUndefined();
    expect(draftLeft(1, told, left({ do: "take", items: [1] }, known))).toBeUndefined();
    const put = { ...told, x: 70 };
    expect(draftLeft(1, told, [...move, ...left({ do: "put", items: [put], label: "" }, known)])).toEqual(put);
  });
  it("makes a new item one that is moved, put anew and taken away like any other", () => {
    const made = left({ do: "put", items: [draft(null, 10, 20)], label: "Draw" }, known);
    const after = (all: typeof made) => new Map(withLeft(rows, last(all)).map((r) => [r.id, r]));
    const moved = [...made, ...left({ do: "arrange", items: [-7], how: { is: "move", by: [5, 0] } }, after(made))];
    expect(after(moved).get(-7)).toMatchObject({ name: "Brook", x: 15, y: 20, sort: "line" });
    expect(draftLeft(-7, undefined, moved)).toMatchObject({ id: -7, x: 15, y: 20, body: { is: "line" } });
    const gone = [...moved, ...left({ do: "take", items: [-7] }, after(moved))];
    expect([...after(gone).keys()]).toEqual([1, 2]);
    expect(draftLeft(-7, undefined, gone)).toBeUndefined();
  });
  it("is sent by the ids that the plan gave, and not at all where it gave none", () => {
    const given = new Map([[-7, 31]]);
    expect(withIds({ do: "arrange", items: [2, -7], how: { is: "group" } }, given)).toMatchObject({ items: [2, 31] });
    expect(withIds({ do: "place", item: -7, name: "Brook", x: 0, y: 0, heading: 0 }, given)).toMatchObject({ item: 31 });
    const tied = draft(null, 0, 0);
    tied.body = { ...tied.body, from: { item: -7, port: "end" }, to: { item: 0, port: "start", sent: true } } as ItemDraft["body"];
    const put: Change = { do: "put", items: [tied, draft(-7, 1, 1)], label: "" };
    expect(withIds(put, given)).toMatchObject({ items: [{ id: null, body: { from: { item: 31 }, to: { item: 0, sent: true } } }, { id: 31 }] });
    expect([orphan(put), orphan(withIds(put, given)), orphan({ do: "rename", name: "Hall" })]).toEqual([true, false, false]);
    const made = left({ do: "put", items: [draft(null, 10, 20)], label: "Draw" }, known);
    expect(leftWithIds(made, given)[0]).toMatchObject({ id: 31, row: { id: 31 }, draft: { id: 31 } });
  });
  it("leaves no piece where an item stood that was moved, made anew or taken away, and all of one that was locked", () => {
    const at = (change: Change) => [...elsewhere(rows, left(change, known))];
    expect(at({ do: "arrange", items: [1], how: { is: "move", by: [30, 0] } })).toEqual([1]);
    expect(at({ do: "arrange", items: [1], how: { is: "lock" } })).toEqual([]);
    expect(at({ do: "take", items: [2] })).toEqual([2]);
    expect(at({ do: "put", items: [draft(null, 0, 0), { ...draft(2, 500, 0), heading: 0 }], label: "" })).toEqual([2]);
  });
  it("is empty for what it cannot know", () => {
    expect(left({ do: "arrange", items: [1], how: { is: "distribute", along: "x" } }, known)).toEqual([]);
    expect(left({ do: "rename", name: "Hall" }, known)).toEqual([]);
    expect(left({ do: "take", items: [9] }, known)).toEqual([]);
  });
  it("draws a field by the edges of its cells", () => {
    const field = { ...draft(null, 0, 0), heading: 0 };
    field.body = { is: "field", lanes: 2, ranks: 3, pitch_along: 15, pitch_across: 26 } as ItemDraft["body"];
    // Three ranks of 15 mm along, two lanes of 26 mm across, from half a cell before the first piece.
    expect(strokesOf(field)[0]!.points).toEqual([[-7.5, -13], [37.5, -13], [37.5, 39], [-7.5, 39]]);
  });
});

it("what was sent is sent again for no longer than the server knows its key", () => {
  const source = readFileSync(join(import.meta.dirname, "../../../crates/store/src/once.rs"), "utf8");
  const kept = Number(/const KEPT: u64 = ([\d_]+);/.exec(source)![1]!.replaceAll("_", ""));
  expect(KNOWN).toBeLessThanOrEqual(kept);
  expect(KNOWN).toBeGreaterThan(1000);
});
