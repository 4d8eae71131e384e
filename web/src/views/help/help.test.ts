import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { WORDS } from "../../i18n";
import { book as de } from "./de";
import { book as en } from "./en";
import { TOOLS } from "../../tools";
import { WISH } from "../../tools/drafts";
import { FIRST } from "../../tools/uses";
import { FIGURES, isFigure, isTopic, TOPICS, type Book, type FigureId, type Part } from "../../kernels/help";

/** The shape of a page: which parts, with how many points, and which figures. */
const shape = (parts: readonly Part[]) =>
  parts.map((part) => ("steps" in part ? ["steps", part.steps.length] : "list" in part ? ["list", part.list.length] : "figures" in part ? part.figures : Object.keys(part)));
const texts = (book: Book): string[] => [...JSON.stringify(book).matchAll(/"((?:[^"\\]|\\.)*)"/g)].map((m) => m[1]!);
/** Figures of a text, with a point for the decimal comma, without spaces between thousands. */
const numbers = (text: string) => (text.replace(/(\d)[ \u202f](?=\d{3})/g, "$1").match(/\d+([.,]\d+)?/g) ?? []).map((n) => Number(n.replace(",", "."))).sort((a, b) => a - b);

const file = (path: string) => readFileSync(join(import.meta.dirname, "../../../..", path), "utf8");

/** Figures of the program: where its code has each, and on which figure of help it must be said. */
const OF_THE_CODE: readonly [FigureId, "usual" | "source", string, RegExp][] = [
  ["piece", "usual", "crates/plan/src/stock.rs", /thickness: Length::mm\(([\d._]+)\),\s*width: Length::mm\(([\d._]+)\),\s*height: Length::mm\(([\d._]+)\),\s*mass: Mass::g\(([\d._]+)\)/],
  ["pitch", "usual", "crates/server/src/convert/change.rs", /USUAL_PITCH: \(f64, f64\) = \(([\d._]+),/],
  ["across", "usual", "crates/server/src/convert/change.rs", /USUAL_PITCH: \(f64, f64\) = \([\d._]+, ([\d._]+)\)/],
  ["across", "usual", "crates/findings/src/sides.rs", /LEAST: f64 = ([\d._]+);/],
  ["band", "usual", "crates/findings/src/spacing.rs", /LEAST: \[f64; 2\] = \[([\d._]+), ([\d._]+)\];/],
  ["band", "usual", "crates/findings/src/spacing.rs", /MOST: f64 = ([\d._]+);/],
  ["turn", "usual", "crates/findings/src/turn.rs", /SAFE: f64 = ([\d._]+);/],
  ["turn", "usual", "crates/findings/src/turn.rs", /MOST: f64 = ([\d._]+);/],
  ["step", "usual", "crates/findings/src/bridges.rs", /ALWAYS: f64 = ([\d._]+);/],
  ["step", "usual", "crates/fall/src/climb.rs", /and (\d+) mm with two or three on each step/],
  ["clearance", "usual", "crates/fall/src/room.rs", /LEAST: f64 = ([\d._]+);/],
  ["grip", "usual", "crates/plan/src/hall.rs", /Self \{ floor: \(([\d.]+), ([\d.]+)\), piece: \(([\d.]+), ([\d.]+)\) \}/],
  ["accidents", "usual", "crates/works/src/advice.rs", /f64::from\(pieces\) \/ ([\d._]+)\)/],
  ["hours", "usual", "crates/desk/src/pace.rs", /PIECES_AN_HOUR: \[f64; 2\] = \[([\d._]+), ([\d._]+)\];/],
  ["hours", "usual", "crates/desk/src/pace.rs", /SECONDS_A_CHANGE: \[f64; 2\] = \[([\d._]+), ([\d._]+)\];/],
  ["crates", "usual", "crates/desk/src/stock.rs", /USUAL_CRATE: u64 = ([\d._]+);/],
  ["alike", "usual", "crates/desk/src/report.rs", /ALIKE_BELOW: f64 = ([\d._]+);/],
  ["comb", "usual", "web/src/kernels/gear.ts", /TEETH = (\d+);[^]*comb: \{ is: "comb", pitch: (\d+),/],
  ["plank", "usual", "web/src/kernels/gear.ts", /length: (\d+), width: (\d+), thickness: (\d+) \}/],
  ["distance", "usual", "crates/plan/src/field.rs", /fn usual_distance\(\) -> Length \{\s*Length::m\(([\d._]+)\)/],
  ["reach", "usual", "crates/sheets/src/options.rs", /reach: Length::mm\(([\d._]+)\)/],
  ["across", "usual", "web/src/tools/uses.ts", /across: ([\d_]+),[^]*fieldAcross: ([\d_]+),/],
  ["across", "usual", "crates/exchange/src/text_plan/items/line.rs", /ACROSS: Length = Length::mm\(([\d._]+)\)/],
  ["pitch", "usual", "web/src/tools/uses.ts", /spacing: ([\d_]+),[^]*fieldAlong: ([\d_]+),/],
  ["ways", "usual", "crates/placement/src/feed_advice.rs", /poke: mm\(([\d.]+)\)[^]*vec!\[beside\(([\d.]+), ([\d.]+)\)[^]*vec!\[angled\(([\d.]+)\)[^]*vec!\[in_line\(([\d.]+), ([\d.]+)\)[^]*vec!\[echelon\(([\d.]+)\)/],
  ["ways", "usual", "web/src/views/plan/inspect/FeedForm.svelte", /turn: (\d+), gap: (\d+), poke: (\d+) [^]*turn: (\d+), poke: (\d+) [^]*turn: (\d+), clear: (\d+) [^]*turn: (\d+) /],
  ["bridge", "usual", "web/src/views/plan/inspect/LineForm.svelte", /from: (\d+), deck: (\d+), height: (\d+), thickness: (\d+), step: [\d.]+, per_step: (\d+)/],
  ["lanes", "usual", "web/src/tools/uses.ts", /lanes: (\d+),/],
  ["radius", "usual", "web/src/tools/uses.ts", /radius: (\d+),/],
  ["radius", "usual", "web/src/tools/spiral.ts", /INNER = (\d+);/],
  ["ring", "usual", "web/src/tools/uses.ts", /ring: (\d+),/],
  ["courses", "usual", "web/src/tools/uses.ts", /courses: (\d+),/],
  ["swing", "usual", "web/src/tools/uses.ts", /swing: (\d+),/],
  ["smoothing", "usual", "web/src/tools/freehand.ts", /BESIDE = (\d+);/],
  ["letters", "usual", "web/src/tools/uses.ts", /letters: (\d+),/],
  ["height", "usual", "web/src/tools/uses.ts", /partHeight: (\d+), surfaceHeight: (\d+), boxHeight: (\d+),/],
  ["sees", "usual", "web/src/tools/uses.ts", /sees: (\d+),/],
  ["push", "usual", "web/src/tools/uses.ts", /push: (\d+),/],
  ["gap", "usual", "web/src/tools/uses.ts", /gapCount: (\d+),/],
  ["gap", "source", "crates/fall/src/touch_hold.rs", /friction: ([\d.]+),[^]*?holds: \[([\d.]+),[^]*?friction: (0\.2), [^]*?holds: \[([\d.]+),/],
  ["stopper", "usual", "web/src/tools/uses.ts", /stopperThickness: (\d+), stopperWidth: (\d+), stopperHeight: (\d+),/],
  ["stopper", "source", "crates/fall/src/touch_hold.rs", /it held in all (\d+) runs/],
  ["rate", "usual", "web/src/views/fall/facts.svelte.ts", /this\.end > (\d+) \? (\d+) : this\.end > (\d+) \? (\d+) : ([\d.]+)\)/],
];

describe("help", () => {
  it.each(OF_THE_CODE)("says of %s (%s) what stands in %s", (figure, part, path, pattern) => {
    const found = pattern.exec(file(path));
    expect([path, found !== null]).toEqual([path, true]);
    for (const n of found!.slice(1).map((text) => Number(text.replaceAll("_", "")))) expect(numbers(en.figures[figure][part])).toContain(n);
  });
  it("says no other distance between lanes than the program has", () => {
    const had = OF_THE_CODE.filter(([id]) => id === "across").flatMap(([, , path, pattern]) => pattern.exec(file(path))!.slice(1).map((text) => Number(text.replaceAll("_", ""))));
    // What lies between lanes of 24 mm is said too.
    expect(numbers(en.figures.across.usual).filter((n) => !had.includes(n) && !had.includes(n + 24))).toEqual([]);
  });
  it("counts what follows from its figures", () => {
    // Clear are (k + 1) p - t of k pieces left out; pieces turn by p / r on an arc of radius r.
    const clear = (pieces: number) => (pieces + 1) * 15 - 7.5;
    expect(numbers(en.figures.gap.usual)).toContain(clear(FIRST.gapCount));
    const [least] = numbers(en.figures.gap.source).filter((n) => n > 100);
    const enough = [1, 2, 3, 4, 5, 6, 7, 8].find((n) => clear(n) >= least!)!;
    expect(numbers(en.figures.gap.source)).toContain(enough);
    for (const radius of [300, 100]) expect(numbers(en.figures.radius.source)).toContain(Math.round((1800 * 15) / Math.PI / radius) / 10);
    expect(numbers(en.figures.ring.source)).toContain(FIRST.ring - 24);
    expect(numbers(en.figures.comb.usual)).toContain(15 * 20);
    expect(numbers(en.figures.comb.source)).toContain(40 * 0.05);
    expect(Math.round((360 / Math.PI) * Math.atan(18 / 31))).toBe(60);
  });
  it("says what a field that is drawn aims for", () => {
    expect([WISH.goal, numbers(en.figures.distance.usual), numbers(en.figures.eye.usual)]).toEqual(["seen", [WISH.seen_from / 1000], [WISH.eye_height / 1000]]);
  });
  it("says of the fall's rules what the front page says", () => {
    const found = /([\d.]+) % of the (\d+ \d+) measured transfers are answered "unsure" and none is answered wrongly/.exec(file("README.md").replace(/[\u00a0\u202f]/g, " "));
    expect(found).not.toBeNull();
    const said = numbers(JSON.stringify(en.pages.fall));
    for (const n of found!.slice(1)) expect(said).toContain(Number(n.replace(" ", "")));
  });
  it("has every page and every figure in both languages, of one shape", () => {
    for (const topic of TOPICS) expect([topic, shape(de.pages[topic].parts)]).toEqual([topic, shape(en.pages[topic].parts)]);
    for (const book of [en, de]) {
      expect(Object.keys(book.pages)).toEqual([...TOPICS]);
      expect(Object.keys(book.figures)).toEqual([...FIGURES]);
    }
    for (const topic of TOPICS) expect(`topic.${topic}` in WORDS.en).toBe(true);
    for (const figure of FIGURES) expect(`figure.${figure}` in WORDS.en).toBe(true);
  });
  it("says the same figures in both languages", () => {
    for (const figure of FIGURES) {
      const [a, b] = [en.figures[figure], de.figures[figure]];
      expect([figure, numbers(b.usual)]).toEqual([figure, numbers(a.usual)]);
      expect([figure, numbers(b.source)]).toEqual([figure, numbers(a.source)]);
    }
  });
  it("explains every figure on its page, with a value and a source", () => {
    for (const book of [en, de]) {
      const shown = book.pages.figures.parts.flatMap((part) => ("figures" in part ? part.figures : []));
      expect([...shown].sort()).toEqual([...FIGURES].sort());
      for (const figure of Object.values(book.figures)) for (const text of [figure.what, figure.usual, figure.source]) expect(text.length).toBeGreaterThan(3);
    }
  });
  it.each([["en", en], ["de", de]] as const)("names every tool of the comb, with its key, on the page about drawing: %s", (language, book) => {
    const said = JSON.stringify(book.pages.draw);
    const missing = TOOLS.map((tool) => `"${WORDS[language][tool.words]} (${tool.key}): `).filter((named) => !said.includes(named));
    expect(missing).toEqual([]);
  });
  it("never shouts", () => {
    for (const text of [...texts(en), ...texts(de)]) expect(text).not.toMatch(/!/);
  });
  it("knows its addresses", () => {
    expect([isTopic("fall"), isTopic("nowhere"), isFigure("pitch"), isFigure(null)]).toEqual([true, false, true, false]);
  });
});
