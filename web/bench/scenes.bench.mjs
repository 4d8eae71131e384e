/** Draws many pieces beside the plain way of the same library: `npm run bench:scenes [-- PIECES...]` in web/. */
import { createRequire } from "node:module";
import { mkdtempSync, readFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { build } from "vite";

const { chromium } = createRequire(import.meta.url)("playwright-core");
const outDir = mkdtempSync(join(tmpdir(), "standfast-bench-"));
await build({ configFile: false, logLevel: "error", build: { outDir, lib: { entry: join(import.meta.dirname, "scenes.ts"), formats: ["iife"], name: "scenes", fileName: () => "scenes.js" } } });
const browser = await chromium.launch({ executablePath: process.env.STANDFAST_CHROMIUM ?? "/usr/bin/chromium", args: ["--headless", "--no-sandbox", "--enable-unsafe-swiftshader"] });
const page = await (await browser.newContext({ viewport: { width: 1280, height: 720 } })).newPage();
page.on("pageerror", (error) => console.error(String(error)));
await page.addScriptTag({ content: readFileSync(join(outDir, "scenes.js"), "utf8") });
const wanted = process.argv.slice(2).map(Number);
console.log("scene    pieces     load ms   all ms  moved ms   near ms   plain ms   times   calls   bytes a piece");
for (const n of wanted.length ? wanted : [100_000, 1_000_000]) {
  for (const what of ["above", "space"]) {
    const m = await page.evaluate(([w, k]) => window.measure(w, k), [what, n]);
    const at = (v, wide) => v.toFixed(v < 10 ? 1 : 0).padStart(wide);
    console.log(`${what.padEnd(8)} ${String(n).padStart(8)} ${at(m.load, 9)} ${at(m.all, 8)} ${at(m.moved, 9)} ${at(m.near, 9)} ${at(m.plain, 10)} ${at(m.plain / m.all, 7)} ${String(m.calls).padStart(7)} ${(m.bytes / n).toFixed(1).padStart(15)}`);
  }
}
await browser.close();
