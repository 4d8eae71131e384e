import { describe, expect, it } from "vitest";
import { WORDS } from "../../i18n";
import { book as de } from "./de";
import { book as en } from "./en";
import { FIGURES, isFigure, isTopic, TOPICS, type Book, type Part } from "../../kernels/help";

/** The shape of a page: which parts, with how many points, and which figures. */
const shape = (parts: readonly Part[]) =>
  parts.map((part) => ("steps" in part ? ["steps", part.steps.length] : "list" in part ? ["list", part.list.length] : "figures" in part ? part.figures : Object.keys(part)));
const texts = (book: Book): string[] => [...JSON.stringify(book).matchAll(/"((?:[^"\\]|\\.)*)"/g)].map((m) => m[1]!);
/** Figures of a text, with a point for the decimal comma, without spaces between thousands. */
const numbers = (text: string) => (text.replace(/(\d)[ \u202f](?=\d{3})/g, "$1").match(/\d+([.,]\d+)?/g) ?? []).map((n) => Number(n.replace(",", "."))).sort((a, b) => a - b);

describe("help", () => {
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
  it("never shouts", () => {
    for (const text of [...texts(en), ...texts(de)]) expect(text).not.toMatch(/!/);
  });
  it("knows its addresses", () => {
    expect([isTopic("fall"), isTopic("nowhere"), isFigure("pitch"), isFigure(null)]).toEqual([true, false, true, false]);
  });
});
