/** The floor itself: what lies over it, what takes a press, and what stays in sight. */
import { beforeEach, describe, expect, it } from "vitest";
import type { Page } from "playwright-core";
import { DESK, SOON, TABLET, floor, get, housed, scale, take, type House } from "./house";
import { FAKE, type Size } from "./start";

const house = housed("run");

interface Seen {
  items: { id: number; sort: string }[];
  floor_plan: { outline: [number, number][] };
}
const state = (page: Page) => get<Seen>(page, "/api/state");
const lines = async (page: Page) => (await state(page)).items.filter((i) => i.sort === "line").length;

let page: Page;
let complaints: string[];
async function opened(path: string, size: Size = DESK, at: House = house) {
  ({ page, complaints } = await at.open(path, size));
  await page.waitForSelector('.hallcount[data-pieces]:not([data-pieces=""])', SOON);
}
beforeEach(() => async () => {
  expect(complaints).toEqual([]);
  await page.context().close();
});
/** Where the page puts a piece of itself. */
async function box(where: string) {
  const found = await page.locator(where).boundingBox();
  if (!found) throw new Error(`${where} is not on the page`);
  return found;
}
/** Held so that nothing snaps. */
async function click(x: number, y: number) {
  await page.keyboard.down("Control");
  await page.mouse.click(x, y);
  await page.keyboard.up("Control");
}

describe.skipIf(FAKE)("the floor", () => {
  it("keeps a tool that was taken again while the last stroke was being saved", async () => {
    await opened("/plan");
    const before = await lines(page);
    let answer = () => {};
    const asked = new Promise<void>((seen) => {
      void page.route("**/api/do", async (route) => {
        seen();
        await new Promise<void>((go) => (answer = go));
        await route.continue();
      });
    });
    await take(page, "l", "Line");
    await click(500, 500);
    await click(640, 470);
    await page.keyboard.press("Shift+Enter");
    await asked;
    await page.keyboard.press("l");
    answer();
    await expect.poll(() => lines(page), SOON).toBe(before + 1);
    await page.unroute("**/api/do");
    // The page has heard of it.
    await expect.poll(() => page.locator(".hallview").getAttribute("data-chosen"), SOON).not.toBe("");
    await page.locator('.toolslip[aria-label="Line"]').waitFor();
    await page.keyboard.press("Escape");
    await page.keyboard.press("Control+z");
    await expect.poll(() => lines(page), SOON).toBe(before);
  });

  it("a mark of a finding opens it for who picks, and takes no press from who draws", async () => {
    await opened("/plan");
    const { list: findings } = await get<{ list: { at: [number, number] | null }[] }>(page, "/api/findings");
    const which = findings.findIndex((f) => f.at);
    await page.context().close();
    await opened(`/plan?at=${findings[which]!.at!.map(Math.round).join(",")}&finding=${which}`);
    await page.locator(`.place[data-finding="${which}"]`).waitFor();
    // The address brings the finding to the middle of the floor.
    const room = await box(".hallview");
    const [x, y] = [room.x + room.width / 2, room.y + room.height / 2];
    await floor(page).focus();
    await page.keyboard.press("Escape");
    await page.locator(".place").waitFor({ state: "detached" });
    await take(page, "l", "Line");
    const before = await lines(page);
    await click(x, y);
    await click(x + 130, y + 40);
    expect(await page.locator(".place").count()).toBe(0);
    await page.keyboard.press("Shift+Enter");
    await expect.poll(() => lines(page), SOON).toBe(before + 1);
    await page.keyboard.press("Escape");
    await page.locator(".toolslip").waitFor({ state: "detached" });
    await page.keyboard.press("Control+z");
    await expect.poll(() => lines(page), SOON).toBe(before);
    await page.mouse.click(x, y);
    await page.locator(".place").waitFor();
  });

  it("shows everything beside what lies over it, until somebody moves the view", async () => {
    // So high that the width is what counts.
    await opened("/plan", { width: 1024, height: 1000 });
    const whole = await scale(page);
    await floor(page).focus();
    await page.keyboard.press("t");
    const slip = page.locator(".touchslip");
    await slip.waitFor();
    await expect.poll(() => scale(page), SOON).toBeGreaterThan(whole);
    // The walls lie west of the slip: the middle of the floor plan is the middle of what is free.
    const { floor_plan } = await state(page);
    const wide = Math.max(...floor_plan.outline.map((p) => p[0])) - Math.min(...floor_plan.outline.map((p) => p[0]));
    const over = (await slip.boundingBox())!;
    expect(wide / (await scale(page))).toBeLessThan(over.x);
    await page.keyboard.press("t");
    await expect.poll(() => scale(page), SOON).toBeCloseTo(whole, 6);
    // Moved by hand, it stays as it is.
    await floor(page).focus();
    await page.keyboard.press("+");
    await expect.poll(() => scale(page), SOON).toBeLessThan(whole);
    const own = await scale(page);
    await page.keyboard.press("t");
    await slip.waitFor();
    expect(await scale(page)).toBeCloseTo(own, 6);
  });

  it("has the tool beside it on a desk and a tablet, and under it where there is no room", async () => {
    await opened("/plan", DESK);
    for (const [size, beside] of [[DESK, true], [TABLET, true], [{ width: 820, height: 1180 }, false]] as const) {
      await page.setViewportSize(size);
      await take(page, "s", "Spiral");
      await page.locator(beside ? ".toolslip.beside" : ".toolslip:not(.beside)").waitFor();
      const slip = await box(".toolslip");
      const comb = await box(".comb");
      // Between the tools and the slip at least half of the width is free, or the upper half of the floor.
      if (beside) expect(slip.x - (comb.x + comb.width)).toBeGreaterThan(size.width / 2);
      else expect(slip.y).toBeGreaterThan(size.height / 2);
      expect(slip.x + slip.width).toBeLessThanOrEqual(size.width);
      expect(slip.y + slip.height).toBeLessThanOrEqual(size.height);
    }
  });
});
