/** Words as lines: written on the empty plan, fed by one start, and felled by it. */
import { expect, it, describe } from "vitest";
import type { Page } from "playwright-core";
import { DESK, SOON, floor, get, housed, send } from "./house";
import { FAKE } from "./start";

const house = housed("empty");

interface Plan {
  kinds: { id: number }[];
  items: { id: number; name: string; group: number | null; ports: { name: string; at: [number, number]; heading: number }[]; pieces: number }[];
}
const state = (page: Page) => get<Plan>(page, "/api/state");
const words = (page: Page) => page.locator(".toolslip").getByLabel("Words", { exact: true });

async function write(page: Page, text: string) {
  await floor(page).focus();
  await page.keyboard.press("x");
  await words(page).fill(text);
}

interface Report {
  pieces: number;
  fallen: number;
  surely: number;
  stands: unknown[];
}
const findings = async (page: Page) => (await get<{ list: { severity: string; message: string }[] }>(page, "/api/findings")).list;
/** Takes the tool, with the usual pieces in stock. */
async function usual(page: Page) {
  await floor(page).focus();
  await page.keyboard.press("x");
  const each = page.locator(".toolslip").getByLabel("You own of each", { exact: true });
  await each.fill("1000");
  await each.press("Enter");
  await page.locator('.toolslip [data-action="stock.usual"]').click();
  await expect.poll(async () => (await state(page)).kinds.length, SOON).toBe(1);
}
/** A start before the first piece of a line. */
async function push(page: Page, first: Plan["items"][0]) {
  const { at, heading } = first.ports.find((p) => p.name === "start")!;
  const start = {
    id: null, name: "Start", section: null, surface: 0, x: at[0], y: at[1], heading, built: null, gaps: [], locked: false, group: null, cells_from: null,
    body: { is: "start", width: 24, after: 0 },
  };
  expect((await send(page, "/api/do", { do: "put", items: [start], label: "Start" })).status).toBe(200);
}

describe.skipIf(FAKE)("a word as lines", () => {
  it("falls whole from one start, stands in no other's way, and is one step", async () => {
    // Empty also when it is tried again.
    house.server = await house.own("empty");
    const { page, complaints } = await house.open("/plan", DESK);
    await usual(page);
    await words(page).fill("SEA");
    await expect.poll(() => page.locator(".toolslip [role=status]").innerText(), SOON).toContain("One start fells all of it.");
    await words(page).press("Enter");
    await page.mouse.click(500, 450);
    // There and back along all strokes it is one line.
    await expect.poll(async () => (await state(page)).items.length, SOON).toBe(1);
    const { items } = await state(page);
    await push(page, items[0]!);
    const report = await get<Report>(page, "/api/fall/report");
    expect(report.pieces).toBe(items[0]!.pieces);
    expect([report.fallen, report.stands]).toEqual([report.pieces, []]);
    expect(report.surely / report.pieces).toBeGreaterThanOrEqual(0.95);
    // A comb of this pitch is in the stock: nothing is left that must or should be mended.
    expect((await findings(page)).filter((f) => f.severity !== "note").map((f) => f.message)).toEqual([]);

    // Without the start, one step back takes the word away.
    await floor(page).focus();
    await page.keyboard.press("Control+z");
    await expect.poll(async () => (await state(page)).items.length, SOON).toBe(items.length);
    await page.keyboard.press("Control+z");
    await expect.poll(async () => (await state(page)).items.length, SOON).toBe(0);
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  it("in single strokes falls whole from one start, though not surely", async () => {
    house.server = await house.own("empty");
    const { page, complaints } = await house.open("/plan", DESK);
    await usual(page);
    await page.locator(".toolslip").getByText("Single", { exact: true }).click();
    await words(page).fill("SEA");
    await expect.poll(() => page.locator(".toolslip [role=status]").innerText(), SOON).toContain("but not surely");
    await words(page).press("Enter");
    await page.mouse.click(500, 450);
    await expect.poll(async () => (await state(page)).items.length, SOON).toBeGreaterThan(8);
    const { items } = await state(page);
    expect(new Set(items.map((i) => i.group)).size).toBe(1);
    const drafts = await Promise.all(items.map((i) => get<{ body: { from: { item: number } | null } }>(page, `/api/item/${i.id}`)));
    // One of them begins by itself, the others where one of them ends.
    const first = items.filter((_, k) => drafts[k]!.body.from === null);
    expect(first).toHaveLength(1);
    expect(drafts.every((d) => d.body.from === null || items.some((i) => i.id === d.body.from!.item))).toBe(true);
    await push(page, first[0]!);
    const report = await get<Report>(page, "/api/fall/report");
    expect([report.fallen, report.stands]).toEqual([items.reduce((sum, i) => sum + i.pieces, 0), []]);
    // Fallen at the best figures: bends beside other strokes throw pieces among them.
    expect(report.surely).toBeLessThan(report.pieces);
    expect((await findings(page)).filter((f) => f.severity === "must").map((f) => f.message)).toEqual([]);
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  it("lower than its strokes allow tells the least height, and from there nothing must be mended", async () => {
    house.server = await house.own("empty");
    const { page } = await house.open("/plan", DESK);
    await usual(page);
    const height = page.locator(".toolslip").getByLabel("Height of letters", { exact: true }).first();
    await height.fill("200");
    await height.press("Enter");
    await words(page).fill("SEA");
    await expect.poll(() => page.locator(".toolslip [role=status]").innerText(), SOON).toContain("Lower than");
    const least = Number(/Lower than ([\d.,]+)/.exec(await page.locator(".toolslip [role=status]").innerText())![1]!.replace(",", ""));
    expect(least).toBeGreaterThan(200);
    await height.fill(String(least));
    await height.press("Enter");
    await expect.poll(() => page.locator(".toolslip [role=status]").innerText(), SOON).not.toContain("Lower than");
    await words(page).press("Enter");
    await page.mouse.click(500, 450);
    await expect.poll(async () => (await state(page)).items.length, SOON).toBe(1);
    await push(page, (await state(page)).items[0]!);
    expect((await findings(page)).filter((f) => f.severity === "must").map((f) => f.message)).toEqual([]);
    await page.context().close();
  });

  it("takes no font from a file that is none, and says so", async () => {
    const { page } = await house.open("/plan", DESK);
    await floor(page).focus();
    await page.keyboard.press("x");
    await page.locator('.toolslip input[type="file"]').setInputFiles({ name: "none.ttf", mimeType: "font/ttf", buffer: Buffer.from("no font") });
    await page.getByText("none.ttf is not a font that this browser reads.").waitFor();
    await page.context().close();
  });

  it("tells at once what needs a start of its own", async () => {
    const { page } = await house.open("/plan", DESK);
    await write(page, "Mühle");
    await expect.poll(() => page.locator(".toolslip [role=status]").innerText(), SOON).toContain("need a start of their own: 2.");
    for (let i = 0; i < 2; i++) await page.keyboard.press("Escape");
    await floor(page).focus();
    await page.keyboard.press("x");
    await page.locator(".toolslip").getByText("Apart", { exact: true }).click();
    await words(page).fill("Mühle");
    await expect.poll(() => page.locator(".toolslip [role=status]").innerText(), SOON).toContain("need a start of their own: 6.");
    await page.context().close();
  });
});
