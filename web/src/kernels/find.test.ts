import { describe, expect, it } from "vitest";
import { fit, fold, nearlyBegins, parts, ranked, tokens } from "./find";

const names = (question: string, list: string[]) => ranked(question, list.map((name) => ({ name, others: [] })), 9).map((r) => r.of.name);

describe("finding", () => {
  it("does not mind accents and capital letters, and knows where each sign came from", () => {
    expect(fold("Füße").text).toBe("fusse");
    expect(fold("Füße").at).toEqual([0, 1, 2, 2, 3]);
    expect(fit(tokens("fusse"), { name: "Füße und Zoll", others: [] })?.marks).toEqual([[0, 4]]);
  });
  it("puts beginnings of words before parts of words", () => {
    expect(names("re", ["Undo more", "Picture", "Redo", "Open Read"])).toEqual(["Redo", "Open Read", "Picture", "Undo more"]);
  });
  it("wants every word, in any order", () => {
    expect(names("copy save", ["Save a copy", "Save", "Copy"])).toEqual(["Save a copy"]);
  });
  it("takes left-out letters and one wrong, missing, added or swapped one", () => {
    expect(names("tch", ["Touch map", "Chart"])).toEqual(["Touch map"]);
    for (const question of ["tuoch", "toch", "touuch", "toucj"]) expect([question, names(question, ["Touch map"])]).toEqual([question, ["Touch map"]]);
    expect(names("tablts", ["Table legs", "Tablets"])[0]).toBe("Tablets");
    expect(names("xyz", ["Touch map"])).toEqual([]);
  });
  it("finds by the other language, a little behind", () => {
    const undo = { name: "Undo", others: ["Rückgängig"] };
    const own = { name: "Rückgängig machen", others: [] };
    expect(ranked("ruckg", [undo, own], 9).map((r) => r.of)).toEqual([own, undo]);
    expect(fit(tokens("ruckg"), undo)?.marks).toEqual([]);
  });
  it("puts hints behind names", () => {
    const plan = { name: "Plan", others: [], hints: ["go to view"] };
    const town = { name: "Old town", others: [] };
    expect(ranked("vie", [plan, { name: "Old view", others: [] }], 9).map((r) => r.of.name)).toEqual(["Old view", "Plan"]);
    expect(ranked("to", [plan, town], 9).map((r) => r.of)).toEqual([town]);
  });
  it("gives everything, in the order of the list, for no question", () => {
    expect(names(" ", ["b", "a"])).toEqual(["b", "a"]);
  });
  it("cuts a name at what was hit", () => {
    expect(parts("Save a copy", [[0, 2], [7, 11]])).toEqual([
      { text: "Sa", hit: true }, { text: "ve a ", hit: false }, { text: "copy", hit: true },
    ]);
  });
  it("knows a beginning with one slip from another word", () => {
    expect(nearlyBegins("uodo", "undo")).toBe(true);
    expect(nearlyBegins("xxdo", "undo")).toBe(false);
  });
});
