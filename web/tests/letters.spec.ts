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

describe.skipIf(FAKE)("a word as lines", () => {
  it("falls whole from one start, stands in no other's way, and is one step", async () => {
    // Empty also when it is tried again.
    house.server = await house.own("empty");
    const { page, complaints } = await house.open("/plan", DESK);
    await floor(page).focus();
    await page.keyboard.press("x");
    const each = page.locator(".toolslip").getByLabel("You own of each", { exact: true });
    await each.fill("1000");
    await each.press("Enter");
    await page.locator('.toolslip [data-action="stock.usual"]').click();
    await expect.poll(async () => (await state(page)).kinds.length, SOON).toBe(1);
    await write(page, "SEA");
    await expect.poll(() => page.locator(".toolslip [role=status]").innerText(), SOON).toContain("One start fells all of it.");
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

    const { at, heading } = first[0]!.ports.find((p) => p.name === "start")!;
    const start = {
      id: null, name: "Start", section: null, surface: 0, x: at[0], y: at[1], heading, built: null, gaps: [], locked: false, group: null, cells_from: null,
      body: { is: "start", width: 24, after: 0 },
    };
    expect((await send(page, "/api/do", { do: "put", items: [start], label: "Start" })).status).toBe(200);
    const report = await get<{ pieces: number; fallen: number; stands: unknown[] }>(page, "/api/fall/report");
    // Fallen at the best figures, not surely: bends beside other strokes throw pieces among them.
    expect(report.pieces).toBe(items.reduce((sum, i) => sum + i.pieces, 0));
    expect([report.fallen, report.stands]).toEqual([report.pieces, []]);
    const found = await get<{ findings: { severity: string; code: string; message: string }[] }>(page, "/api/state");
    expect(found.findings.filter((f) => f.severity === "must").map((f) => f.message)).toEqual([]);

    // Without the start, one step back takes the word away.
    await floor(page).focus();
    await page.keyboard.press("Control+z");
    await expect.poll(async () => (await state(page)).items.length, SOON).toBe(items.length);
    await page.keyboard.press("Control+z");
    await expect.poll(async () => (await state(page)).items.length, SOON).toBe(0);
    expect(complaints).toEqual([]);
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
