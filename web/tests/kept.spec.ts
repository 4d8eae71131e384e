/** What is drawn, moved and taken away while the plan does not tell of it yet: without a connection, and while an answer is slow. */
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { Page } from "playwright-core";
import { DESK, SOON, floor, get, housed, scale, send } from "./house";
import { FAKE, type Running } from "./start";

const house = housed(null);
interface Row {
  id: number;
  name: string;
  x: number;
  y: number;
  outline: [number, number][];
}
interface Seen {
  undo: string | null;
  saved: { change: number };
  items: Row[];
}
let server: Running;
let page: Page;
const state = () => fetch(`${server.address}/api/state`).then((r) => r.json()) as Promise<Seen>;
const named = async (name: string) => (await state()).items.find((i) => i.name === name)!;
const east = () => page.getByLabel("East of the datum").inputValue().then((v) => Math.round(Number(v.replace("\u2212", "-")) * 1000));
const chosen = () => page.getAttribute("main.hallview", "data-chosen");
const waits = () => page.getAttribute("main.hallview", "data-waits").then(Number);
const toast = (words: string | RegExp) => page.locator(".toast", { hasText: words });

beforeEach(async () => {
  server = await house.own("run");
  ({ page } = await house.open("/plan", DESK, undefined, server));
  await page.waitForSelector('.hallcount[data-pieces]:not([data-pieces=""])', SOON);
});
afterEach(() => page.context().close());

/** The middle of an item on the screen, once it is chosen by keys and the floor shows it there. */
async function middle(name: string): Promise<[number, number]> {
  const { id, outline } = await named(name);
  await floor(page).focus();
  for (let n = 0; n < 12 && (await chosen()) !== String(id); n++) await page.keyboard.press(".");
  expect(await chosen()).toBe(String(id));
  await page.keyboard.press("z");
  for (let n = 0; n < 4; n++) await page.keyboard.press("-");
  await page.waitForTimeout(200);
  expect(outline.length).toBe(4);
  const box = (await floor(page).boundingBox())!;
  await page.keyboard.press(",");
  await page.keyboard.press(".");
  expect(await chosen()).toBe(String(id));
  return [box.x + box.width / 2, box.y + box.height / 2];
}
/** Drags from place to place, held so that nothing snaps. */
async function drag([x, y]: readonly [number, number], [dx, dy]: readonly [number, number]) {
  await page.keyboard.down("Control");
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move(x + dx / 2, y + dy / 2);
  await page.mouse.move(x + dx, y + dy);
  await page.mouse.up();
  await page.keyboard.up("Control");
}

describe.skipIf(FAKE)("without a connection", () => {
  it("what is moved and drawn is shown, told, and taken back step by step", async () => {
    const river = await named("River");
    await middle("River");
    await expect.poll(east, SOON).toBe(Math.round(river.x / 10) * 10);
    await page.context().setOffline(true);
    for (let n = 1; n <= 3; n++) {
      await page.keyboard.press("Shift+ArrowRight");
      // Each step starts where the one before leaves it, and the figures say so.
      await expect.poll(east, SOON).toBe(Math.round(river.x / 10) * 10 + 10 * n);
    }
    await page.waitForSelector(".saved.should", SOON);
    expect(await waits()).toBe(1);
    await page.locator(".inspector .kepthere").waitFor();
    await page.keyboard.press("Control+z");
    await toast("Taken back: Move River.").waitFor();
    await expect.poll(east).toBe(Math.round(river.x / 10) * 10 + 20);

    await page.keyboard.press("Escape");
    await page.keyboard.press("l");
    await page.mouse.click(500, 700);
    await page.mouse.click(700, 700);
    await page.keyboard.press("Shift+Enter");
    await page.keyboard.press("Escape");
    await page.keyboard.press("Escape");
    await expect.poll(waits).toBe(2);
    await page.locator(".inspector").getByText("Kept here: 3 changes").waitFor();
    if (process.env.STANDFAST_LOOK) await page.screenshot({ path: `${process.env.STANDFAST_LOOK}/kept.png` });
    // What was drawn is chosen, moved and taken away like everything else, and each step of that is taken back and brought again.
    await page.mouse.click(600, 700);
    const own = await chosen();
    expect(Number(own)).toBeLessThan(0);
    const at = await east();
    await page.keyboard.press("Shift+ArrowRight");
    await expect.poll(east).toBe(at + 10);
    await page.keyboard.press("Delete");
    await expect.poll(chosen).toBe("");
    for (const what of ["Remove Line", "Move Line"]) {
      await page.keyboard.press("Control+z");
      await toast(`Taken back: ${what}.`).waitFor();
    }
    await page.keyboard.press("Control+Shift+z");
    await floor(page).focus();
    for (let n = 0; n < 12 && (await chosen()) !== own; n++) await page.keyboard.press(".");
    expect(await chosen()).toBe(own);
    await expect.poll(east).toBe(at + 10);
    // Nothing of it has come through.
    expect((await named("River")).x).toBe(river.x);
    await page.context().setOffline(false);
    await page.locator(".saved:not(.should)").waitFor(SOON);
    await expect.poll(async () => (await named("River")).x, SOON).toBeCloseTo(river.x + 20, 3);
    await expect.poll(waits).toBe(0);
    // It came through where it was moved to, and is chosen still, by the number that the plan gave it.
    const line = (await named("Line"))!;
    expect(Math.abs(Math.round(line.x) - at - 10)).toBeLessThan(10);
    await expect.poll(chosen, SOON).toBe(String(line.id));
  });

  it("a change whose answer was lost is taken back there as well, once there is a connection", async () => {
    const river = await named("River");
    const { change } = (await state()).saved;
    await middle("River");
    let arrived = 0;
    await page.route("**/api/do", async (route) => {
      if (arrived++ === 0) await route.fetch();
      await route.abort();
    });
    await page.keyboard.press("Shift+ArrowRight");
    await page.getByText("Kept here: 1 change").first().waitFor();
    expect((await named("River")).x).toBeCloseTo(river.x + 10, 3);
    await page.keyboard.press("Control+z");
    await toast("undone there as well").waitFor();
    await page.unroute("**/api/do");
    await expect.poll(async () => (await named("River")).x, SOON).toBeCloseTo(river.x, 3);
    // The move counted once, and its undo.
    expect((await state()).saved.change).toBe(change + 2);
  });

  it("what is taken away is gone, and what nobody told of an item is not waited for", async () => {
    await floor(page).focus();
    await page.context().setOffline(true);
    const { id } = await named("First push");
    for (let n = 0; n < 12 && (await chosen()) !== String(id); n++) await page.keyboard.press(".");
    // The first thing that finds no connection says so.
    await page.keyboard.press("Shift+ArrowRight");
    await page.waitForSelector(".saved.should", SOON);
    await page.locator(".inspector").getByText("Its other figures are shown once").waitFor(SOON);
    await page.locator(".inspector .known").getByText("East").waitFor();
    await page.keyboard.press("Delete");
    await expect.poll(chosen).toBe("");
    await page.keyboard.press("Control+z");
    await toast("Taken back: Remove First push.").waitFor();
    for (let n = 0; n < 12 && (await chosen()) !== String(id); n++) await page.keyboard.press(".");
    expect(await chosen()).toBe(String(id));
  });
});

describe.skipIf(FAKE)("a slow answer", () => {
  it("leaves an item where it was let go, and the next drag takes it from there", async () => {
    const field = (await state()).items.find((i) => i.outline.length === 4 && i.name !== "River" && i.name !== "First push")!;
    const at = await middle(field.name);
    const mm = await scale(page);
    // The answer alone is late: the plan may tell of the change before it.
    await page.route("**/api/do", async (route) => {
      const answer = await route.fetch();
      await new Promise((later) => setTimeout(later, 1500));
      await route.fulfill({ response: answer });
    });
    // And what the plan tells is late as well.
    await page.route("**/api/state", async (route) => {
      await new Promise((later) => setTimeout(later, 1500));
      await route.continue();
    });
    await drag(at, [200, 0]);
    await expect.poll(waits).toBe(1);
    await drag([at[0] + 200, at[1]], [0, -120]);
    await page.waitForTimeout(300);
    await page.unroute("**/api/state");
    await expect.poll(async () => Math.round((await named(field.name)).y - field.y), SOON).toBeGreaterThan(0);
    const now = await named(field.name);
    expect(Math.abs(now.x - field.x - 200 * mm)).toBeLessThan(4 * mm);
    expect(Math.abs(now.y - field.y - 120 * mm)).toBeLessThan(4 * mm);
    await expect.poll(waits, SOON).toBe(0);
  });

  it("and what somebody else removes meanwhile ends the drag, and is named", async () => {
    const field = (await state()).items.find((i) => i.outline.length === 4 && i.name !== "River" && i.name !== "First push")!;
    const [x, y] = await middle(field.name);
    await page.mouse.move(x, y);
    await page.mouse.down();
    await page.mouse.move(x + 60, y + 20);
    await page.locator(".livelabel").waitFor();
    await send(page, "/api/do", { do: "take", items: [field.id] });
    await toast(`Removed meanwhile in another window: ${field.name}.`).waitFor(SOON);
    await page.locator(".livelabel").waitFor({ state: "detached" });
    await page.locator(".toolslip").waitFor({ state: "detached" });
    const { change } = (await get<Seen>(page, "/api/state")).saved;
    await page.mouse.move(x + 90, y + 20);
    await page.mouse.up();
    await page.waitForTimeout(200);
    expect((await state()).saved.change).toBe(change);
    expect(await toast("no item is chosen").count()).toBe(0);
  });
});

describe.skipIf(FAKE)("when a window is closed before an answer was there", () => {
  const PLAN = '.hallcount[data-pieces]:not([data-pieces=""])';
  const count = async () => (await state()).items.length;
  const shelved = (on: Page) => on.evaluate(() => Object.keys(localStorage).filter((key) => key.startsWith("standfast.waiting.")).length);
  /** Another window of the same browser. */
  async function another(): Promise<Page> {
    const one = await page.context().newPage();
    await one.setViewportSize(DESK);
    await one.goto(`${server.address}/plan`);
    await one.waitForSelector(PLAN, SOON);
    return one;
  }
  async function line(on: Page, y: number) {
    await on.bringToFront();
    await floor(on).focus();
    await on.keyboard.press("l");
    await on.mouse.click(500, y);
    await on.mouse.click(700, y);
    await on.keyboard.press("Shift+Enter");
    await on.keyboard.press("Escape");
  }

  it("each window leaves what it kept, and the next one sends all of it once", async () => {
    const context = page.context();
    const two = await another();
    await context.route("**/api/do", (route) => route.abort());
    // Both number what they draw by themselves, and go on with it: each is moved by so many steps.
    const ends: number[] = [];
    for (const [one, y, steps, kept] of [[page, 700, 1, "1 change"], [two, 700, 2, "1 change"], [page, 540, 3, "3 changes"]] as const) {
      await line(one, y);
      await one.keyboard.press("Escape");
      // What is still under way is shown, and cannot be chosen yet.
      await one.getByText(`Kept here: ${kept}`).first().waitFor(SOON);
      await one.mouse.click(600, y);
      const east = () => one.getByLabel("East of the datum").inputValue().then((v) => Math.round(Number(v.replace("\u2212", "-")) * 1000));
      await expect.poll(() => one.getAttribute("main.hallview", "data-chosen").then(Number)).toBeLessThan(0);
      const at = await east();
      for (let n = 0; n < steps; n++) await one.keyboard.press("Shift+ArrowRight");
      await expect.poll(east).toBe(at + 10 * steps);
      ends.push(at + 10 * steps);
    }
    await page.getByText("Kept here: 6 changes").first().waitFor();
    await two.getByText("Kept here: 3 changes").first().waitFor();
    expect(await shelved(page)).toBe(9);
    const known = new Set((await state()).items.map((i) => i.id));
    const next = await context.newPage();
    await Promise.all([page.close(), two.close()]);
    await context.unroute("**/api/do");
    await next.goto(`${server.address}/plan`);
    await next.getByText("Kept changes sent: 9.").waitFor(SOON);
    await expect.poll(() => shelved(next), SOON).toBe(0);
    const fresh = (await state()).items.filter((i) => !known.has(i.id)).map((i) => i.x);
    expect(fresh.length).toBe(3);
    // The figure is told in steps of a centimetre. What one window drew comes before what a later one did.
    [ends[0]!, ends[2]!, ends[1]!].forEach((x, i) => expect(Math.abs(fresh[i]! - x), `${i}: ${fresh.join(" ")}`).toBeLessThan(10));
    page = next;
  });

  it("a window that is open keeps its own, and another one leaves it alone", async () => {
    const before = await count();
    await page.route("**/api/do", (route) => route.abort());
    await line(page, 420);
    await page.getByText("Kept here: 1 change").first().waitFor();
    const two = await another();
    await line(two, 470);
    await expect.poll(count, SOON).toBe(before + 1);
    // Longer than windows take to answer one another.
    await two.waitForTimeout(2500);
    expect(await count()).toBe(before + 1);
    await page.keyboard.press("Control+z");
    await page.unroute("**/api/do");
    await two.close();
  });

  it("a change whose window dies before it is answered comes in once, whether it had arrived or not", async () => {
    const before = await count();
    const context = page.context();
    for (const arrives of [true, false]) {
      let asked = false;
      await context.route("**/api/do", async (route) => {
        if (arrives) await route.fetch();
        // No answer ever comes.
        asked = true;
      });
      const one = await another();
      await line(one, arrives ? 420 : 470);
      await expect.poll(() => asked, SOON).toBe(true);
      expect(await count()).toBe(before + 1);
      // It ends at once, without a last word.
      await Promise.all([one.waitForEvent("crash"), one.goto("chrome://crash").catch(() => null)]);
      await one.close();
      await context.unroute("**/api/do");
      const two = await another();
      await expect.poll(() => shelved(two), SOON).toBe(0);
      expect(await count()).toBe(before + (arrives ? 1 : 2));
      await two.close();
    }
  });

  it("a browser without room says so, asks before the window is closed, and keeps it once there is room", async () => {
    await page.evaluate(() => {
      let size = 1 << 22;
      for (let n = 0; size >= 1; n++) {
        try {
          localStorage.setItem(`fill-${n}`, "x".repeat(size));
        } catch {
          size >>= 1;
        }
      }
    });
    await page.route("**/api/do", (route) => route.abort());
    await line(page, 420);
    await page.getByText("This browser has no room for 1 change: leave this window open").first().waitFor();
    expect(await shelved(page)).toBe(0);
    const asked = page.waitForEvent("dialog");
    await page.close({ runBeforeUnload: true });
    const dialog = await asked;
    expect(dialog.type()).toBe("beforeunload");
    await dialog.dismiss();
    await page.evaluate(() => Object.keys(localStorage).filter((key) => key.startsWith("fill-")).forEach((key) => localStorage.removeItem(key)));
    await line(page, 470);
    await page.getByText("Kept here: 2 changes").first().waitFor();
    await page.getByText("leave this window open").first().waitFor({ state: "detached" });
    expect(await shelved(page)).toBe(2);
    await page.unroute("**/api/do");
    await expect.poll(() => shelved(page), SOON).toBe(0);
  });

  it("what waits for one plan is not sent to another one that is opened in its place", async () => {
    await page.route("**/api/do", (route) => route.abort());
    await line(page, 700);
    await page.getByText("Kept here: 1 change").first().waitFor();
    const { port } = new URL(server.address);
    await server.stop();
    await page.unroute("**/api/do");
    const asked: string[] = [];
    page.on("request", (r) => void (r.url().endsWith("/api/do") && asked.push(r.url())));
    const shown = page.waitForEvent("load");
    server = await house.own("empty", Number(port));
    await shown;
    await expect.poll(() => state().then((s) => s.items.length)).toBe(0);
    await page.locator(".saved:not(.should)").waitFor(SOON);
    await page.waitForTimeout(800);
    expect(asked).toEqual([]);
    expect(await page.getByText("Kept here").count()).toBe(0);
    expect(await shelved(page)).toBe(1);
  });

  it("what was sent so long ago that nobody knows what became of it is told, and not sent again", async () => {
    const before = (await state()).saved.change;
    await page.route("**/api/do", (route) => route.abort());
    await line(page, 700);
    await page.getByText("Kept here: 1 change").first().waitFor();
    // As if the plan had had 4 096 changes since.
    await page.evaluate(() => {
      const [name, text] = Object.entries(localStorage).find(([key]) => key.startsWith("standfast.waiting."))!;
      const one = JSON.parse(text as string) as { base: number; sent: boolean };
      localStorage.setItem(name, JSON.stringify({ ...one, sent: true, base: one.base - 4096 }));
    });
    await page.unroute("**/api/do");
    await page.reload();
    await toast("Draw Line: nobody knows any more whether this came through").waitFor(SOON);
    expect(await shelved(page)).toBe(0);
    expect((await state()).saved.change).toBe(before);
  });
});
