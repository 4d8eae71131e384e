/** Combs and what else is not a piece: from the usual pieces to a comb of one's own, by keys alone. */
import { describe, expect, it } from "vitest";
import type { Page } from "playwright-core";
import { DESK, everywhere, floor, get, housed, send, SOON, take } from "./house";
import { FAKE, serious } from "./start";

const house = housed(null);

type What = { is: string; pitch?: number; teeth?: number; length?: number; height?: number; thickness?: number };
interface Seen {
  saved: { change: number };
  undo: string | null;
  kinds: { id: number }[];
  gear: { id: number; name: string; what: What; count: number; owner: string }[];
  items: { id: number; name: string; sort: string; pitch: [number, number] }[];
}
const state = (page: Page) => get<Seen>(page, "/api/state");

const missing = async (page: Page) => (await get<{ list: { code: string; item: number | null }[] }>(page, "/api/findings")).list.filter((f) => f.code === "comb-missing");
const combs = async (page: Page) => (await state(page)).gear.filter((g) => g.what.is === "comb").map((g) => g.what.pitch);

/** A line of two points by keys: from the middle of the floor to the east. */
async function line(page: Page, pitch: string | null) {
  const before = (await state(page)).items.length;
  await take(page, "l", "Line");
  if (pitch !== null) {
    const box = page.locator(".toolslip").getByLabel("Pitch", { exact: true });
    await box.fill(pitch);
    await box.press("Enter");
    await floor(page).focus();
  }
  await page.keyboard.press("Enter");
  for (let i = 0; i < 4; i++) await page.keyboard.press("ArrowRight");
  await page.keyboard.press("Enter");
  await page.keyboard.press("Shift+Enter");
  await expect.poll(async () => (await state(page)).items.length, SOON).toBe(before + 1);
}

describe.skipIf(FAKE)("gear", () => {
  it("comes with the usual pieces, is added, wanted, taken away and brought back by keys alone", async () => {
    const own = await house.own("empty");
    const { page, complaints } = await house.open("/plan", DESK, undefined, own);
    await page.waitForSelector(".firstminutes");
    await page.getByLabel("You own of each").fill("3000");
    await page.locator('[data-action="stock.usual"]').press("Enter");
    await expect.poll(async () => (await state(page)).kinds.length, SOON).toBe(1);
    expect(await combs(page)).toEqual([15]);

    // Lines as they begin have their comb; one at another pitch has none.
    await line(page, null);
    expect(await missing(page)).toEqual([]);
    await line(page, "20 mm");
    const wide = (await state(page)).items.find((i) => i.pitch[0] === 20)!;
    expect(await missing(page)).toMatchObject([{ item: wide.id }]);

    // The finding leads to the gear, which names the comb that is wanted; its form is ready to be typed into.
    await page.keyboard.press("F6");
    await page.locator(".slip.findings").getByRole("button", { name: "Show the gear" }).press("Enter");
    await page.locator(".gearwanted").getByRole("button", { name: /Add a comb of 20/ }).press("Enter");
    const pitch = page.locator(".gearform").getByLabel("Pitch that it sets", { exact: true });
    await expect.poll(() => pitch.evaluate((e) => e === document.activeElement), SOON).toBe(true);
    expect(await pitch.inputValue()).toBe("20");
    // Out of bounds is said in place, and nothing is added.
    await pitch.fill("0.5 mm");
    await page.keyboard.press("Enter");
    expect(await page.locator(".gearform .nf.bad .why").innerText()).toMatch(/Use 1\smm to/);
    expect(await combs(page)).toEqual([15]);
    await pitch.fill("2 cm");
    await page.keyboard.press("Enter");
    await expect.poll(() => combs(page), SOON).toEqual([15, 20]);
    expect((await state(page)).gear[1]).toMatchObject({ name: "Comb 20 mm", what: { is: "comb", pitch: 20, teeth: 20 }, count: 1, owner: "" });
    expect(await missing(page)).toEqual([]);
    await page.waitForSelector(".gearwanted", { state: "detached" });

    // The keys stand on the new comb: Delete takes it away, and the finding is there again.
    const second = page.locator("[data-gear]", { hasText: "Comb 20 mm" });
    await expect.poll(() => second.evaluate((e) => e === document.activeElement), SOON).toBe(true);
    await page.keyboard.press("Delete");
    await expect.poll(() => combs(page), SOON).toEqual([15]);
    expect(await missing(page)).toMatchObject([{ item: wide.id }]);
    await page.keyboard.press("Control+z");
    await expect.poll(() => combs(page), SOON).toEqual([15, 20]);
    expect(await missing(page)).toEqual([]);
    // A line at that pitch, with the comb there.
    await page.goto(`${own.address}/plan`);
    await page.waitForSelector('.hallcount[data-pieces]:not([data-pieces=""])', SOON);
    await line(page, "20 mm");
    expect((await state(page)).items.filter((i) => i.pitch[0] === 20)).toHaveLength(2);
    expect(await missing(page)).toEqual([]);
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  it("of every sort is added, changed in the units of the page, and refused in place", async () => {
    const own = await house.own("run");
    const { page, complaints } = await house.open("/stock?part=gear", DESK, undefined, own);
    await page.waitForSelector(".gearform");
    const before = (await state(page)).gear.length;
    const form = page.locator(".gearform");
    for (const [key, label, typed, owner] of [["Add a plank", "Thickness", "0.5 in", "Omar"], ["Add a support", "Height", "7.5 cm", "Ada"], ["Add cord", "Length of a roll", "30", "Ines"]] as const) {
      await page.getByRole("button", { name: key, exact: true }).click();
      await form.getByLabel(label, { exact: true }).fill(typed);
      await form.getByLabel("Owner", { exact: true }).fill(owner);
      await form.getByRole("button", { name: "Add it" }).click();
      await expect.poll(async () => (await state(page)).gear.some((g) => g.owner === owner), SOON).toBe(true);
      await form.getByRole("button", { name: "Take it away" }).waitFor();
    }
    const added = (await state(page)).gear.slice(before);
    expect(added.map(({ name, what, owner }) => ({ name, what, owner }))).toEqual([
      { name: "Plank 600 mm", what: { is: "plank", length: 600, width: 60, thickness: 12.7 }, owner: "Omar" },
      { name: "Support 75 mm", what: { is: "support", height: 75 }, owner: "Ada" },
      { name: "Cord 30.00 m", what: { is: "cord", length: 30_000 }, owner: "Ines" },
    ]);
    // A name that somebody chose stays when the size changes; one that nobody chose follows.
    const name = form.getByLabel("Name", { exact: true });
    await name.fill(" ");
    expect(await form.locator(".nf.bad .why").innerText()).toBe("Write something. The old words still hold.");
    // The plan is told late: what was typed before does not come back with what is typed next.
    await page.route("**/api/state", async (route) => {
      await new Promise((done) => setTimeout(done, 700));
      await route.continue();
    });
    await name.fill("Blue roll");
    await name.press("Enter");
    await form.getByLabel("How many", { exact: true }).fill("4");
    await form.getByLabel("How many", { exact: true }).press("Enter");
    await form.getByLabel("Length of a roll", { exact: true }).fill("80 ft");
    await form.getByLabel("Length of a roll", { exact: true }).press("Enter");
    await expect.poll(async () => (await state(page)).gear.at(-1), SOON).toMatchObject({ name: "Blue roll", count: 4, what: { is: "cord", length: 24_384 } });
    await page.unrouteAll({ behavior: "wait" });
    // Nor what is kept until there is a connection.
    await page.route("**/api/do", (route) => route.abort());
    await form.getByLabel("Owner", { exact: true }).fill("Bela");
    await form.getByLabel("Owner", { exact: true }).press("Enter");
    await form.getByLabel("How many", { exact: true }).fill("6");
    await form.getByLabel("How many", { exact: true }).press("Enter");
    await page.getByText("2 changes").first().waitFor(SOON);
    await page.unroute("**/api/do");
    await expect.poll(async () => (await state(page)).gear.at(-1), SOON).toMatchObject({ name: "Blue roll", owner: "Bela", count: 6 });
    // What another window took away meanwhile is refused where it was changed.
    const gone = added[2]!.id;
    await page.route("**/api/state", (route) => route.abort());
    expect((await send(page, "/api/do", { do: "remove-gear", id: gone })).status).toBe(200);
    await form.getByLabel("How many", { exact: true }).fill("5");
    await form.getByLabel("How many", { exact: true }).press("Enter");
    await expect.poll(() => form.locator(".nf.bad .why").innerText(), SOON).toContain(`Gear ${gone} is not in this plan`);
    await page.unroute("**/api/state");
    expect(complaints.filter((c) => !/404|ERR_FAILED/.test(c))).toEqual([]);
    await page.context().close();
  });

  it("is accessible, with its forms, in three looks and at three sizes, in English and German", async () => {
    const own = await house.own("run");
    const { page, complaints } = await house.open("/stock?part=gear", DESK, undefined, own);
    for (const [name, what] of [["Comb 15 mm", { is: "comb", pitch: 15, teeth: 20 }], ["Road deck of the mill feed", { is: "plank", length: 600, width: 60, thickness: 12 }]] as const)
      expect((await send(page, "/api/do", { do: "put-gear", id: null, gear: { name, what, count: 2, owner: "Omar" } })).status).toBe(200);
    for (const [path, language] of [["/stock?part=gear", "en"], ["/stock?part=gear&add=comb&pitch=20", "de"], ["/help/gear", "de"]] as const) {
      await page.evaluate((l) => localStorage.setItem("standfast.language", l), language);
      await page.goto(own.address + path);
      await page.waitForSelector(".gearform input, .lead");
      expect(await page.evaluate(() => document.documentElement.lang)).toBe(language);
      await everywhere(page, async (what, size) => {
        expect(await serious(page), `${path}, ${what}`).toEqual([]);
        expect(await page.evaluate(() => document.documentElement.scrollWidth), `${path}, ${what}`).toBeLessThanOrEqual(size.width);
        if (size.width > 1100) return;
        const small = await page.locator(".gearform button, .gearform input, .stocktable button").evaluateAll((all) =>
          all.filter((e) => !e.matches(".why-key")).map((e) => (e.closest(".in") ?? e).getBoundingClientRect()).filter((r) => r.height < 44 && r.height > 0).length);
        expect(small, `${path}, ${what}`).toBe(0);
      });
    }
    expect(complaints).toEqual([]);
    await page.context().close();
  });
});
