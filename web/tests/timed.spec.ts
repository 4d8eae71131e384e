/** A line of the crew's own, timed on the page of the fall: its times become narrower, and what cannot be true is named. */
import { describe, expect, it } from "vitest";
import { DESK, everywhere, get, housed, SOON } from "./house";
import { FAKE, serious } from "./start";

const house = housed(FAKE ? null : "run");

interface Timed {
  lines: { line: { pieces: number; gap: number; took: number }; is: string }[];
  piece: [number, number];
}

describe.skipIf(FAKE)("lines of the crew's own", () => {
  it("narrow the times of the fall by keys alone, and one that cannot have run so does not count", { timeout: 120_000 }, async () => {
    const { page, complaints } = await house.open("/fall", DESK);
    const told = () => get<Timed>(page, "/api/hall/timed");
    const times = async () => {
      const { least, most } = await get<{ least: number; most: number }>(page, "/api/fall/report");
      return most / least;
    };
    await page.locator(".fallreport [data-fallen]").waitFor();
    const before = await times();
    await page.getByRole("application").focus();
    await page.keyboard.press("t");
    const slip = page.locator(".timedslip");
    await slip.locator('[data-lines="0"]').waitFor();
    expect(await slip.innerText()).toMatch(/Friction of piece on piece: 0\.06.{1,4}0\.20\./);
    await slip.locator('[data-do="add"]').press("Enter");
    // What the plan draws with stands there: 15 mm from middle to middle leaves 7.5 between pieces.
    expect(await slip.getByLabel("Clear gap, face to face").inputValue()).toBe("7.5");
    expect(await slip.getByLabel("Pieces between the two pictures").inputValue()).toBe("200");
    const took = slip.getByLabel("Time between the two pictures");
    await took.fill("2,8");
    await took.press("Enter");
    await slip.getByRole("button", { name: "Add it" }).press("Enter");
    // 3 m in 2.8 s; filmed lines ran at 0.95 to 1.25 m/s.
    await expect.poll(() => slip.locator('[data-is="fine"]').innerText(), SOON).toMatch(/200 pieces, gap 7\.5\smm, 2\.80 s\s+✓ 1\.07 m\/s, friction 0\.1\d/);
    await expect.poll(times, SOON).toBeLessThan(1 + (before - 1) / 2);
    expect(await slip.locator('[role="status"]').innerText()).toMatch(/by what was timed; the hall states 0\.06.{1,4}0\.20\./);
    expect((await told()).lines).toHaveLength(1);

    // Half the time is less than without friction.
    await slip.locator(".taperow").press("Enter");
    await took.fill("1.4");
    await took.press("Enter");
    await expect.poll(() => slip.locator('[data-is="too-fast"]').innerText(), SOON).toContain("faster than without friction; it does not count");
    await expect.poll(times, SOON).toBeCloseTo(before, 9);
    await everywhere(page, async (what) => expect(await serious(page), what).toEqual([]));
    await page.setViewportSize(DESK);
    await page.keyboard.press("Escape");
    await slip.waitFor({ state: "detached" });

    // The finding leads here from anywhere.
    await page.goto(`${house.address}/stock`);
    await page.locator('[data-action="findings"]').click();
    await page.locator(".findings li", { hasText: "without any friction it takes 2.124" }).getByRole("button", { name: "Show" }).click();
    await slip.locator(".taperow").click();
    await slip.getByRole("button", { name: "Remove it" }).click();
    await slip.locator('[data-lines="0"]').waitFor();
    expect((await get<{ undo: string | null }>(page, "/api/state")).undo).toBe("Remove the timed line of 200 pieces");
    expect(complaints).toEqual([]);
    await page.context().close();
  });
});
