/** Drawing as hands do it: pointer and keys at once, figures in the middle of a drag, steps back, copies; the server is asked what came of it. */
import { beforeEach, describe, expect, it } from "vitest";
import type { Page } from "playwright-core";
import { DESK, SOON, floor, get, housed, scale } from "./house";
import { FAKE } from "./start";

const house = housed("run");

interface Draft {
  id: number;
  name: string;
  x: number;
  y: number;
  body: { is: string; path?: { is: string; length?: number; radius?: number; points?: [number, number][] }[]; outline?: [number, number][]; ranks?: number; lanes?: number; pitch_along?: number; pitch_across?: number };
}
interface Seen {
  undo: string | null;
  items: { id: number; name: string; sort: string; x: number; y: number; outline: [number, number][] }[];
  floor_plan: { outline: [number, number][]; parts: { name: string; outline: [number, number][] }[] };
}
const state = (page: Page) => get<Seen>(page, "/api/state");

let page: Page;
let complaints: string[];
let known: Set<number>;

beforeEach(async () => {
  ({ page, complaints } = await house.open("/plan", DESK));
  await page.waitForSelector('.hallcount[data-pieces]:not([data-pieces=""])', SOON);
  known = new Set((await state(page)).items.map((i) => i.id));
  return async () => {
    expect(complaints).toEqual([]);
    await page.context().close();
  };
});

async function use(key: string) {
  await floor(page).focus();
  await page.keyboard.press(key);
  await page.waitForSelector(".toolslip");
}
/** Held so that nothing snaps: exact places. */
async function click(x: number, y: number) {
  await page.keyboard.down("Control");
  await page.mouse.move(x, y, { steps: 3 });
  await page.mouse.down();
  await page.mouse.up();
  await page.keyboard.up("Control");
}
const hint = () => page.locator('.toolslip p[role="status"]').innerText();
const news = async () => (await state(page)).items.filter((i) => !known.has(i.id));
async function fresh(least = 1): Promise<Draft[]> {
  await expect.poll(async () => (await news()).length, SOON).toBeGreaterThanOrEqual(least);
  return Promise.all((await news()).map((i) => get<Draft>(page, `/api/item/${i.id}`)));
}
async function undone() {
  await page.keyboard.press("Control+z");
  await expect.poll(async () => (await news()).length, SOON).toBe(0);
}

describe.skipIf(FAKE)("Enter", () => {
  it("ends a line that was clicked, without one more point, and closes and lays an area", async () => {
    await use("l");
    await click(500, 500);
    await click(700, 450);
    expect(await hint()).toContain("Enter or a double click ends the line");
    await click(850, 560);
    await page.keyboard.press("Enter");
    const [line] = await fresh();
    expect(line!.body.path).toHaveLength(1);
    expect(line!.body.path![0]!.points).toHaveLength(2);
    await undone();

    await use("a");
    await click(500, 450);
    await click(700, 450);
    await click(700, 600);
    await page.keyboard.press("Enter");
    await expect.poll(() => page.locator(".toolslip").getByLabel("From course to course", { exact: true }).count()).toBe(1);
    await page.keyboard.press("Enter");
    const [area] = await fresh();
    expect(area!.body.outline).toHaveLength(3);
    await undone();
  });

  it("presses at the cross once arrows draw, and the words say which holds", async () => {
    await use("l");
    await click(500, 500);
    await page.keyboard.press("ArrowRight");
    expect(await hint()).toContain("Shift and Enter end the line");
    await page.keyboard.press("Enter");
    await page.keyboard.press("ArrowUp");
    await page.keyboard.press("Enter");
    expect(await news()).toHaveLength(0);
    await page.keyboard.press("Shift+Enter");
    const [line] = await fresh();
    expect(line!.body.path![0]!.points).toHaveLength(2);
    await undone();
  });
});

describe.skipIf(FAKE)("a figure in the middle of a drag", () => {
  const drag = async (from: [number, number], to: [number, number], text: string) => {
    await page.keyboard.down("Control");
    await page.mouse.move(...from);
    await page.mouse.down();
    await page.mouse.move((from[0] + to[0]) / 2, (from[1] + to[1]) / 2);
    await page.mouse.move(...to);
    await page.keyboard.up("Control");
    if (text) await page.keyboard.type(text);
    await page.mouse.up();
  };

  it("counts when the button is let go", async () => {
    const before = (await state(page)).floor_plan.parts.length;
    await use("h");
    await page.locator(".toolslip").getByLabel("What it is", { exact: true }).selectOption("table");
    await floor(page).focus();
    await drag([600, 600], [680, 640], "12m");
    await expect.poll(async () => (await state(page)).floor_plan.parts.length, SOON).toBe(before + 1);
    const xs = (await state(page)).floor_plan.parts.at(-1)!.outline.map((p) => p[0]);
    expect(Math.max(...xs) - Math.min(...xs)).toBeCloseTo(12_000, 1);
    await page.keyboard.press("Escape");
    await page.keyboard.press("Control+z");

    await use("s");
    await drag([700, 500], [760, 500], "900");
    const [spiral] = await fresh();
    expect(spiral!.body.path![0]!.radius).toBe(900);
    await undone();
  });

  it("moves an item exactly, and the next drag has none of it", async () => {
    await use("f");
    await drag([600, 500], [760, 600], "");
    const [field] = await fresh();
    await page.waitForTimeout(300);
    await drag([680, 550], [700, 550], "2m");
    await expect.poll(async () => (await get<Draft>(page, `/api/item/${field!.id}`)).x, SOON).toBeCloseTo(field!.x + 2000, 1);
    // What says nothing is dropped, and so is what Escape gave up.
    const mm = await scale(page);
    const at = 680 + 2000 / mm;
    for (const [text, key] of [["3q", null], ["5", "Escape"]] as const) {
      const { x } = await get<Draft>(page, `/api/item/${field!.id}`);
      await page.keyboard.down("Control");
      await page.mouse.move(at, 550);
      await page.mouse.down();
      await page.mouse.move(at + 15, 550);
      await page.mouse.move(at + 30, 550);
      await page.keyboard.up("Control");
      await page.keyboard.type(text);
      if (key) await page.keyboard.press(key);
      await page.mouse.up();
      await expect.poll(async () => Math.abs((await get<Draft>(page, `/api/item/${field!.id}`)).x - x - 30 * mm), SOON).toBeLessThan(60);
      expect(await page.locator(".livelabel").count()).toBe(0);
      await page.keyboard.press("Control+z");
      await expect.poll(async () => (await get<Draft>(page, `/api/item/${field!.id}`)).x, SOON).toBe(x);
    }
    await page.keyboard.press("Control+z");
    await page.waitForTimeout(300);
    await undone();
  });

  it("sets the next point of a line by a click, sums and all", async () => {
    await use("l");
    await click(500, 500);
    await page.keyboard.down("Control");
    await page.mouse.move(600, 500, { steps: 3 });
    await page.keyboard.up("Control");
    await page.keyboard.type("3m+20cm");
    await click(600, 500);
    await page.keyboard.press("Enter");
    const [line] = await fresh();
    expect(line!.body.path).toEqual([{ is: "straight", length: 3200 }]);
    await undone();
  });
});
