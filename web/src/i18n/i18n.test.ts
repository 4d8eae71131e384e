import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { fill, WORDS } from "./index";

const holes = (text: string) => [...text.matchAll(/\{(\w+)\}/g)].map((m) => m[1]).sort();

function sources(folder: string, named = /(?<!\.test)\.(svelte|ts)$/): string[] {
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) return sources(path, named);
    return named.test(entry.name) ? [readFileSync(path, "utf8")] : [];
  });
}

/** What the engine says: crate `sayings` has a constant for each of these, which the crates above it use. */
const GROUPS = "doing|feeding|found|gate|refusing|telling";
const SAID = new RegExp(`^(${GROUPS})\\.`);

describe("words", () => {
  it("are there in every language, under the same keys", () => expect(Object.keys(WORDS.de)).toEqual(Object.keys(WORDS.en)));
  it("have the same places for figures", () => {
    for (const [key, text] of Object.entries(WORDS.en)) expect([key, holes(WORDS.de[key as keyof typeof WORDS.en])]).toEqual([key, holes(text)]);
  });
  it("are never empty and never shout", () => {
    for (const text of [...Object.values(WORDS.en), ...Object.values(WORDS.de)]) expect(text).toMatch(/^[^!]+$/);
  });
  it("are all used somewhere", () => {
    const all = sources(join(import.meta.dirname, "..")).join("\n");
    const unused = Object.keys(WORDS.en).filter((key) => !SAID.test(key)).filter((key) => {
      const stem = key.replace(/\.(one|many)$/, "");
      const family = key.slice(0, key.lastIndexOf(".") + 1);
      return !all.includes(`"${key}"`) && !all.includes(`"${stem}"`) && !all.includes("`" + family + "${") && !/^(fall|eye)\.\w+\.(short|why)$/.test(key);
    });
    expect(unused).toEqual([]);
  });
  it("are all used by the engine, where it is what speaks", () => {
    const crates = join(import.meta.dirname, "../../../crates");
    const others = readdirSync(crates).filter((name) => name !== "sayings");
    const all = others.flatMap((name) => sources(join(crates, name, "src"), /\.rs$/)).join("\n");
    const used = new Set([...all.matchAll(new RegExp(`\\b(?:${GROUPS})::[A-Z0-9_]+`, "g"))].map((m) => m[0]));
    const constant = (key: string) => key.replace(/\.(one|many)$/, "").replace(".", "::").replace(/::.*/, (name) => name.toUpperCase().replace(/[.-]/g, "_"));
    const keys = Object.keys(WORDS.en).filter((key) => SAID.test(key));
    expect(keys.length).toBeGreaterThan(100);
    expect(keys.filter((key) => !used.has(constant(key)))).toEqual([]);
  });
  it("fill their places", () => {
    expect(fill("{n} of {all}", { n: 3, all: 4 })).toBe("3 of 4");
    expect(fill("{n} of {all}", { n: 3 })).toBe("3 of {all}");
  });
});
