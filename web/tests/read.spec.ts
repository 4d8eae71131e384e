import { describe, expect, it } from "vitest";
import type { Page } from "playwright-core";
import { TABLET, housed } from "./house";

const house = housed("example");

interface Lane {
  calls: { colour: number; count: number; laid: number }[];
  total: number;
  places: number;
}
const field = (page: Page) =>
  page.evaluate(() => fetch("/api/state").then((r) => r.json()).then((s) => s.items.find((i: { body: { is: string } }) => i.body.is === "field"))) as Promise<{
    id: number;
    body: { lanes: number; ranks: number };
  }>;
const lane = (page: Page, id: number, n: number) =>
  page.evaluate(([i, k]) => fetch(`/api/read/${i}/${k}?side=drawn&from=south&unit=lane`).then((r) => r.json()), [id, n]) as Promise<Lane>;

/** The count of the call as it stands on the screen. */
const shown = async (page: Page) => Number((await page.textContent(".count"))!.replace(/\D/g, ""));

describe("the reading page", () => {
  it("calls every run of a lane in order, and the sum is the sum of what was called", async () => {
    const { page, complaints } = await house.open("/read", TABLET);
    await page.waitForSelector(".picks img");
    const f = await field(page);
    await page.goto(`${house.address}/read/${f.id}/2`);
    await page.waitForSelector(".count");
    const wanted = await lane(page, f.id, 2);
    const counts: number[] = [];
    for (let i = 0; i < wanted.calls.length; i++) {
      counts.push(await shown(page));
      await page.keyboard.press(["Space", "ArrowRight", "Enter", "PageDown"][i % 4]!);
    }
    expect(counts).toEqual(wanted.calls.map((c) => c.count));
    await page.waitForSelector(".huge");
    expect(await page.textContent(".huge")).toContain("Lane 2 done");
    expect((await page.textContent(".said"))!.replace(/[^\d ]/g, "")).toContain(String(wanted.total));
    await page.keyboard.press("ArrowLeft");
    expect(await shown(page)).toBe(wanted.calls.at(-1)!.count);
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  it("keeps its place over a reload", async () => {
    const { page } = await house.open("/read", TABLET);
    const f = await field(page);
    await page.goto(`${house.address}/read/${f.id}/1`);
    await page.waitForSelector(".count");
    await page.keyboard.press("Space");
    await page.keyboard.press("Space");
    const before = await page.textContent(".sum b");
    await page.reload();
    await page.waitForSelector(".count");
    expect(await page.textContent(".sum b")).toBe(before);
    await page.context().close();
  });

  it("can be read from two metres and hit with a thumb", async () => {
    const { page } = await house.open("/read", TABLET);
    const f = await field(page);
    await page.goto(`${house.address}/read/${f.id}/1`);
    await page.waitForSelector(".count");
    const size = await page.locator(".count").evaluate((e) => parseFloat(getComputedStyle(e).fontSize));
    expect(size).toBeGreaterThanOrEqual(220);
    for (const name of ["Back", "Next"]) {
      const box = (await page.getByRole("button", { name, exact: true }).boundingBox())!;
      expect(box.height).toBeGreaterThanOrEqual(136);
      expect(box.width).toBeGreaterThanOrEqual(168);
    }
    await page.context().close();
  });

  it("says when the lane changed under the builder's hands", async () => {
    const { page } = await house.open("/read", TABLET);
    const f = await field(page);
    await page.goto(`${house.address}/read/${f.id}/1`);
    await page.waitForSelector(".count");
    await page.keyboard.press("Space");
    // The first rank of every lane becomes empty, whatever the numbering of lanes is.
    await page.evaluate(
      ([id, lanes, ranks]) =>
        fetch("/api/do", {
          method: "POST",
          headers: { "Content-Type": "application/json", "X-Standfast": "1" },
          body: JSON.stringify({ do: "paint", item: id, cells: Array.from({ length: lanes! }, (_, l) => l * ranks!), colour: 0 }),
        }),
      [f.id, f.body.lanes, f.body.ranks],
    );
    await page.waitForSelector(".said[role=alert]");
    expect(await page.textContent(".said")).toContain("This lane changed");
    await page.getByRole("button", { name: "Begin the lane again" }).click();
    const skips = (await lane(page, f.id, 1)).calls.filter((c) => c.colour === 0);
    expect(skips.length).toBeGreaterThan(0);
    for (let i = 0; (await page.locator(".cname").textContent()) !== "Skip"; i++) {
      expect(i).toBeLessThan(500);
      await page.keyboard.press("Space");
    }
    expect(await shown(page)).toBe(skips[0]!.count);
    await page.context().close();
  });

  it("reads on without a connection and says since when, then goes on by itself", async () => {
    const own = await house.own("example");
    const port = Number(new URL(own.address).port);
    const { page } = await house.open("/read", TABLET, undefined, own);
    const f = await field(page);
    await page.goto(`${own.address}/read/${f.id}/1`);
    await page.waitForSelector(".count");
    const wanted = await lane(page, f.id, 1);
    const following = await lane(page, f.id, 2);
    // Lanes ahead are fetched in the background.
    await page.waitForLoadState("networkidle");
    await own.stop();
    await page.waitForFunction(() => document.querySelector(".top [role=status]")?.textContent?.includes("No connection since"));
    for (let i = 0; i <= wanted.calls.length; i++) await page.keyboard.press("Space");
    expect(await page.textContent(".top h1")).toContain("lane 2");
    expect(await shown(page)).toBe(following.calls[0]!.count);
    const again = await house.own("example", port);
    await page.waitForFunction(() => document.querySelector(".top [role=status]")?.textContent === "", undefined, { timeout: 30_000 });
    await page.context().close();
    await again.stop();
  });
});
