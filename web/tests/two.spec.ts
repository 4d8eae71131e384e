/** Two planners in two browsers at once: whatever they do, in whatever order, there is one document, and the journal makes it again. */
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import type { Page, Request, Response } from "playwright-core";
import { floor, get, housed, SOON } from "./house";
import { FAKE, standfast, type Running } from "./start";

/** Pieces are not looked at here; drawing them without a graphics card would take most of the time. */
const house = housed(null, ["--disable-3d-apis"]);

const COMMANDS = 500;
/** So many are done in a row, faster than anybody is, so that they meet on their way; and milliseconds between them. */
const ROW = 25;
const PAUSE = 1;
const SCREEN = { width: 1120, height: 560 };

interface Seen {
  saved: { change: number };
  undo: string | null;
  items: { id: number; name: string; pieces: number; x: number; y: number; heading: number; locked: boolean; group: number | null }[];
}
/** Half a minute where nothing else runs; a machine that builds beside it takes several times as long. */
const LONG = 300_000;

/** A key on the floor, like "Control+Shift+l", or a figure of what is chosen. */
type Stroke = { keys: string } | { label: string; text: string };
interface Done { saved: { change: number }; label: string; items: number[]; added: number | null; notes: string[] }
/** What was sent, and what the server said that it did. */
interface Step { change: number; path: string; body: string | null; did: Omit<Done, "saved"> }

/** Numbers that look random and are the same on every run (Mulberry32, T. Ettinger 2017, public domain; from memory). */
function dice(seed: number) {
  let state = seed;
  return (below: number) => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) % below;
  };
}

const CHANGING = /\/api\/(do|undo|redo)$/;

/** A planner at a page: presses keys and types figures, and remembers what the server took of it. */
class Planner {
  /** What was sent, each change once, however often it had to be sent. */
  readonly sent = new Set<string>();
  private under = 0;
  refused = 0;
  private readonly heard: Promise<Step | null>[] = [];

  constructor(
    readonly name: string,
    readonly page: Page,
    readonly complaints: string[],
    private readonly roll: (below: number) => number,
  ) {
    let nameless = 0;
    page.on("request", (r) => {
      if (!this.is(r)) return;
      this.under += 1;
      this.sent.add(r.headers()["x-standfast-once"] ?? `${(nameless += 1)}`);
    });
    page.on("requestfinished", (r) => void (this.under -= Number(this.is(r))));
    page.on("requestfailed", (r) => {
      if (!this.is(r)) return;
      this.under -= 1;
      this.unanswered.push(`${new URL(r.url()).pathname} ${r.headers()["x-standfast-once"] ?? ""} (${r.failure()?.errorText ?? "no reason"}) at ${this.sent.size}`);
    });
    page.on("response", (r) => {
      if (this.is(r.request())) this.heard.push(this.hear(r));
    });
  }

  /** What was sent and never answered, for whoever reads why a test failed. */
  readonly unanswered: string[] = [];
  lost = () => `${this.name} had no answer to ${this.unanswered.join(", ") || "nothing"}`;

  private is = (r: Request) => r.method() === "POST" && CHANGING.test(r.url());

  private async hear(r: Response): Promise<Step | null> {
    if (r.status() !== 200) {
      this.refused += 1;
      return null;
    }
    const { saved, ...did } = (await r.json()) as Done;
    return { change: saved.change, path: new URL(r.url()).pathname, body: r.request().postData(), did };
  }

  /** What the server took, by the number of the change. */
  async taken(): Promise<Step[]> {
    return (await Promise.all(this.heard)).filter((s) => s !== null);
  }

  async quiet(most = 0) {
    const until = Date.now() + SOON.timeout;
    while (this.under > most && Date.now() < until) await new Promise((later) => setTimeout(later, 3));
  }

  /** Something chosen: the next item or the one before, from west to east. */
  private choose(): Stroke[] {
    return Array.from({ length: this.roll(3) + 1 }, () => ({ keys: this.roll(2) ? "." : "," }));
  }

  /** A figure of what is chosen. */
  private figure(): Stroke {
    const label = ["East of the datum", "North of the datum", "Turned by"][this.roll(3)]!;
    return { label, text: label === "Turned by" ? String(this.roll(360)) : `${this.roll(600) / 100} m` };
  }

  /** One thing that a planner does. `undoes`: also taking back, which waits for no connection. */
  private act(items: number, undoes: boolean): Stroke[] {
    const { roll } = this;
    const first = roll(4) === 0 ? this.choose() : [];
    const arrow = ["ArrowLeft", "ArrowRight", "ArrowUp", "ArrowDown"][roll(4)]!;
    const dart = roll(100);
    if (dart < 5) return [...first, { keys: "Control+a" }, { keys: roll(2) ? arrow : roll(2) ? "Control+g" : "Control+Shift+g" }, ...this.choose()];
    const keys =
      dart < 44 ? (roll(2) ? `Shift+${arrow}` : arrow)
      : dart < 58 ? (roll(2) ? "Shift+R" : "Shift+M")
      : dart < 66 ? (items > 12 ? "Delete" : items < 6 || roll(2) ? "Control+d" : "Delete")
      : dart < 72 ? (roll(5) ? "Control+Shift+l" : "Control+l")
      : undoes ? (dart < 88 ? "Control+z" : "Control+y")
      : arrow;
    return [...first, { keys }];
  }

  /** Presses the keys where the page listens for them, in one go: a row of them must not wait for the driver of the browser. */
  private async press(row: Stroke[]) {
    await this.page.evaluate(
      async ([strokes, pause]) => {
        const stage = document.querySelector<HTMLElement>("[role=application]")!;
        stage.focus();
        for (const stroke of strokes) {
          if ("keys" in stroke) {
            const held = stroke.keys.split("+");
            const key = held.pop()!;
            const is = { ctrlKey: held.includes("Control"), shiftKey: held.includes("Shift") };
            stage.dispatchEvent(new KeyboardEvent("keydown", { key, code: key.length === 1 ? `Key${key.toUpperCase()}` : key, bubbles: true, cancelable: true, ...is }));
          } else {
            const input = [...document.querySelectorAll<HTMLInputElement>(".inspector .itemform input")].find((i) => i.labels?.[0]?.innerText === stroke.label && !i.disabled);
            if (!input) continue;
            input.value = stroke.text;
            input.dispatchEvent(new Event("input", { bubbles: true }));
            input.dispatchEvent(new KeyboardEvent("keydown", { key: "Enter", bubbles: true, cancelable: true }));
          }
          await new Promise((later) => setTimeout(later, pause));
        }
      },
      [row, PAUSE] as const,
    );
  }

  private some(count: number, items: number, undoes = true) {
    return this.press(Array.from({ length: count }, () => this.act(items, undoes)).flat());
  }

  /** Goes on until so many commands were sent. */
  async until(count: number, items: () => number) {
    while (this.sent.size < count) {
      // What was chosen in the row before is told by now, so that its figures are there to be typed over.
      await this.press([this.figure(), this.figure()]);
      await this.some(ROW, items());
      await this.quiet();
    }
  }

  /** The connection goes just when a change has reached the server; what is done meanwhile is kept and goes out later. */
  async away(done: number, items: () => number) {
    // Nothing that takes back is under way then: it has no key to be sent again with, and its answer would be lost. The page
    // knows of what it sent before the driver of the browser does.
    await this.page.waitForSelector(".saved:not(.wait)", SOON);
    await this.quiet();
    let lost = false;
    await this.page.route(/\/api\/do$/, async (route) => {
      await route.fetch();
      lost = true;
      await this.page.context().setOffline(true);
      await route.abort("internetdisconnected");
    });
    while (!lost) {
      await this.press(this.choose());
      await this.some(1, items(), false);
      await this.quiet();
    }
    await this.page.unroute(/\/api\/do$/);
    await this.page.waitForSelector(".saved.should", SOON);
    await this.some(done, items(), false);
    const words = await this.page.innerText(".saved");
    // What is locked or gone is refused at once; some of it waits.
    expect(Number(/Kept here: (\d+) changes/.exec(words)?.[1] ?? 0), words).toBeGreaterThan(2);
    await this.page.context().setOffline(false);
    await this.page.waitForSelector(".saved:not(.should)", SOON);
    await this.quiet();
  }

  /** The document as this page shows it: what is chosen, item by item, from the west to the east, with its figures. */
  async shown(count: number) {
    const { page } = this;
    await floor(page).focus();
    for (let n = 0; n < 3; n++) await page.keyboard.press("Escape");
    const rows: { title: string; locked: boolean; figures: Record<string, string> }[] = [];
    for (let n = 0; n < count; n++) {
      // Each item has a form of its own.
      await page.evaluate(() => document.querySelector(".inspector .itemform")?.setAttribute("data-read", ""));
      await page.keyboard.press(".");
      await page.waitForSelector(".inspector .itemform:not([data-read])", SOON);
      rows.push(
        await page.evaluate(() => {
          const form = document.querySelector(".inspector")!;
          const figures = [...form.querySelectorAll<HTMLInputElement>(".itemform .nf input")].map((i) => [i.labels![0]!.innerText, i.value] as const);
          return { title: form.querySelector<HTMLElement>("h2")!.innerText, locked: form.querySelector(".locked") !== null, figures: Object.fromEntries(figures) };
        }),
      );
    }
    return { rows, undo: await page.locator('[data-action="undo"]').getAttribute("aria-label"), pieces: await page.locator(".hallcount").getAttribute("data-pieces") };
  }
}

/** The project of a server as a checked copy, and as text. */
async function copyOf(server: Running, folder: string, name: string) {
  const answer = await fetch(`${server.address}/api/backup`);
  expect(answer.status).toBe(200);
  const file = join(folder, `${name}.standfast`);
  writeFileSync(file, new Uint8Array(await answer.arrayBuffer()));
  const checked = JSON.parse(await standfast("restore", file, "--check", "--json")) as { whole: boolean; changes: number };
  const text = join(folder, name);
  await standfast("export", file, "--to", "toml", "-o", text);
  return { checked, text: readdirSync(text).sort().map((part) => [part, readFileSync(join(text, part), "utf8")]) };
}

describe.skipIf(FAKE)("two browsers", () => {
  it("with 500 random commands each, and a connection that is lost, end at the document of a single replay", async () => {
    const server = await house.own("run");
    const folder = mkdtempSync(join(tmpdir(), "standfast-two-"));
    const planner = async (name: string, seed: number) => {
      const { page, complaints } = await house.open("/plan", SCREEN, undefined, server);
      await page.waitForSelector('.hallcount[data-pieces]:not([data-pieces=""])', SOON);
      await floor(page).focus();
      return new Planner(name, page, complaints, dice(seed));
    };
    const [ines, omar] = await Promise.all([planner("Ines", 1), planner("Omar", 2)]);

    // How many items there are, as far as anybody knows just now.
    let items = 3;
    const looks = setInterval(() => void fetch(`${server.address}/api/state`).then((r) => r.json()).then((s: Seen) => (items = s.items.length)).catch(() => undefined), 500);
    try {
      const now = () => items;
      await Promise.all([
        ines.until(COMMANDS / 2, now).then(() => ines.away(30, now)).then(() => ines.until(COMMANDS, now)),
        omar.until(COMMANDS, now),
      ]);
    } finally {
      clearInterval(looks);
    }
    expect(Math.min(ines.sent.size, omar.sent.size)).toBeGreaterThanOrEqual(COMMANDS);

    // What is under way comes in.
    for (let before = -1, now = 0; before !== now; ) {
      await Promise.all([ines.quiet(), omar.quiet(), new Promise((later) => setTimeout(later, 500))]);
      [before, now] = [now, (await get<Seen>(omar.page, "/api/state")).saved.change];
    }
    // Both pages know the last change, and show one and the same document, which is that of the server.
    const state = await get<Seen>(ines.page, "/api/state");
    const steps = [...(await ines.taken()), ...(await omar.taken())].sort((a, b) => a.change - b.change);
    const last = state.saved.change;
    for (const { page } of [ines, omar]) await expect.poll(() => page.innerText(".saved").then((w) => Number(/change ([\d\s]+),/.exec(w)?.[1]?.replace(/\D/g, ""))), SOON).toBe(last);
    const [one, two] = await Promise.all([ines.shown(state.items.length), omar.shown(state.items.length)]);
    expect(two).toEqual(one);
    const west = [...state.items].sort((a, b) => a.x - b.x || a.id - b.id);
    expect(one.rows.map((r) => r.title.split(", ")[0])).toEqual(west.map((i) => i.name));
    expect(one.rows.map((r) => r.locked)).toEqual(west.map((i) => i.locked));
    for (const [i, row] of one.rows.entries()) {
      expect(Math.abs(Number(row.figures["East of the datum"]!.replace("\u2212", "-")) - west[i]!.x / 1000), `${row.title} ${i}`).toBeLessThanOrEqual(0.005001);
      expect(Math.abs(Number(row.figures["North of the datum"]!.replace("\u2212", "-")) - west[i]!.y / 1000), `${row.title} ${i}`).toBeLessThanOrEqual(0.005001);
    }
    expect(one.undo).toBe(state.undo === null ? "Nothing to undo" : `Undo: ${state.undo}`);
    expect(Number(one.pieces)).toBe(state.items.reduce((sum, i) => sum + i.pieces, 0));

    // Every change is one that somebody sent, none counted twice, none lost: the numbers have no holes.
    const heard = new Set(steps.map((s) => s.change));
    expect(Array.from({ length: last }, (_, n) => n + 1).filter((n) => !heard.has(n)), `${[ines, omar].map((p) => p.lost()).join("; ")}`).toEqual([]);
    expect(steps.at(-1)!.change).toBe(last);
    // Most of it was taken: what is locked or gone by then is refused.
    expect(last).toBeGreaterThan(COMMANDS);
    expect(steps.filter((s) => s.path !== "/api/do").length).toBeGreaterThan(COMMANDS / 10);

    // The journal is replayed from its start and compared; and the same commands, one after the other, make the same plan.
    const made = await copyOf(server, folder, "both");
    expect(made.checked).toMatchObject({ whole: true, changes: last });
    const alone = await house.own("run");
    const headers = { "X-Standfast": "1", "Content-Type": "application/json", Origin: alone.address };
    const once = [...new Map(steps.map((s) => [s.change, s])).values()];
    for (const { change, path, body, did } of once) {
      const answer = await fetch(alone.address + path, { method: "POST", headers, ...(body ? { body } : {}) });
      const { saved, ...told } = (await answer.json()) as Partial<Done>;
      expect({ path, body, change: saved?.change, did: told }).toEqual({ path, body, change, did });
    }
    const replayed = await copyOf(alone, folder, "alone");
    expect(replayed.checked).toEqual({ ...made.checked, file: (replayed.checked as unknown as { file: string }).file });
    expect(replayed.text).toEqual(made.text);
    // What was refused, what found no connection, and that nothing is drawn in 3D is told on the console by the browser itself.
    for (const { complaints } of [ines, omar]) expect(complaints.filter((c) => !/Failed to load resource|ERR_INTERNET_DISCONNECTED|WebSocket|WebGL/.test(c))).toEqual([]);
    rmSync(folder, { recursive: true, force: true });
    await Promise.all([ines, omar].map(({ page }) => page.context().close()));
  }, LONG);
});
