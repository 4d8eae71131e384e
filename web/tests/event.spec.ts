/** A whole event from an empty plan, by pointer and keys: hall, pieces, picture, feed, line, start, a finding mended, the fall, the sheets. */
import { describe, expect, it } from "vitest";
import type { Page } from "playwright-core";
import { DESK, SOON, figure, floor, get, housed, scale, take } from "./house";
import { png } from "./png";
import { FAKE } from "./start";

const house = housed(null);

interface Port { name: string; enters: boolean; at: [number, number]; heading: number }
interface Row { id: number; name: string; sort: string; pieces: number; ports: Port[]; body: { is: string; lanes?: number; ranks?: number; picture_name?: string } }
interface Seen { undo: string | null; kinds: unknown[]; floor_plan: { outline: [number, number][] }; items: Row[] }

const state = (page: Page) => get<Seen>(page, "/api/state");

async function once(page: Page, is: (seen: Seen) => boolean): Promise<Seen> {
  await expect.poll(async () => is(await state(page)), SOON).toBe(true);
  return state(page);
}

/** Shows a place in the middle of the floor; gives where a place of the plan is on the screen, by the bar of the scale. */
async function look(page: Page, x: number, y: number): Promise<(x: number, y: number) => [number, number]> {
  [x, y] = [Math.round(x), Math.round(y)];
  await page.goto(`${house.address}/plan?at=${x},${y}`);
  await page.waitForSelector('.hallcount[data-pieces]:not([data-pieces=""])', SOON);
  await floor(page).focus();
  await page.waitForTimeout(300);
  const mm = await scale(page);
  const box = (await floor(page).boundingBox())!;
  return (px, py) => [box.x + box.width / 2 + (px - x) / mm, box.y + box.height / 2 - (py - y) / mm];
}
async function drag(page: Page, from: [number, number], to: [number, number]) {
  await page.mouse.move(...from);
  await page.mouse.down();
  await page.mouse.move((from[0] + to[0]) / 2, (from[1] + to[1]) / 2);
  await page.mouse.move(...to);
  await page.mouse.up();
}

describe.skipIf(FAKE)("a whole event", () => {
  it("is drawn from nothing, falls whole, and is printed", async () => {
    // Empty also when it is tried again.
    house.server = await house.own("empty");
    const { page, complaints } = await house.open("/plan", DESK);
    await page.waitForSelector(".firstminutes");

    // Pieces to lay, and a hall around what is to come.
    await page.getByLabel("You own of each").fill("3000");
    await page.locator('[data-action="stock.usual"]').click();
    await once(page, (s) => s.kinds.length === 1);
    await page.locator('[data-action="hall.draw"]').click();
    await page.locator('.toolslip[aria-label="Hall"]').waitFor();
    await drag(page, [320, 200], [980, 560]);
    const { floor_plan } = await once(page, (s) => s.floor_plan.outline.length === 4);
    const [west, south] = floor_plan.outline[0]!;

    // A field: one corner, then typed ranks and lanes.
    const [fx, fy] = [west + 3_000, south + 1_800];
    let to = await look(page, fx, fy);
    await take(page, "f", "Field");
    // Lanes nearer to each other than they fall by themselves.
    await figure(page, "Between lanes", "25");
    await page.mouse.click(...to(fx, fy));
    await figure(page, "Ranks", "24");
    await figure(page, "Lanes", "16");
    await page.locator(".toolslip .btn.main").click();
    let plan = await once(page, (s) => s.items.length === 1);
    const field = plan.items[0]!;
    expect([field.sort, field.body.ranks, field.body.lanes]).toEqual(["field", 24, 16]);

    // A picture on it: matched and laid with what the stock has.
    await page.goto(`${house.address}/picture/${field.id}`);
    await page.waitForSelector(".stage");
    await page.evaluate((bytes) => {
      const data = new DataTransfer();
      data.items.add(new File([new Uint8Array(bytes)], "dusk.png", { type: "image/png" }));
      document.querySelector(".stage")!.dispatchEvent(new DragEvent("drop", { dataTransfer: data, bubbles: true, cancelable: true }));
    }, [...png(48, 32)]);
    await page.waitForSelector("text=shows dusk.png and is matched", { timeout: 60_000 });
    plan = await once(page, (s) => s.items[0]!.pieces === 24 * 16);

    // The lanes drag each other; a key mends it, and the finding goes.
    await page.keyboard.press("F6");
    const found = page.locator(".slip.findings li", { hasText: "The lanes of Field stand 1" });
    await found.getByRole("button", { name: "Mend it" }).focus();
    await page.keyboard.press("m");
    await found.waitFor({ state: "detached" });
    expect((await get<{ body: { pitch_across: number } }>(page, `/api/item/${field.id}`)).body.pitch_across).toBeGreaterThanOrEqual(26);

    // Bricks bring the fall to every lane.
    to = await look(page, fx, fy);
    await take(page, "d", "Feed");
    await page.mouse.click(...to(fx + 40, fy + 100));
    await page.locator(".toolslip").getByRole("radio", { name: /^Bricks/ }).check();
    await page.locator(".toolslip .btn.main").click();
    plan = await once(page, (s) => s.items.length === 2);
    const feed = plan.items.find((i) => i.sort === "feed")!;
    const entry = feed.ports.find((p) => p.enters)!;

    // A line leads to the port of the feed, and a start stands at its other end.
    to = await look(page, entry.at[0], entry.at[1]);
    const back = ((entry.heading + 180) * Math.PI) / 180;
    const begin: [number, number] = [entry.at[0] + 900 * Math.cos(back), entry.at[1] + 900 * Math.sin(back)];
    await take(page, "l", "Line");
    await page.mouse.click(...to(...begin));
    await page.mouse.move(...to(entry.at[0] + 4, entry.at[1] + 4));
    await page.mouse.dblclick(...to(entry.at[0] + 4, entry.at[1] + 4));
    plan = await once(page, (s) => s.items.some((i) => i.sort === "line"));
    const line = plan.items.find((i) => i.sort === "line")!;

    const draft = await get<{ body: { to: { item: number } | null } }>(page, `/api/item/${line.id}`);
    expect(draft.body.to?.item).toBe(feed.id);
    await take(page, "p", "Start");
    await page.mouse.click(...to(...begin));
    await once(page, (s) => s.items.some((i) => i.sort === "start"));

    // Everything falls, as the view says when its slider is at the end.
    const report = await get<{ pieces: number; fallen: number; surely: number; stands: unknown[] }>(page, "/api/fall/report");
    plan = await state(page);
    expect(report).toMatchObject({ pieces: plan.items.reduce((sum, i) => sum + i.pieces, 0), fallen: report.pieces, surely: report.pieces, stands: [] });
    await page.getByRole("link", { name: "Fall", exact: true }).click();
    await page.waitForSelector(".sentence");
    await page.waitForSelector('[data-loaded]:not([data-loaded="0"])');
    const fallen = async () => Number(await page.getAttribute("[data-fallen]:not(.sentence)", "data-fallen"));
    await page.getByRole("button", { name: "Play", exact: true }).click();
    await expect.poll(fallen, SOON).toBeGreaterThan(0);
    await page.getByRole("slider", { name: "Time of the fall" }).focus();
    await page.keyboard.press("End");
    await expect.poll(fallen, SOON).toBe(report.pieces);

    // The sheets carry every piece of the field.
    await page.getByRole("link", { name: "Sheets", exact: true }).click();
    await page.waitForSelector(".sheetroom img");
    // "384 of 1 022 placed pieces are on the sheets; the chosen fields have 384."
    const said = [...(await page.textContent(".stagehead span"))!.matchAll(/\d[\d\s]*/g)].map((n) => Number(n[0].replace(/\D/g, "")));
    expect(said).toEqual([24 * 16, report.pieces, 24 * 16]);
    const pdf = await page.getByRole("link", { name: "Save as PDF" }).getAttribute("href");
    expect(await page.evaluate((u) => fetch(u).then((r) => r.text()).then((t) => t.slice(0, 5)), pdf!)).toBe("%PDF-");
    expect(complaints).toEqual([]);
  });
});
