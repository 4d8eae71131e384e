import { describe, expect, it } from "vitest";
import { DESK, everywhere, housed } from "./house";
import { FAKE, serious } from "./start";

const house = housed("example");

/** The field Mill of the example. */
const MILL = FAKE ? 1 : 121;

describe("views", () => {
  it.each(["/", "/plan", "/fall", "/stock", "/sheets", "/read", `/read/${MILL}/1`, "/join", "/history", "/help/first", "/help/figures?at=pitch", "/help/safety"])("%s is accessible and stays within the screen in three looks and at three sizes", async (path) => {
    const { page, complaints } = await house.open(path, DESK);
    // Something of the plan is there before anything is judged.
    await page.waitForSelector("main img, .plate, table, .join input, .hallcount b, .sentence, .lead");
    await everywhere(page, async (what, size) => {
      expect(await serious(page), `${path}, ${what}`).toEqual([]);
      expect(await page.evaluate(() => document.documentElement.scrollWidth), `${path}, ${what}`).toBeLessThanOrEqual(size.width);
    });
    expect(complaints).toEqual([]);
    await page.context().close();
  });
});

describe("slips", () => {
  it.each(["Tablets", "Look", "Add a field", "Find or do"])("%s opens, is accessible and gives the focus back", async (name) => {
    const { page } = await house.open("/", DESK);
    const key = page.getByRole("button", { name, exact: true });
    await key.click();
    await page.waitForSelector("dialog[open]");
    await page.waitForTimeout(200);
    expect(await serious(page)).toEqual([]);
    await page.keyboard.press("Escape");
    await page.waitForSelector("dialog", { state: "detached" });
    expect(await key.evaluate((k) => k === document.activeElement)).toBe(true);
    await page.context().close();
  });

  it("F6 brings the findings and Escape takes them away", async () => {
    const { page } = await house.open("/", DESK);
    await page.waitForSelector(".findcount");
    await page.keyboard.press("F6");
    await page.waitForSelector(".slip.findings");
    expect(await serious(page)).toEqual([]);
    await page.keyboard.press("Escape");
    await page.waitForSelector(".slip.findings", { state: "detached" });
    await page.context().close();
  });
});

describe("language and units", () => {
  it("switch at once and are remembered", async () => {
    const { page } = await house.open("/stock", DESK);
    await page.getByRole("button", { name: "Look", exact: true }).click();
    await page.getByRole("button", { name: "Deutsch" }).click();
    await page.getByRole("button", { name: "Fuß und Zoll" }).click();
    await page.reload();
    expect(await page.evaluate(() => document.documentElement.lang)).toBe("de");
    await page.getByRole("link", { name: "Bild" }).click();
    await page.waitForSelector(".stagehead .dim");
    expect(await page.textContent(".stagehead .dim")).toMatch(/\sft/);
    await page.context().close();
  });
});
