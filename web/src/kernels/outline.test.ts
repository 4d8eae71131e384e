import { describe, expect, it } from "vitest";
import { between, idsOf, outlineRows, shown, type Listed } from "./outline";

const item = (id: number, name: string, section = "", group: number | null = null, sort = "line"): Listed => ({ id, name, section, group, sort });
const ITEMS = [item(1, "Line 10", "A"), item(2, "Line 9", "A"), item(3, "Mill", "B", 7, "field"), item(4, "Mill feed", "B", 7), item(5, "Brook"), item(6, "Alone", "B", 8)];
const words = (sort: string) => ({ field: "Field", line: "Line" })[sort] ?? sort;
const keys = (closed: string[] = [], question = "") => outlineRows(ITEMS, ["B", "A", "C"], new Set(closed), question, words).map((r) => r.key);

describe("the list of items", () => {
  it("goes by section, group and name, figures by their value", () => {
    expect(keys()).toEqual(["s B", "i 6", "g B 7", "i 3", "i 4", "s A", "i 2", "i 1", "s C", "s ", "i 5"]);
    const levels = outlineRows(ITEMS, ["B", "A", "C"], new Set(), "", words).map((r) => r.level);
    expect(levels).toEqual([1, 2, 2, 3, 3, 1, 2, 2, 1, 1, 2]);
  });
  it("leaves out what is closed", () => {
    expect(keys(["s A", "g B 7"])).toEqual(["s B", "i 6", "g B 7", "s A", "s C", "s ", "i 5"]);
  });
  it("finds by all words, in name, sort and section, and opens what is closed", () => {
    expect(keys(["s B", "g B 7"], "mill")).toEqual(["s B", "g B 7", "i 3", "i 4"]);
    expect(keys([], "field mill")).toEqual(["s B", "i 3"]);
    expect(keys([], "BRÒOK")).toEqual(["s ", "i 5"]);
    expect(keys([], "nowhere")).toEqual([]);
  });
  it("has each item once, whatever is asked", () => {
    const many = Array.from({ length: 500 }, (_, i) => item(i, `Line ${i % 40}`, `S${i % 7}`, i % 3 ? i % 11 : null));
    const ids = outlineRows(many, [], new Set(), "", words).filter((r) => r.is === "item").flatMap(idsOf);
    expect([...ids].sort((a, b) => a - b)).toEqual(many.map((i) => i.id));
  });
  it("gives all items between two rows, those of closed ones too", () => {
    const rows = outlineRows(ITEMS, ["B", "A"], new Set(["g B 7"]), "", words);
    expect(between(rows, "i 6", "i 2")).toEqual([6, 3, 4, 2]);
    expect(between(rows, "i 2", "i 6")).toEqual([6, 3, 4, 2]);
    expect(between(rows, "gone", "i 2")).toEqual([2]);
  });
  it("shows the rows of the window and few more", () => {
    expect(shown(5_000, 600, 30, 3_000, 8)).toEqual([92, 128]);
    expect(shown(5, 600, 30, 0, 8)).toEqual([0, 5]);
    expect(shown(0, 600, 30, 900, 8)).toEqual([0, 0]);
  });
});
