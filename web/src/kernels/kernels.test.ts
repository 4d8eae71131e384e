import { describe, expect, it } from "vitest";
import { shortBy, stands, stockBar, stockRow } from "./bars";
import { bandPolygon, cutX, evenCuts, fit, LEAN_TAN, moveCut } from "./bands";
import { BEARING, EYE_SIDES, eyeSide } from "./eye";
import { level } from "./level";
import { middle, toggled } from "./price";
import { back, next, sameCalls, step } from "./reading";
import { parseRoute, readAddress, readingOf } from "./route";
import { sheetsQuery } from "./sheets";
import { contrast, DIM, ink, luminance, packed, rgb } from "./swatch";

describe("leaning bands", () => {
  it("lean as a piece rests on its neighbour: asin(15/48)", () => {
    // A 48 mm piece touches a neighbour 15 mm away when it has tipped by asin(15/48); the tokens round it to 18 degrees.
    expect(Math.atan(LEAN_TAN)).toBeCloseTo((18 * Math.PI) / 180, 3);
    expect(Math.asin(15 / 48)).toBeCloseTo((18 * Math.PI) / 180, 2);
  });
  it("meet without a gap", () => {
    const right = bandPolygon(null, 0.5, 400, 200).split(", ").slice(1, 3);
    const left = bandPolygon(0.5, null, 400, 200).replace("polygon(", "").replace(")", "").split(", ");
    expect(right[0]).toBe(left[0]);
    expect(right[1]).toBe(left[3]);
  });
  it("cross the middle of the box at their share", () => expect(cutX(0.3, 100, 400, 200)).toBe(120));
  it("never pass each other", () => {
    expect(moveCut([0.2, 0.5, 0.8], 1, 0.95)[1]).toBeCloseTo(0.76);
    expect(moveCut([0.2, 0.5, 0.8], 1, 0.1)[1]).toBeCloseTo(0.24);
    expect(moveCut([0.2, 0.5, 0.8], 0, -3)[0]).toBe(0);
    expect(moveCut([0.2, 0.5, 0.8], 2, 3)[2]).toBe(1);
  });
  it("begin evenly", () => expect(evenCuts(4)).toEqual([0.25, 0.5, 0.75]));
  it("fit the room in both directions", () => {
    expect(fit(2, 400, 400)).toEqual({ width: 400, height: 200 });
    expect(fit(0.5, 400, 400)).toEqual({ width: 200, height: 400 });
    expect(fit(2, 0, 0)).toEqual({ width: 0, height: 0 });
  });
});

describe("what is drawn at which size", () => {
  it("follows the table of sizes", () => expect([2, 5, 9, 20, 50].map((px) => level(px))).toEqual(["colour", "cell", "runs", "pieces", "edges"]));
  it("does not flicker at an edge", () => {
    expect(level(16.5, "runs")).toBe("runs");
    expect(level(17.7, "runs")).toBe("pieces");
    expect(level(15, "pieces")).toBe("pieces");
    expect(level(14.3, "pieces")).toBe("runs");
  });
});

describe("the side of the eye", () => {
  it("comes back from its bearing", () => {
    for (const side of EYE_SIDES) expect(eyeSide(BEARING[side])).toBe(side);
  });
  it("is the nearest of four", () => expect([-10, 44, 46, 134, 200, 316].map(eyeSide)).toEqual(["far", "far", "left", "left", "entry", "far"]));
});

describe("stock bars", () => {
  const row = (needed: number, wanted: number, usable: number) => ({ needed, wanted, usable });
  it("fill to what is needed", () => expect(stockBar(row(25, 30, 100))).toEqual({ fill: 0.25, over: 0 }));
  it("show even one missing piece", () => expect(stockBar(row(10001, 0, 10000)).over).toBeGreaterThanOrEqual(0.2));
  it("are short when the pictures would take more, though what lies is within the stock", () => {
    expect(shortBy(row(2619, 3124, 2619))).toBe(505);
    // What is short of the best pictures is told apart from what is left as it is laid.
    expect(stands(row(180, 1449, 829))).toEqual({ is: "wish", left: 649, short: 620 });
    expect(stands(row(900, 1449, 829))).toEqual({ is: "short", left: 0, short: 71 });
    expect(stands(row(180, 200, 829))).toEqual({ is: "enough", left: 649, short: 0 });
    expect(stockBar(row(0, 3124, 2619))).toEqual({ fill: 0, over: 0.2 });
    expect(stockRow(row(0, 50, 40), 100)).toEqual({ needed: 0, wanted: 0.5, usable: 0.4 });
  });
  it("bear an empty stock", () => {
    expect(stockBar(row(0, 0, 0))).toEqual({ fill: 0, over: 0 });
    expect(stockBar(row(5, 0, 0))).toEqual({ fill: 1, over: 1 });
    expect(stockRow(row(5, 0, 0), 0)).toEqual({ needed: 0, wanted: 0, usable: 0 });
  });
});

describe("ink on a swatch", () => {
  it("packs a colour as its number, dimmed by a share", () => expect([packed("#1c2c5f"), packed("#ff8040", 0.5), packed("none")]).toEqual([0x1c2c5f, 0x804020, 0]));
  // Formula of WCAG 2.2; black on white is 21 : 1 by its definition.
  it("measures as WCAG does", () => expect(contrast(luminance(rgb("#ffffff")), luminance(rgb("#000000")))).toBeCloseTo(21, 9));
  it("is always the better of the two", () => {
    for (let n = 0; n < 0xffffff; n += 4099) {
      const hex = `#${n.toString(16).padStart(6, "0")}`;
      const ground = luminance(rgb(hex));
      expect(contrast(luminance(rgb(ink(hex, false))), ground)).toBeGreaterThanOrEqual(4.5);
      const dim = luminance(rgb(hex).map((v) => v * DIM) as [number, number, number]);
      expect(contrast(luminance(rgb(ink(hex, true))), dim)).toBeGreaterThanOrEqual(3.8);
    }
  });
});

describe("colours allowed", () => {
  it("go and come back", () => {
    expect(toggled(null, 2, [1, 2, 3])).toEqual([1, 3]);
    expect(toggled([1, 3], 2, [1, 2, 3])).toBeNull();
  });
  it("are never none", () => {
    expect(toggled([2], 2, [1, 2, 3])).toEqual([2]);
    expect(toggled(null, 1, [1])).toBeNull();
  });
  it("have a middle price", () => expect(middle([31, 47])).toBe(39));
});

describe("steps of the reading page", () => {
  it("go through a lane, rest at its end, and go on", () => {
    expect(next({ unit: 1, call: 0 }, 2, 3)).toEqual({ unit: 1, call: 1 });
    expect(next({ unit: 1, call: 1 }, 2, 3)).toEqual({ unit: 1, call: 2 });
    expect(next({ unit: 1, call: 2 }, 2, 3)).toEqual({ unit: 2, call: 0 });
    expect(next({ unit: 3, call: 2 }, 2, 3)).toBeNull();
  });
  it("go back the way they came", () => {
    expect(back({ unit: 2, call: 0 }, () => 5)).toEqual({ unit: 1, call: 5 });
    expect(back({ unit: 2, call: 3 }, () => 5)).toEqual({ unit: 2, call: 2 });
    expect(back({ unit: 1, call: 0 }, () => 5)).toBeNull();
  });
  it("obey pedals and keys", () => {
    expect([" ", "ArrowRight", "Enter", "PageDown"].map(step)).toEqual(["next", "next", "next", "next"]);
    expect(["ArrowLeft", "PageUp", "a"].map(step)).toEqual(["back", "back", null]);
  });
  it("notice a lane that changed", () => {
    const call = { colour: 1, count: 3, laid: 3, from: 1 };
    expect(sameCalls([call], [{ ...call }])).toBe(true);
    expect(sameCalls([call], [{ ...call, count: 4 }])).toBe(false);
    expect(sameCalls([call], [])).toBe(false);
  });
});

describe("addresses", () => {
  it("lead back to the same lane and call", () => {
    const reading = { side: "mirrored", from: "west", unit: "rank" } as const;
    const [path = "", query = ""] = readAddress(4, 47, 6, reading).split("?");
    expect(parseRoute(path, query)).toEqual({ view: "read", item: 4, unitNumber: 47, call: 6, ...reading });
  });
  it("know the fall, and the place and the finding of a plan", () => {
    expect(parseRoute("/plan", "at=-120,4500&finding=3")).toEqual({ view: "plan", at: [-120, 4_500], finding: 3 });
    expect(parseRoute("/fall", "")).toEqual({ view: "fall" });
  });
  it("bear nonsense", () => {
    expect(parseRoute("/read/x/y", "call=abc&from=up")).toEqual({ view: "read-choose" });
    expect(parseRoute("/plan", "at=12,b&finding=-1")).toEqual({ view: "plan", at: null, finding: null });
    expect(parseRoute("/nowhere", "")).toEqual({ view: "picture", item: null });
    expect(parseRoute("/read/4/0", "call=-9")).toMatchObject({ unitNumber: 1, call: 0 });
    expect(parseRoute("/stock", "colour=x")).toEqual({ view: "stock", colour: null, gear: null });
    expect(readingOf(new URLSearchParams("side=inside"))).toEqual({ side: "drawn", from: "south", unit: "lane" });
  });
});

describe("the query for sheets", () => {
  it("names every choice", () => {
    const wish = { fields: null, lang: "de", side: "drawn", from: "east", unit: "rank", paper: "a3", grey: true, reach: 609.6 } as const;
    expect(sheetsQuery(wish, [1, 2])).toBe("fields=1,2&lang=de&side=drawn&from=east&unit=rank&paper=a3&grey=1&reach=610");
  });
});
