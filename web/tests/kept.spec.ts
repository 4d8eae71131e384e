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
