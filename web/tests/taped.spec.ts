/** The hall as measured, entered on the page of the plan: from an empty plan to a hall that is drawn as it was taped. */
import { describe, expect, it } from "vitest";
import type { Page } from "playwright-core";
import { DESK, everywhere, figure, floor, get, housed, PHONE, scale, SOON, TABLET } from "./house";
import { FAKE, serious, type Size } from "./start";

const house = housed(null);

type Pair = [number, number];
interface Taped {
  marks: { name: string; at: Pair; fitted: Pair | null }[];
  tapes: { from: string; to: string; length: number; misfit: number; is: string }[];
  draws: boolean;
}
const taped = (page: Page) => get<Taped>(page, "/api/hall/taped");
const undo = async (page: Page) => (await get<{ undo: string | null }>(page, "/api/state")).undo;
const walls = async (page: Page) => (await get<{ floor_plan: { outline: Pair[] } }>(page, "/api/state")).floor_plan.outline;
const sayings = (page: Page) => page.locator(".tapedslip .tapedrows [data-says]").evaluateAll((rows) => rows.map((r) => (r as HTMLElement).dataset.says));

/** An empty plan with a hall of 1.2 by 0.9 m, whose walls are drawn by keys: its diagonal is 1.5 m. Small, so that all of it is in sight at the scale of a place. */
async function hall(size: Size) {
  house.server = await house.own("empty");
  const { page, complaints } = await house.open("/plan", size);
  await page.locator('[data-action="hall.draw"]').click();
  await page.locator('.toolslip[aria-label="Hall"]').waitFor();
  await floor(page).focus();
  await page.keyboard.press("Enter");
  await page.keyboard.type("1.2 m");
  await page.keyboard.press("Tab");
  await page.keyboard.type("90 cm");
  await page.keyboard.press("Enter");
  await page.keyboard.press("Shift+Enter");
  await expect.poll(() => walls(page), SOON).toHaveLength(4);
  const outline = await walls(page);
  const [x0, y0] = [0, 1].map((i) => Math.min(...outline.map((p) => p[i as 0 | 1]))) as Pair;
  const middle: Pair = [x0 + 600, y0 + 450];
  await page.goto(`${house.address}/plan?at=${middle.join()}`);
  await floor(page).focus();
  for (let i = 0; i < 2; i++) await page.keyboard.press("-");
  const mm = await scale(page);
  const box = (await floor(page).boundingBox())!;
  /** Where a place of the hall is on the screen, from its southern and western walls. */
  const place = ([x, y]: Pair): Pair => [box.x + box.width / 2 + (x0 + x - middle[0]) / mm, box.y + box.height / 2 - (y0 + y - middle[1]) / mm];
  return { page, complaints, press: (p: Pair) => page.mouse.click(...place(p)), x0, y0 };
}

/** Opens the slip by the list of what can be done. */
async function opened(page: Page) {
  await floor(page).focus();
  await page.keyboard.press("/");
  await page.waitForSelector("dialog.find[open]");
  await page.keyboard.type("measured hall");
  await page.keyboard.press("Enter");
  await page.locator(".tapedslip").waitFor();
  return page.locator(".tapedslip");
}

describe.skipIf(FAKE)("the hall as measured", () => {
  it("takes two sides and a diagonal on the floor, names one that cannot be true, and undoes it", { timeout: 120_000 }, async () => {
    const { page, complaints, press, x0, y0 } = await hall(DESK);
    const slip = await opened(page);
    await slip.locator('[data-do="tape"]').click();
    // A side, by the keys of the floor; the next, in the field of the tool; the diagonal of 3, 4 and 5. All are two thirds of what
    // was drawn, so that no figure can come from the drawing.
    await press([0, 0]);
    await press([1_200, 0]);
    expect(await page.locator(".toolslip").innerText()).toMatch(/Drawn: 1\.20\sm/);
    await page.keyboard.type("0.8 m");
    await page.keyboard.press("Enter");
    await expect.poll(async () => (await taped(page)).tapes.length, SOON).toBe(1);
    await press([1_200, 0]);
    await press([1_200, 900]);
    await figure(page, "The tape says", "600");
    await expect.poll(async () => (await taped(page)).tapes.length, SOON).toBe(2);
    expect(await undo(page)).toBe("Tape B to C");
    await page.locator(".toolslip").getByRole("combobox").first().selectOption("A");
    await page.locator(".toolslip").getByRole("combobox").nth(1).selectOption("C");
    await figure(page, "The tape says", "1m");
    await expect.poll(async () => (await taped(page)).tapes, SOON).toMatchObject([
      { from: "A", to: "B", length: 800, is: "fine" }, { from: "B", to: "C", length: 600, is: "fine" }, { from: "A", to: "C", length: 1_000, is: "fine" },
    ]);
    // Corners were met, and by Pythagoras the taped hall has a right angle too.
    const told = await taped(page);
    expect(told.marks.map((m) => m.at)).toEqual([[x0, y0], [x0 + 1_200, y0], [x0 + 1_200, y0 + 900]]);
    const measured: Pair[] = [[x0, y0], [x0 + 800, y0], [x0 + 800, y0 + 600]];
    told.marks.forEach((m, k) => measured[k]!.forEach((v, i) => expect(m.fitted![i]).toBeCloseTo(v, 3)));
    expect(told.draws).toBe(true);
    await expect.poll(() => sayings(page), SOON).toEqual(["unchecked", "unchecked", "unchecked"]);
    expect(await slip.innerText()).toContain("nothing checks these tapes yet");
    expect(await serious(page)).toEqual([]);

    // 0.8 and 0.6 m reach 1.4 m at the most; 1.7 m is 300 mm too long, and a third of that remains at each.
    await slip.getByRole("button", { name: /A to C/ }).click();
    const length = slip.getByLabel("The tape says");
    await length.fill("1.7 m");
    await length.press("Enter");
    await expect.poll(() => sayings(page), SOON).toEqual(["doubted", "doubted", "doubted"]);
    expect(await slip.innerText()).toMatch(/The tapes do not fit together: even at the best 100\smm remain/);
    expect(await slip.locator('[data-says="doubted"]').nth(2).innerText()).toMatch(/clashes with others; \+100\smm off the fit; 300\smm longer than the way round/);
    expect(await serious(page)).toEqual([]);
    await floor(page).focus();
    await page.keyboard.press("Control+z");
    await expect.poll(() => sayings(page), SOON).toEqual(["unchecked", "unchecked", "unchecked"]);

    // The finding leads here from anywhere.
    await page.keyboard.press("Control+Shift+z");
    await expect.poll(() => sayings(page), SOON).toEqual(["doubted", "doubted", "doubted"]);
    await slip.getByRole("button", { name: "Close" }).click();
    await slip.waitFor({ state: "detached" });
    await page.goto(`${house.address}/stock`);
    await page.locator('[data-action="findings"]').click();
    const finding = page.locator(".findings li", { hasText: "The tapes do not fit together" });
    await finding.getByRole("button", { name: "Show" }).click();
    await slip.waitFor();
    await expect.poll(() => sayings(page), SOON).toEqual(["doubted", "doubted", "doubted"]);
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  it("is typed by keys alone on a tablet, and draws the hall as it was measured", { timeout: 120_000 }, async () => {
    const { page, complaints, x0, y0 } = await hall(TABLET);
    await floor(page).focus();
    await page.keyboard.press("Shift+T");
    const slip = page.locator(".tapedslip");
    await slip.waitFor();
    const add = async (east: string, north: string) => {
      // The form of the mark before closes once the plan has it.
      await slip.locator('[data-do="addmark"][aria-expanded="false"]:enabled').press("Enter");
      for (const [label, text] of [["East of the origin", east], ["North of the origin", north]] as const) {
        const field = slip.getByLabel(label);
        await field.fill(text);
        await field.press("Enter");
      }
      await slip.getByRole("button", { name: "Add it" }).press("Enter");
    };
    const corners: Pair[] = [[x0, y0], [x0 + 1_200, y0], [x0 + 1_200, y0 + 900]];
    for (const [i, [x, y]] of corners.entries()) {
      await add(String(x), String(y));
      await expect.poll(async () => (await taped(page)).marks.length, SOON).toBe(i + 1);
    }
    // 50 mm narrower than drawn; its diagonal is then the root of 1.15² and 0.9².
    for (const [from, to, text] of [["A", "B", "1150"], ["B", "C", "90 cm"], ["A", "C", "1460.31"]] as const) {
      if ((await slip.locator('[data-do="addtape"]').getAttribute("aria-expanded")) !== "true") await slip.locator('[data-do="addtape"]').press("Enter");
      const [was, n] = [slip.getByLabel("From", { exact: true }), (await taped(page)).tapes.length];
      await was.selectOption(from);
      await slip.getByLabel("To", { exact: true }).selectOption(to);
      await slip.getByLabel("The tape says").fill(text);
      await slip.getByLabel("The tape says").press("Enter");
      await expect.poll(async () => (await taped(page)).tapes.length, SOON).toBe(n + 1);
    }
    await expect.poll(() => slip.locator('[data-mark="B"]').innerText(), SOON).toMatch(/measured 50\smm off: 50\smm west/);
    expect(await serious(page)).toEqual([]);
    await slip.locator('[data-do="draw"]').click();
    await expect.poll(async () => Math.round((await walls(page)).reduce((most, p) => Math.max(most, p[0]), -Infinity) - x0), SOON).toBe(1_150);
    expect(await undo(page)).toBe("Draw the hall as measured");
    await slip.locator('[data-do="draw"]').waitFor({ state: "detached" });
    await page.locator(".toast", { hasText: "drawn as measured" }).getByRole("button", { name: "Undo" }).click();
    await expect.poll(async () => Math.round((await walls(page)).reduce((most, p) => Math.max(most, p[0]), -Infinity) - x0), SOON).toBe(1_200);
    // A name goes along with its tapes; a mark takes them away.
    await slip.locator('[data-mark="B"] .taperow').click();
    await slip.getByLabel("Name").fill("Pillar 2");
    await slip.getByLabel("Name").press("Enter");
    await expect.poll(async () => (await taped(page)).tapes[0]!.to, SOON).toBe("Pillar 2");
    await slip.getByRole("button", { name: "Remove Pillar 2 and its distances" }).click();
    await expect.poll(async () => (await taped(page)).tapes.length, SOON).toBe(1);
    await everywhere(page, async (what, size) => {
      if (size.width > PHONE.width) expect(await slip.count(), what).toBe(1);
      expect(await serious(page), what).toEqual([]);
    });
    await slip.getByRole("button", { name: "Close" }).focus();
    await page.keyboard.press("Escape");
    await slip.waitFor({ state: "detached" });
    expect(complaints).toEqual([]);
    await page.context().close();
  });
});
