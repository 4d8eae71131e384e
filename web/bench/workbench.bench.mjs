/** The workbench with large plans, as a planner feels it: `npm run bench:workbench [-- PIECES...]` in web/, with the release binary built. */
import { spawn } from "node:child_process";
import { createRequire } from "node:module";
import { mkdtempSync, writeFileSync, copyFileSync } from "node:fs";
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

const ended = (child) => new Promise((done) => child.once("exit", done));
const browser = await chromium.launch({ executablePath: process.env.STANDFAST_CHROMIUM ?? "/usr/bin/chromium", args: ["--headless", "--no-sandbox", "--enable-unsafe-swiftshader"] });
const middle = (all) => all.sort((a, b) => a - b)[Math.floor(all.length / 2)];
for (const n of process.argv.slice(2).map(Number).filter(Boolean).concat(process.argv.length > 2 ? [] : [100_000, 1_000_000])) {
  const folder = mkdtempSync(join(tmpdir(), "standfast-bench-"));
  writeFileSync(join(folder, "plan.toml"), plan(n));
  copyFileSync(join(import.meta.dirname, "../tests/data/run/stock.csv"), join(folder, "stock.csv"));
  const file = join(folder, "plan.standfast");
  const made = spawn(BINARY, ["new", file, "--from", join(folder, "plan.toml")], { stdio: "inherit" });
  if ((await ended(made)) !== 0) process.exit(1);
  const began = performance.now();
  const server = spawn(BINARY, ["open", file, "--no-browser", "--port", "0"]);
  const address = await new Promise((done) => {
    const hear = (data) => /http:\/\/[^\s]+:\d+/.exec(data.toString()) && done(/http:\/\/[^\s]+:\d+/.exec(data.toString())[0]);
    server.stdout.on("data", hear);
    server.stderr.on("data", hear);
  });
  const listens = performance.now() - began;
  const page = await (await browser.newContext({ viewport: { width: 1440, height: 900 }, reducedMotion: "reduce" })).newPage();
  const opened = performance.now();
  await page.goto(`${address}/plan`);
  await page.waitForSelector('.hallcount[data-pieces]:not([data-pieces=""]):not([data-pieces="0"])', { timeout: 120_000 });
  /** Milliseconds from an event until what it changed is drawn: the frame, and a pixel read back from the graphics. */
  const drawn = (act, times = 15) => page.evaluate(async ([how, times]) => {
    const floor = document.querySelector("[role=application]");
    const gl = [...document.querySelectorAll("canvas")].map((c) => c.getContext("webgl2")).find(Boolean);
    const pixel = new Uint8Array(4);
    const out = [];
    const box = floor.getBoundingClientRect();
    const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
    const send = (is, dx, buttons) => floor.dispatchEvent(new PointerEvent(is, { bubbles: true, pointerId: 1, pointerType: "mouse", isPrimary: true, button: is === "pointermove" ? -1 : 1, buttons, clientX: x + dx, clientY: y }));
    if (how === "pan") send("pointerdown", 0, 4);
    for (let i = 1; i <= times; i++) {
      const at = performance.now();
      if (how === "pan") send("pointermove", 3 * i, 4);
      else floor.dispatchEvent(new WheelEvent("wheel", { bubbles: true, cancelable: true, deltaY: i % 2 ? -100 : 100, clientX: x, clientY: y }));
      await new Promise((done) => setTimeout(() => requestAnimationFrame(done)));
      gl?.readPixels(0, 0, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, pixel);
      out.push(performance.now() - at);
    }
    if (how === "pan") send("pointerup", 3 * times, 0);
    return out;
  }, [act, times]);
  await drawn("wheel", 1);
  const open = performance.now() - opened;
  const pan = middle(await drawn("pan"));
  const zoom = middle(await drawn("wheel"));
  for (let i = 0; i < 6; i++) await page.getByRole("application").press("+");
  const near = middle(await drawn("pan"));
  const told = await page.evaluate(async () => {
    const headers = { "X-Standfast": "1", "Content-Type": "application/json" };
    const timed = async (call) => {
      const at = performance.now();
      const answer = await call();
      return [performance.now() - at, answer];
    };
    const out = { take: [], findings: [], pieces: [], fall: [] };
    await fetch("/api/fall/report").then((r) => r.json());
    for (let i = 0; i < 5; i++) {
      const by = [i % 2 ? -40 : 40, 0];
      const [take] = await timed(() => fetch("/api/do", { method: "POST", headers, body: JSON.stringify({ do: "arrange", items: [1000], how: { is: "move", by } }) }).then((r) => (r.ok ? r.json() : r.text().then((t) => Promise.reject(new Error(t))))));
      const [state] = await timed(() => fetch("/api/state").then((r) => r.json()));
      const [fall] = await timed(() => fetch("/api/fall/report").then((r) => r.json()));
      const [pieces] = await timed(() => fetch("/api/hall/pieces").then((r) => r.arrayBuffer()));
      out.take.push(take); out.findings.push(state); out.fall.push(fall); out.pieces.push(pieces);
    }
    return out;
  });
  const ms = (v) => `${v.toFixed(v < 10 ? 1 : 0)} ms`;
  console.log(`${n} pieces: listens after ${ms(listens)}; all pieces drawn ${ms(open)} after the page was asked for (with one more frame)`);
  console.log(`  from the pointer to the picture, moving the view: all in sight ${ms(pan)}, near ${ms(near)}, larger and smaller ${ms(zoom)} (up to 17 ms of it wait for the screen's next frame)`);
  console.log(`  a field moved: taken ${ms(middle(told.take))}, state with findings ${ms(middle(told.findings))}, fall again ${ms(middle(told.fall))}, all pieces again ${ms(middle(told.pieces))}`);
  server.kill();
  await page.context().close();
}
await browser.close();
