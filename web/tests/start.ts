/** Starts a server and a browser for the tests: the real binary, or the stand-in when STANDFAST_FAKE is set. */
import { spawn, type ChildProcess } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { readFileSync } from "node:fs";
import { chromium, type Browser, type Page } from "playwright-core";

const WEB = resolve(import.meta.dirname, "..");
/**
 * What a browser without a window does not need: the pages of its own address bar cost more processor time than ours.
 * The first names are those that the driver turns off; a second list replaces the first.
 */
const NOT_NEEDED =
  "AvoidUnnecessaryBeforeUnloadCheckSync,DestroyProfileOnBrowserClose,HttpsUpgrades,HttpsFirstBalancedModeAutoEnable,LensOverlay,MediaRouter,PaintHolding,ThirdPartyStoragePartitioning," +
  "AvoidCorsURLLoaderRestartOnRedirect,OptimizationHints,NetworkTimeServiceQuerying,AimEnabled,PreconnectToSearch,WebUIOmniboxPopup,WebUIOmniboxAimPopup,WebUIOmniboxFullPopup";
const FLAGS =
  `--headless --no-sandbox --enable-unsafe-swiftshader --disable-quic --no-first-run --disable-background-networking --disable-component-update --disable-sync --disable-features=${NOT_NEEDED}`;

export const FAKE = process.env.STANDFAST_FAKE === "1";
const BINARY = process.env.STANDFAST_BIN ?? join(WEB, "../target/debug/standfast");

export interface Running {
  address: string;
  stop: () => Promise<void>;
}

function ended(child: ChildProcess): Promise<void> {
  return new Promise((done) => {
    if (child.exitCode !== null || child.signalCode !== null) done();
    else child.once("exit", () => done());
  });
}

/** Reads the address that a server prints when it listens. */
function listening(child: ChildProcess): Promise<string> {
  return new Promise((done, fail) => {
    let said = "";
    const hear = (data: Buffer) => {
      said += data.toString();
      const found = /http:\/\/(?:127\.0\.0\.1|localhost|\[::1\]):\d+/.exec(said);
      if (found) done(found[0]);
    };
    child.stdout?.on("data", hear);
    child.stderr?.on("data", hear);
    child.once("exit", (code) => fail(new Error(`The server ended with ${code} before it listened:\n${said}`)));
    child.once("error", fail);
  });
}

async function run(command: string, args: string[]): Promise<string> {
  const child = spawn(command, args, { stdio: ["ignore", "pipe", "pipe"] });
  let [told, said] = ["", ""];
  child.stdout.on("data", (d: Buffer) => (told += d.toString()));
  child.stderr.on("data", (d: Buffer) => (said += d.toString()));
  await ended(child);
  if (child.exitCode !== 0) throw new Error(`${command} ${args.join(" ")} ended with ${child.exitCode}:\n${said}`);
  return told;
}

/** Runs a verb of the program; gives what it printed. */
export const standfast = (...args: string[]): Promise<string> => run(BINARY, args);

/** Matches and lays all fields, as the example comes with its pictures only. */
async function lay(address: string): Promise<void> {
  const headers = { "X-Standfast": "1", "Content-Type": "application/json", Origin: address };
  const get = async (path: string, init?: RequestInit) => {
    const answer = await fetch(address + path, init);
    if (!answer.ok) throw new Error(`${path} gave ${answer.status}: ${await answer.text()}`);
    return answer.json();
  };
  const state = (await get("/api/state")) as { items: { id: number; body: { is: string } }[] };
  const items = state.items.filter((i) => i.body.is === "field").map((i) => i.id);
  const ask = { items, goal: "exact", fewer_changes: 0, lay: true };
  let job = (await get("/api/match", { method: "POST", headers, body: JSON.stringify(ask) })) as { id: number; over: boolean; trouble: unknown };
  while (!job.over) {
    await new Promise((later) => setTimeout(later, 100));
    job = (await get(`/api/job/${job.id}`)) as typeof job;
  }
  if (job.trouble) throw new Error(JSON.stringify(job.trouble));
}

/** A plan of `data`: a small hall with a start, a line and two things that the checks find; a line over ramps; or a hall that was taped. */
const data = (plan: "run" | "ramp" | "taped"): string => join(import.meta.dirname, "data", plan, "plan.toml");

/** Serves the example, an empty plan, or one of `data`. */
export async function serve(plan: "example" | "empty" | "run" | "ramp" | "taped", extra: string[] = [], port = 0): Promise<Running> {
  const folder = mkdtempSync(join(tmpdir(), "standfast-browser-"));
  let child: ChildProcess;
  if (FAKE) {
    const args = [join(WEB, "dev/fake-server.mjs"), "--port", String(port), "--dist", join(WEB, "dist"), ...(plan === "empty" ? ["--empty"] : [])];
    child = spawn("node", args, { stdio: ["ignore", "pipe", "pipe"] });
  } else {
    const file = join(folder, "plan.standfast");
    await run(BINARY, ["new", file, ...(plan === "example" ? ["--example", "spring-to-sea"] : plan === "empty" ? [] : ["--from", data(plan)])]);
    child = spawn(BINARY, ["open", file, "--no-browser", "--port", String(port), ...extra], { stdio: ["ignore", "pipe", "pipe"] });
  }
  const address = await listening(child);
  if (!FAKE && plan === "example") await lay(address);
  let wanted = false;
  let said = "";
  child.stderr?.on("data", (data: Buffer) => (said += data.toString()));
  child.once("exit", (code, signal) => {
    if (!wanted) console.error(`The server ended by itself (${code ?? signal}):\n${said}`);
  });
  return {
    address,
    stop: async () => {
      wanted = true;
      child.kill("SIGTERM");
      await ended(child);
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

export function launch(flags: readonly string[] = []): Promise<Browser> {
  return chromium.launch({
    executablePath: process.env.STANDFAST_CHROMIUM ?? "/usr/bin/chromium",
    args: [...FLAGS.split(" "), ...flags],
  });
}

export interface Size {
  width: number;
  height: number;
}

/** A fresh page; everything it complains about ends up in `complaints`. */
export async function open(browser: Browser, address: string, path: string, size: Size, look = "dark"): Promise<{ page: Page; complaints: string[] }> {
  const context = await browser.newContext({ viewport: size, reducedMotion: "reduce", locale: "en-GB" });
  await context.addInitScript((l) => localStorage.setItem("standfast.look", l), look);
  const page = await context.newPage();
  // A page that is so many times as slow shows what waits for too little.
  const slow = Number(process.env.STANDFAST_SLOW ?? 1);
  if (slow > 1) await (await context.newCDPSession(page)).send("Emulation.setCPUThrottlingRate", { rate: slow });
  const complaints: string[] = [];
  page.on("console", (m) => {
    if (m.type() === "error") complaints.push(`${m.text()} ${m.location().url}`);
  });
  page.on("pageerror", (e) => complaints.push(String(e)));
  page.on("request", (r) => {
    if (!r.url().startsWith(address) && !r.url().startsWith("data:") && !r.url().startsWith("blob:")) complaints.push(`foreign: ${r.url()}`);
  });
  await page.goto(address + path, { waitUntil: "load" });
  return { page, complaints };
}

const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

/** Serious and critical findings of axe, as short lines. */
export async function serious(page: Page): Promise<string[]> {
  // The page's policy forbids inline scripts; evaluating from outside is not one.
  await page.evaluate(axe);
  return page.evaluate(async () => {
    const { axe } = window as unknown as { axe: { run: () => Promise<{ violations: { id: string; impact: string; nodes: { html: string; failureSummary: string }[] }[] }> } };
    const { violations } = await axe.run();
    return violations
      .filter((v) => v.impact === "serious" || v.impact === "critical")
      .flatMap((v) => v.nodes.map((n) => `${v.id}: ${n.html.slice(0, 160)} ${n.failureSummary.slice(0, 160)}`));
  });
}
