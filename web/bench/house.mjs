/** What the measurements of the workbench share: plans of any size, the binary that serves one, and a browser. */
import { spawn } from "node:child_process";
import { copyFileSync, mkdtempSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";

const { chromium } = createRequire(import.meta.url)("playwright-core");
const BINARY = process.env.STANDFAST_BIN ?? join(import.meta.dirname, "../../target/release/standfast");
const COLOURS = ["B", "S"];

/** Fields of 100 x 100 pieces, each fed by a start across all its lanes. */
function plan(n) {
  const fields = Math.round(n / 10_000);
  const wide = Math.ceil(Math.sqrt(fields));
  const out = ['format = 1\nname = "Many fields"\n[hall]\nname = "Larkmeadow Hall"\nfloor = "#8a7a62"', `outline = [["0 m","0 m"],["${wide * 3 + 2} m","0 m"],["${wide * 3 + 2} m","${wide * 4 + 2} m"],["0 m","${wide * 4 + 2} m"]]`];
  out.push('[[kind]]\nid = 100\nname = "Standard"\nthickness = "7.5 mm"\nwidth = "24 mm"\nheight = "48 mm"\nmass = "8.5 g"\nmaterial = "plastic"');
  for (let f = 0; f < fields; f++) {
    const [x, y] = [1 + 3 * (f % wide), 1 + 4 * Math.floor(f / wide)];
    const lanes = Array.from({ length: 100 }, (_, l) => `"${Array.from({ length: 20 }, (_, r) => `${COLOURS[(l + 3 * r + f) % 2]}5`).join(" ")}"`);
    out.push(`[[item]]\nid = ${1000 + 2 * f}\nis = "field"\nname = "Field ${f + 1}"\nat = ["${x} m","${y} m"]\nkind = "Standard"\nlanes = 100\nranks = 100\npitch_along = "15 mm"\npitch_across = "26 mm"\n[item.cells]\nlanes = [${lanes.join(",")}]`);
    out.push(`[[item]]\nid = ${1001 + 2 * f}\nis = "start"\nname = "Push ${f + 1}"\nat = ["${x - 0.02} m","${y + 1.287} m"]\nwidth = "2600 mm"`);
  }
  return out.join("\n");
}

/** A browser without a screen, its graphics drawn by software. */
export const launched = (...flags) => chromium.launch({ executablePath: process.env.STANDFAST_CHROMIUM ?? "/usr/bin/chromium", args: ["--headless", "--no-sandbox", "--enable-unsafe-swiftshader", ...flags] });

/** The one in the middle of some figures. */
export const middle = (all) => all.sort((a, b) => a - b)[Math.floor(all.length / 2)];

/** Serves a plan of so many pieces with a stock list; tells how long it took to listen, ms. */
export function served(n, stock) {
  const folder = mkdtempSync(join(tmpdir(), "standfast-bench-"));
  writeFileSync(join(folder, "plan.toml"), plan(n));
  copyFileSync(join(import.meta.dirname, stock), join(folder, "stock.csv"));
  return servedFrom(folder, ["--from", join(folder, "plan.toml")]);
}

/** Serves the example; tells the same. */
export const servedExample = () => servedFrom(mkdtempSync(join(tmpdir(), "standfast-bench-")), ["--example", "spring-to-sea"]);

async function servedFrom(folder, from) {
  const file = join(folder, "plan.standfast");
  const made = spawn(BINARY, ["new", file, ...from], { stdio: "inherit" });
  if ((await new Promise((done) => made.once("exit", done))) !== 0) process.exit(1);
  const began = performance.now();
  const server = spawn(BINARY, ["open", file, "--no-browser", "--port", "0"]);
  const address = await new Promise((done) => {
    const hear = (data) => /http:\/\/[^\s]+:\d+/.exec(data.toString()) && done(/http:\/\/[^\s]+:\d+/.exec(data.toString())[0]);
    server.stdout.on("data", hear);
    server.stderr.on("data", hear);
  });
  return { server, address, listens: performance.now() - began };
}
