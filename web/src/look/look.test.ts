import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { contrast, luminance, rgb } from "../kernels/swatch";

const css = readFileSync(join(import.meta.dirname, "tokens.css"), "utf8");

function roles(look: string): Map<string, string> {
  const from = css.indexOf(`[data-look="${look}"] {`);
  const block = css.slice(from, css.indexOf("}", from));
  return new Map([...block.matchAll(/--([\w-]+): (#[0-9a-f]{6})/g)].map((m) => [m[1]!, m[2]!]));
}

// Limits of WCAG 2.2: 4.5 for text (1.4.3), 3 for edges of controls and focus (1.4.11).
const TEXT: readonly [string, string][] = [
  ["text", "panel"], ["text", "floor"], ["text", "panel-3"], ["text-2", "panel"], ["text-2", "panel-3"], ["text-2", "floor"],
  ["text-3", "panel"], ["text-3", "floor"], ["tape-ink", "panel"], ["tape-ink", "tape-wash"], ["on-tape", "tape"], ["must", "panel"],
  ["must", "must-wash"], ["must", "floor"], ["on-must", "must-fill"], ["should", "panel"], ["should", "should-wash"], ["ok", "panel"], ["floor", "text"],
];
const EDGES: readonly [string, string][] = [["edge", "panel"], ["edge", "panel-2"], ["focus", "panel"], ["focus", "floor"]];

describe.each(["dark", "light", "hall"])("the %s look", (look) => {
  const has = roles(look);
  const measured = ([a, b]: readonly [string, string]) => contrast(luminance(rgb(has.get(a)!)), luminance(rgb(has.get(b)!)));
  it.each(TEXT)("%s on %s reads", (a, b) => expect(measured([a, b])).toBeGreaterThanOrEqual(4.5));
  it.each(EDGES)("%s on %s shows", (a, b) => expect(measured([a, b])).toBeGreaterThanOrEqual(3));
});

function sources(folder: string): [string, string][] {
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry): [string, string][] => {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) return sources(path);
    return entry.name.endsWith(".svelte") ? [[path, readFileSync(path, "utf8")]] : [];
  });
}

describe("the page's policy", () => {
  it("meets no style in the markup, which it would forbid", () => {
    for (const [path, text] of sources(join(import.meta.dirname, ".."))) {
      expect([path, /\sstyle=/.test(text) || /<style/.test(text) || /\s(transition|animate|in|out):[a-z]/.test(text)]).toEqual([path, false]);
    }
  });
});
