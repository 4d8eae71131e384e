/** A section that stands elsewhere than it was drawn, moved from the pages. */
import { describe, expect, it } from "vitest";
import type { Page } from "playwright-core";
import { DESK, everywhere, get, housed, PHONE } from "./house";
import { FAKE, serious } from "./start";

const house = housed("taped");

interface Item {
  id: number;
  name: string;
  x: number;
  y: number;
  heading: number;
}
const item = async (page: Page, name: string) => (await get<{ items: Item[] }>(page, "/api/state")).items.find((i) => i.name === name)!;
/** By the list of what can be done, as whoever does not know where it lives. */
async function opened(page: Page) {
  await page.getByRole("application").focus();
  await page.keyboard.press("/");
  await page.waitForSelector("dialog.find[open]");
  await page.keyboard.type("move a section");
  await page.keyboard.press("Enter");
  const slip = page.locator(".shiftslip");
  await slip.waitFor();
  return slip;
}

describe.skipIf(FAKE)("moving a section", () => {
  it("begins with the section of what is chosen, shows the move before it is made, and makes it as one step", async () => {
    const { page, complaints } = await house.open("/plan", DESK);
    await page.waitForSelector('[data-pieces]:not([data-pieces=""])');
    await page.locator('[data-action="floor.outline"]').click();
    await page.locator(".outline .orow.item", { hasText: "Brook" }).click();
    const slip = await opened(page);
    expect(await slip.locator("select option:checked").innerText()).toBe("East");
    const [brook, order, long] = [await item(page, "Brook"), await item(page, "Order"), await item(page, "Long")];
    const east = slip.getByLabel("To the east", { exact: true });
    await east.fill("12 mm");
    await east.press("Enter");
    const north = slip.getByLabel("To the north", { exact: true });
    await north.fill("1/2in");
    await north.press("Enter");
    await slip.locator('[data-tried="2"]').waitFor();
    expect(await slip.locator("[data-tried]").innerText()).toMatch(/2 items are moved.*Findings about them then/s);
    // Nothing has been moved yet.
    expect([await item(page, "Brook"), await item(page, "Order")]).toEqual([brook, order]);
    expect(await serious(page)).toEqual([]);
    await slip.getByRole("button", { name: "Move it" }).click();
    await slip.waitFor({ state: "detached" });
    for (const was of [brook, order]) expect(await item(page, was.name)).toMatchObject({ x: was.x + 12, y: was.y + 12.7, heading: was.heading });
    expect(await item(page, "Long")).toEqual(long);
    await page.locator(".toast", { hasText: "Section East is moved." }).getByRole("button", { name: "Undo" }).click();
    await expect.poll(() => item(page, "Brook")).toEqual(brook);
    expect(await item(page, "Order")).toEqual(order);
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  it("offers what the tapes say, and turns about the middle of the section", async () => {
    const { page } = await house.open("/plan", DESK);
    await page.waitForSelector('[data-pieces]:not([data-pieces=""])');
    const slip = await opened(page);
    // Nothing is chosen, so that it begins with the first; its nearest mark lies where it was drawn.
    expect(await slip.locator("select option:checked").innerText()).toBe("West");
    await slip.locator("select").selectOption({ label: "East" });
    await slip.locator('[data-do="measured"]').click();
    const east = slip.getByLabel("To the east", { exact: true });
    // Drawn at 12 m and taped at 11.95 m.
    await expect.poll(async () => Math.abs(Number((await east.inputValue()).replace("\u2212", "-")) + 50)).toBeLessThan(0.2);
    expect(await slip.innerText()).toMatch(/Mark B, the nearest, lies 50(\.0)?\smm west/);
    await east.fill("0");
    await east.press("Enter");
    await slip.getByLabel("To the north", { exact: true }).fill("0");
    await slip.getByLabel("Turn to the left", { exact: true }).fill("180");
    await slip.getByLabel("Turn to the left", { exact: true }).press("Enter");
    await slip.locator("[data-tried]").waitFor();
    const order = await item(page, "Order");
    const stands = await get<{ middle: [number, number] }>(page, `/api/section/${(await get<{ sections: { id: number; name: string }[] }>(page, "/api/state")).sections.find((s) => s.name === "East")!.id}`);
    await slip.getByRole("button", { name: "Move it" }).click();
    await slip.waitFor({ state: "detached" });
    const turned = await item(page, "Order");
    expect(turned.x).toBeCloseTo(2 * stands.middle[0] - order.x, 3);
    expect(turned.y).toBeCloseTo(2 * stands.middle[1] - order.y, 3);
    await page.keyboard.press("Control+z");
    await expect.poll(() => item(page, "Order")).toEqual(order);
    await page.context().close();
  });

  it("closes by its key, and has no serious findings in any look", async () => {
    const { page } = await house.open("/plan", DESK);
    await page.waitForSelector('[data-pieces]:not([data-pieces=""])');
    const slip = await opened(page);
    await everywhere(page, async (what, size) => {
      // A telephone shows the plan and moves nothing.
      if (size.width > PHONE.width) expect(await slip.count(), what).toBe(1);
      expect(await serious(page), what).toEqual([]);
    });
    await slip.locator("select").focus();
    await page.keyboard.press("Escape");
    await slip.waitFor({ state: "detached" });
    await page.context().close();
  });
});
