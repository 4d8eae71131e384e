import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import type { FindingRow } from "../api/generated/FindingRow";
import type { GearRow } from "../api/generated/GearRow";
import { FIRST } from "../tools/uses";
import { combsFor, FIRST_GEAR, GEAR, gearAddress, LIMITS, missingCombs, newGear, SLACK, TEETH } from "./gear";
import { parseRoute } from "./route";

const name = () => "Comb";
const comb = (pitch: number, count = 1): GearRow => ({ id: 1, name: "Comb", what: { is: "comb", pitch, teeth: 20 }, count, owner: "" });
const UNSAID = { key: "", args: {} };
const finding = (item: number | null, code = "comb-missing"): FindingRow => ({ code, severity: "should", item, place: "", at: null, message: "", hint: "", said: { place: UNSAID, message: UNSAID, hint: UNSAID }, mend: false });
const file = (path: string) => readFileSync(join(import.meta.dirname, "../../..", path), "utf8");

describe("gear", () => {
  it("for the pitches that new lines and fields begin with is one comb, and none where it is there", () => {
    const wanted = [FIRST.spacing, FIRST.fieldAlong];
    expect(combsFor(wanted, [], name)).toEqual([{ name: "Comb", what: { is: "comb", pitch: 15, teeth: TEETH }, count: 1, owner: "" }]);
    expect(combsFor(wanted, [comb(15.04)], name)).toEqual([]);
    // None left is none; one of another pitch does not help.
    expect(combsFor(wanted, [comb(15, 0), comb(15.06)], name)).toHaveLength(1);
    expect(combsFor([15, 20, 15], [], name).map((g) => g.what.is === "comb" && g.what.pitch)).toEqual([15, 20]);
  });
  it("begins within the limits, for the pitch that is wanted", () => {
    for (const is of GEAR) expect(newGear(is, null)).toBe(FIRST_GEAR[is]);
    expect(newGear("comb", 20)).toEqual({ is: "comb", pitch: 20, teeth: TEETH });
    expect(newGear("comb", 0.2)).toMatchObject({ pitch: 1 });
    expect(newGear("plank", 20)).toBe(FIRST_GEAR.plank);
  });
  it("has the limits of the gate and the slack of the check", () => {
    const gate = file("crates/plan/src/gate/check/stock.rs");
    const most = Number(/let most = ([\d_.]+);/.exec(gate)![1]!.replaceAll("_", ""));
    const of = (words: string) => {
      const found = new RegExp(`AT_${words.toUpperCase()}\\),[^;]*?, ([\\d._]+), ([\\d._e]+|most)\\)`).exec(gate.slice(gate.indexOf("fn gear")))!;
      return found.slice(1).map((n) => (n === "most" ? most : Number(n.replaceAll("_", ""))));
    };
    for (const words of ["pitch", "teeth", "length", "width", "thickness", "height", "count"] as const) expect([words, of(words)]).toEqual([words, [...LIMITS[words]]]);
    expect(gate).toMatch(/GearKind::Cord \{ length: l \} => length\(&place\.at\(gate::AT_LENGTH\), \*l, 1\.0, 1\.0e7\)/);
    expect([...LIMITS.cord]).toEqual([1, 1e7]);
    expect(Number(/SLACK_MM: f64 = ([\d.]+);/.exec(file("crates/findings/src/comb.rs"))![1])).toBe(SLACK);
  });
  it("that is missing is named by its pitch with all who want it", () => {
    const pitches = new Map([[1, 20], [2, 15.000000001], [3, 20], [4, 0]]);
    const found = [finding(1), finding(2), finding(3), finding(4), finding(5), finding(null), finding(1, "comb-stretched")];
    expect(missingCombs(found, (id) => pitches.get(id) ?? null)).toEqual([{ pitch: 15, items: [2] }, { pitch: 20, items: [1, 3] }]);
  });
  it("has addresses that lead back to it", () => {
    const at = (address: string) => parseRoute("/stock", address.split("?")[1] ?? "");
    expect(at(gearAddress())).toEqual({ view: "stock", colour: null, gear: { id: null, add: null, pitch: null } });
    expect(at(gearAddress({ id: 12 }))).toMatchObject({ gear: { id: 12, add: null } });
    expect(at(gearAddress({ add: "comb", pitch: 17.5 }))).toMatchObject({ gear: { id: null, add: "comb", pitch: 17.5 } });
    expect(at("/stock?part=gear&gear=-1&add=ladder&pitch=1e9")).toMatchObject({ gear: { id: null, add: null, pitch: null } });
    expect(at("/stock?add=comb")).toMatchObject({ gear: null });
  });
});
