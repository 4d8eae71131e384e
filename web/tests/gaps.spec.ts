/** Safety gaps that are proposed on the pages, set, and put into an order of closing. */
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import type { Page } from "playwright-core";
import { DESK, get, housed } from "./house";
import { FAKE, serious, standfast } from "./start";

const house = housed("taped");
const PLAN = join(import.meta.dirname, "data/taped/plan.toml");

const gapsOf = async (page: Page, name: string) => (await get<{ items: { name: string; gaps: { first: number; count: number; stopper: boolean }[] }[] }>(page, "/api/state")).items.find((i) => i.name === name)!.gaps;
/** The most that a touch takes while the gaps are open, as the server counts it. */
const worst = (page: Page) =>
  page.evaluate(async () => {
    const view = new DataView(await (await fetch("/api/touch?gaps=open")).arrayBuffer());
    const n = view.getUint32(8, true);
    return Math.max(...Array.from({ length: n }, (_, p) => view.getUint32(16 + 4 * (2 * n + p), true)));
  });
async function touches(page: Page) {
  await page.waitForSelector('[data-pieces]:not([data-pieces=""])');
  await page.locator('.hallbar [data-action="floor.touch"]').click();
  const slip = page.locator(".touchslip");
  await slip.getByRole("button", { name: "Propose gaps" }).waitFor();
  return slip;
}

describe.skipIf(FAKE)("proposed gaps", () => {
  it("keep a fall as small as was wished, are set one by one or all in one step, and are closed in an order", async () => {
    const { page, complaints } = await house.open("/plan", DESK);
    const slip = await touches(page);
    expect(await worst(page)).toBe(600);
    await slip.getByRole("button", { name: "How small" }).click();
    const most = slip.getByLabel("Pieces that may fall", { exact: true });
    await most.fill("150");
    await most.press("Enter");
    await slip.getByRole("button", { name: "Propose gaps" }).click();
    await slip.locator(".proposed").waitFor();
    const told = Number(await slip.locator(".proposed").getAttribute("data-worst"));
    expect(told).toBeLessThanOrEqual(150);
    const rows = slip.locator(".proposals > li");
    // 600 pieces in parts of 150 want three gaps, or four where places do not fit.
    const n = await rows.count();
    expect([3, 4]).toContain(n);
    expect(await rows.first().innerText()).toMatch(/Long, ranks \d+ to \d+\..*A touch beside it then takes \d+ at the most\./s);
    expect(await serious(page)).toEqual([]);

    await rows.first().getByRole("button", { name: /^Set this gap/ }).click();
    await slip.locator('.proposals > li[data-set="true"]').waitFor();
    const first = await gapsOf(page, "Long");
    expect(first).toHaveLength(1);
    await slip.getByRole("button", { name: `Set all ${n - 1}` }).click();
    await expect.poll(() => slip.locator('.proposals > li[data-set="true"]').count()).toBe(n);
    const all = await gapsOf(page, "Long");
    expect(all).toHaveLength(n);
    expect(all.map((g) => g.first)).toEqual(all.map((g) => g.first).sort((a, b) => a - b));
    // What was told is what a touch takes now.
    expect(await worst(page)).toBe(told);

    const closing = slip.locator(".closing");
    await closing.locator("summary").click();
    expect(await closing.locator("li").count()).toBe(n);
    // The last one joins all of the line; what the gaps leave out is not counted.
    const out = all.reduce((sum, g) => sum + g.count, 0);
    expect(await closing.locator("li").last().innerText()).toContain(`${600 - out} pieces hang together`);
    expect(await slip.locator(".cautions").innerText()).toMatch(/Keep exits and ways out free at all times; local codes/);
    await page.getByRole("application").focus();
    await page.keyboard.press("Control+z");
    await expect.poll(() => gapsOf(page, "Long")).toEqual(first);
    await page.keyboard.press("Control+z");
    await expect.poll(() => gapsOf(page, "Long")).toEqual([]);
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  it("are as many as were wished, and as many as are worth their work without a wish", async () => {
    const { page } = await house.open("/plan", DESK);
    const slip = await touches(page);
    await slip.getByRole("button", { name: "How many" }).click();
    const most = slip.getByLabel("Gaps at the most", { exact: true });
    await most.fill("2");
    await most.press("Enter");
    await slip.getByRole("button", { name: "Propose gaps" }).click();
    await expect.poll(() => slip.locator(".proposals > li").count()).toBe(2);
    // The place of a gap is shown on the floor, at the same scale as before or nearer.
    const bar = await page.locator(".scalebar b").innerText();
    await slip.locator(".proposals > li").first().getByRole("button", { name: "Show" }).click();
    await expect.poll(() => page.locator(".scalebar b").innerText()).not.toBe(bar);
    // The same from the list of what can be done, with what is worth its work: as `build` proposes it.
    await slip.getByRole("button", { name: "Worth it" }).click();
    await page.getByRole("application").focus();
    await page.keyboard.press("/");
    await page.waitForSelector("dialog.find[open]");
    await page.keyboard.type("propose gaps");
    await page.keyboard.press("Enter");
    const built = JSON.parse(await standfast("build", PLAN, "--json")) as { proposals: unknown[]; after: { worst: number } };
    expect(built.proposals.length).toBeGreaterThan(2);
    await expect.poll(() => slip.locator(".proposals > li").count()).toBe(built.proposals.length);
    expect(Number(await slip.locator(".proposed").getAttribute("data-worst"))).toBe(built.after.worst);
    await page.context().close();
  });

  it("are told in German, with their cautions", async () => {
    const { page } = await house.open("/plan", DESK);
    await page.evaluate(() => localStorage.setItem("standfast.language", "de"));
    await page.reload();
    await page.waitForSelector('[data-pieces]:not([data-pieces=""])');
    await page.locator('.hallbar [data-action="floor.touch"]').click();
    const slip = page.locator(".touchslip");
    await slip.getByRole("button", { name: "Wie viele" }).click();
    await slip.getByRole("button", { name: "Lücken vorschlagen" }).click();
    await slip.locator(".proposed").waitFor();
    expect(await slip.locator(".proposals > li").first().innerText()).toMatch(/Long, Reihen \d+ bis \d+\..*\d+ Steine weglassen.*Eine Berührung daneben kostet dann höchstens \d+\./s);
    expect(await slip.locator(".cautions").innerText()).toContain("örtliche Vorschriften und die Regeln der Halle gehen vor");
    await page.context().close();
  });
});
