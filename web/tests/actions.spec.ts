/** What can be done from everywhere: the command list, keys, history, help, and the first minutes. */
import { describe, expect, it } from "vitest";
import type { Page } from "playwright-core";
import { DESK, PHONE, everywhere, get, housed, send } from "./house";
import { FAKE, serious } from "./start";
import { png } from "./png";

const house = housed("run");
/** Two cores are shared with the server and the browser. */
const SOON = { timeout: 10_000 };


interface Seen {
  name: string;
  undo: string | null;
  redo: string | null;
  items: { id: number; name: string; sort: string; body: { is: string; picture?: number | null } }[];
}
const state = (page: Page) => get<Seen>(page, "/api/state");
const path = (page: Page) => page.evaluate(() => location.pathname + location.search);
const options = (page: Page) => page.locator("dialog.find [role=option]");

async function ready(page: Page) {
  await page.waitForSelector(".kerb .figs");
}
async function ask(page: Page, question: string) {
  await page.keyboard.press("/");
  await page.waitForSelector("dialog.find[open]");
  await page.keyboard.type(question);
}
const gone = (page: Page) => page.waitForSelector("dialog", { state: "detached" });

describe("the command list", () => {
  it("opens by its keys and its button, at every size and in every look, and gives the focus back", async () => {
    const { page, complaints } = await house.open("/stock", DESK);
    await ready(page);
    const key = page.locator("[data-action=find]");
    await everywhere(page, async (what, size) => {
      await key.click();
      await page.waitForSelector("dialog.find[open]");
      expect(await serious(page), what).toEqual([]);
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(size.width);
      await page.keyboard.press("Escape");
      await gone(page);
      expect(await key.evaluate((k) => k === document.activeElement)).toBe(true);
    });
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  it("finds what is typed roughly, in both languages, and Enter does it", async () => {
    const { page } = await house.open("/plan", DESK);
    await ready(page);
    await ask(page, "sotck");
    expect(await options(page).first().textContent()).toContain("Stock");
    await page.keyboard.press("Enter");
    await gone(page);
    expect(await path(page)).toBe("/stock");
    await page.keyboard.press("Control+k");
    await page.waitForSelector("dialog.find[open]");
    await page.keyboard.type("sprache deu");
    await page.keyboard.press("Enter");
    await gone(page);
    expect(await page.evaluate(() => document.documentElement.lang)).toBe("de");
    await ask(page, "language english");
    await page.keyboard.press("Enter");
    await gone(page);
    expect(await page.evaluate(() => document.documentElement.lang)).toBe("en");
    // What was done last stands first.
    await page.keyboard.press("/");
    await page.waitForSelector("dialog.find[open]");
    expect(await options(page).first().textContent()).toContain("Language: English");
    await page.context().close();
  });

  it("is walked by arrows, and readers hear which line is meant", async () => {
    const { page } = await house.open("/stock", DESK);
    await ready(page);
    await page.keyboard.press("/");
    const field = page.getByRole("combobox");
    const meant = async () => {
      const id = await field.getAttribute("aria-activedescendant");
      return page.evaluate((i) => {
        const chosen = [...document.querySelectorAll("[role=option][aria-selected=true]")];
        return chosen.length === 1 && chosen[0]!.id === i ? (chosen[0]!.textContent ?? "").trim() : "not one";
      }, id);
    };
    const first = await meant();
    expect(first).toContain("Plan");
    await page.keyboard.press("ArrowDown");
    expect(await meant()).toContain("Picture");
    await page.keyboard.press("ArrowUp");
    await page.keyboard.press("ArrowUp");
    const last = await meant();
    expect(last).not.toBe(first);
    await page.keyboard.press("ArrowDown");
    expect(await meant()).toBe(first);
    await page.keyboard.type("qqqq");
    expect(await options(page).count()).toBe(0);
    expect(await page.getByText("Nothing fits.").count()).toBeGreaterThan(0);
    await page.context().close();
  });

  it("says why something cannot be done, and does not do it", async () => {
    const { page } = await house.open("/plan", DESK);
    await ready(page);
    await ask(page, "open the example");
    const row = options(page).first();
    expect(await row.getAttribute("aria-disabled")).toBe("true");
    expect(await row.textContent()).toContain("Only a plan without items");
    await page.keyboard.press("Enter");
    expect(await page.locator("dialog.find[open]").count()).toBe(1);
    await page.context().close();
  });

  it("shows by Tab where something lives", async () => {
    const { page } = await house.open("/stock", DESK);
    await ready(page);
    const focused = () => page.evaluate(() => (document.activeElement as HTMLElement | null)?.dataset.action);
    await ask(page, "tablets in");
    await page.keyboard.press("Tab");
    await expect.poll(focused, SOON).toBe("tablets");
    await ask(page, "language deutsch");
    await page.keyboard.press("Tab");
    await expect.poll(focused, SOON).toBe("language.de");
    expect(await page.locator("dialog[open] h2").textContent()).toContain("Look");
    await page.context().close();
  });

  it("holds what the open view can do, and nothing of it once the view is left", async () => {
    const { page } = await house.open("/", DESK);
    await ready(page);
    await ask(page, "edit cells");
    expect(await options(page).first().textContent()).toContain("Edit cells");
    await page.keyboard.press("Enter");
    await page.waitForSelector(".editor");
    await page.goto(`${house.address}/stock`);
    await ready(page);
    await ask(page, "edit cells");
    expect(await options(page).filter({ hasText: "Edit cells" }).count()).toBe(0);
    await page.context().close();
  });

  it("leads to items on the floor", async () => {
    const { page } = await house.open("/stock", DESK);
    await ready(page);
    const item = (await state(page)).items.find((i) => i.sort === "line")!;
    await ask(page, item.name);
    expect(await options(page).first().textContent()).toContain("Line");
    await page.keyboard.press("Enter");
    await gone(page);
    expect(await path(page)).toMatch(/^\/plan\?at=-?\d+,-?\d+$/);
    await page.context().close();
  });
});

describe("keys", () => {
  it("that are single leave fields of text alone, and can be kept to the floor", async () => {
    const { page } = await house.open("/sheets", DESK);
    await ready(page);
    const input = page.getByRole("textbox").first();
    await input.focus();
    await page.keyboard.press("/");
    await page.keyboard.press("?");
    expect(await page.locator("dialog").count()).toBe(0);
    await input.blur();
    await page.evaluate(() => localStorage.setItem("standfast.singles", "off"));
    await page.reload();
    await ready(page);
    await page.keyboard.press("/");
    await page.waitForTimeout(200);
    expect(await page.locator("dialog").count()).toBe(0);
    await page.keyboard.press("Control+k");
    await page.waitForSelector("dialog.find[open]");
    await page.keyboard.press("Escape");
    await gone(page);
    // On the floor they act all the same.
    await page.getByRole("link", { name: "Plan", exact: true }).click();
    await page.getByRole("application").focus();
    await page.keyboard.press("/");
    await page.waitForSelector("dialog.find[open]");
    await page.context().close();
  });

  it("stand on one sheet, from the same list, and fit on paper", async () => {
    for (const size of [DESK, PHONE]) {
      const { page } = await house.open("/stock", size);
      await ready(page);
      await page.keyboard.press("?");
      await page.waitForSelector(".keysheet dialog[open]");
      expect(await serious(page)).toEqual([]);
      const row = page.locator(".keysheet dl > div").filter({ hasText: "Undo" });
      expect(await row.locator("kbd").allTextContents()).toEqual(["Ctrl", "Z"]);
      expect(await page.locator(".keysheet").getByText("Play and pause").count()).toBe(1);
      await page.emulateMedia({ media: "print" });
      expect(await page.locator(".app").isVisible()).toBe(false);
      const cut = await page.locator(".keysheet dialog").evaluate((d) => d.scrollHeight - d.clientHeight);
      expect(cut).toBeLessThanOrEqual(1);
      await page.context().close();
    }
  });
});

describe.skipIf(FAKE)("the history", () => {
  it("lists every step and leads to any of them, back and on", async () => {
    const own = await house.own("run");
    const { page, complaints } = await house.open("/plan", DESK, undefined, own);
    await ready(page);
    const before = (await state(page)).name;
    for (const name of ["one", "two", "three"]) expect((await send(page, "/api/do", { do: "rename", name })).status).toBe(200);
    await page.locator("[data-action=history]").click();
    await page.waitForSelector(".steps");
    await expect.poll(() => page.locator(".steps tbody tr").count(), SOON).toBe(4);
    expect(await page.locator(".steps tr.current th").textContent()).toContain("three");
    expect(await serious(page)).toEqual([]);

    await page.getByRole("button", { name: /^Back to here .*Name the event one/ }).click();
    await expect.poll(async () => (await state(page)).name, SOON).toBe("one");
    await expect.poll(() => page.locator(".steps tr.current th").textContent(), SOON).toContain("one");
    await page.getByRole("button", { name: /^On to here .*Name the event three/ }).click();
    await expect.poll(async () => (await state(page)).name, SOON).toBe("three");
    await expect.poll(() => page.locator(".steps tr.current th").textContent(), SOON).toContain("three");
    await page.getByRole("button", { name: /^Back to here .*The plan as it began/ }).click();
    await expect.poll(async () => (await state(page)).undo, SOON).toBe(null);
    expect((await state(page)).name).toBe(before);

    // Three changes, two back, two on, three back.
    await page.getByRole("button", { name: "Everything" }).click();
    await expect.poll(() => page.locator(".steps tbody tr").count(), SOON).toBe(11);
    expect(await page.locator(".steps").getByText("Taken back").count()).toBe(5);
    expect(await page.locator(".steps").getByText("Made again").count()).toBe(2);

    // It says how much it holds, and forgets what is old of it once that was asked twice; the plan stays.
    expect(await page.locator(".shorten p").first().textContent()).toMatch(/^The history holds 10 steps, \d/);
    await page.getByRole("button", { name: "Forget older steps" }).click();
    const ask = page.locator(".shortenask");
    await ask.getByText("No step is that old").waitFor();
    expect(await ask.getByRole("button", { name: "Forget them for good" }).isDisabled()).toBe(true);
    await ask.getByLabel("Forget what is older than").selectOption("all");
    await ask.getByText("9 steps of 10 would go").waitFor();
    expect(await ask.innerText()).toContain("can never be undone");
    expect(await serious(page)).toEqual([]);
    if (process.env.STANDFAST_LOOK) await page.screenshot({ path: `${process.env.STANDFAST_LOOK}/shorten.png` });
    await ask.getByRole("button", { name: "Forget them for good" }).click();
    await expect.poll(() => page.locator(".steps tbody tr").count(), SOON).toBe(2);
    expect(await page.locator(".steps").getByText("Older steps were forgotten").count()).toBe(1);
    expect(await page.locator(".shorten p").first().textContent()).toContain("1 step,");
    expect((await state(page)).name).toBe(before);
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  it("comes in parts when it is long", async () => {
    const own = await house.own("run");
    const { page } = await house.open("/stock", DESK, undefined, own);
    await ready(page);
    for (let i = 0; i < 105; i++) await send(page, "/api/do", { do: "rename", name: `name ${i}` });
    await page.goto(`${own.address}/history`);
    await page.waitForSelector(".steps");
    expect(await page.locator(".steps tbody tr").count()).toBe(100);
    await page.getByRole("button", { name: "Show older ones (5 more)" }).click();
    await expect.poll(() => page.locator(".steps tbody tr").count(), SOON).toBe(106);
    await page.context().close();
  });
});

describe.skipIf(FAKE)("steps of somebody who works in German", () => {
  it("are named in German: what is drawn and what is typed, of many items too", async () => {
    const own = await house.own("run");
    const { page, complaints } = await house.open("/plan", DESK, undefined, own);
    await page.evaluate(() => localStorage.setItem("standfast.language", "de"));
    await page.reload();
    await page.waitForSelector('.hallcount[data-pieces]:not([data-pieces=""])', SOON);
    const floor = page.locator('[role="application"]');
    const undo = async () => (await state(page)).undo;
    for (let n = 1; n <= 4; n++) {
      const { items } = await state(page);
      await floor.focus();
      await page.keyboard.press("p");
      await page.waitForSelector('.toolslip[aria-label="Start"]');
      await page.keyboard.press("Enter");
      await expect.poll(async () => (await state(page)).items.length, SOON).toBe(items.length + 1);
      expect(await undo()).toMatch(/^Start.* setzen$/);
    }
    const starts = (await state(page)).items.filter((i) => i.sort === "start");
    await page.keyboard.press("Shift+O");
    const rows = page.getByRole("treeitem", { name: /, Start/ });
    await expect.poll(() => rows.count(), SOON).toBe(starts.length);
    await rows.first().click();
    for (let i = 1; i < starts.length; i++) await rows.nth(i).click({ modifiers: ["Control"] });
    const width = page.locator(".inspector").getByRole("textbox", { name: "Breite des Stoßes", exact: true });
    await width.fill("31");
    await page.keyboard.press("Enter");
    await expect.poll(undo, SOON).toMatch(new RegExp(`^Breite des Stoßes: .*, .*, .* und ${starts.length - 3} weitere$`));
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  it("are refused and listed in German, whoever took them", async () => {
    const own = await house.own("run");
    const { page, complaints } = await house.open("/", DESK, undefined, own);
    await page.evaluate(() => localStorage.setItem("standfast.language", "de"));
    await page.reload();
    await page.waitForSelector(".stage");
    const { change } = (await get<{ saved: { change: number } }>(page, "/api/state")).saved;
    const type = async (label: string, figure: string) => {
      await page.getByRole("textbox", { name: label }).fill(figure);
      await page.keyboard.press("Enter");
    };
    // The gate refuses: pieces of the example are 7.5 mm thick, and the page itself takes any pitch from 1 mm.
    await page.locator("details.frame summary").click();
    await type("Abstand längs", "3");
    await page.locator(".nf.bad .why").getByText(/^Feld .*, Abstand längs: 3\smm lässt keinen Platz für einen Stein, der 7,5\smm dick ist\. Mindestens 7,5\smm verwenden\.$/).waitFor(SOON);
    // So does the reader of pictures.
    await page.evaluate(() => {
      const data = new DataTransfer();
      data.items.add(new File(["no picture"], "notizen.txt", { type: "" }));
      document.querySelector(".stage")!.dispatchEvent(new DragEvent("drop", { dataTransfer: data, bubbles: true, cancelable: true }));
    });
    await page.locator(".stageword[role=alert]").getByText(/^notizen\.txt wurde nicht übernommen\. notizen\.txt: Die Datei ist kein Bild, das sich lesen lässt: eine PNG-/).waitFor(SOON);
    expect((await get<{ saved: { change: number } }>(page, "/api/state")).saved.change).toBe(change);

    // Steps that the server names: one taken here, one elsewhere.
    await type("Abstand längs", "18");
    const items = (await state(page)).items.sort((a, b) => a.id - b.id);
    await expect.poll(async () => (await state(page)).undo, SOON).toMatch(/^Change the grid of /);
    expect((await send(page, "/api/do", { do: "arrange", items: items.slice(0, 4).map((i) => i.id), how: { is: "lock" } })).status).toBe(200);
    const names = items.slice(0, 3).map((i) => i.name).join(", ");
    await expect.poll(() => page.locator("[data-action=undo]").getAttribute("aria-label"), SOON).toBe(`Rückgängig: ${names} sperren`);
    await page.goto(own.address + "/history");
    const rows = page.locator(".steps tbody th");
    await expect.poll(() => rows.allTextContents(), SOON).toContain(`${names} sperren`);
    expect((await rows.allTextContents()).filter((row) => /^Raster von .* ändern$/.test(row)).length).toBe(1);
    await page.getByRole("button", { name: /^Zurück .*Raster von / }).click();
    await expect.poll(async () => (await state(page)).redo, SOON).toMatch(/^Lock /);
    // The other language tells the same steps in its own words.
    await page.evaluate(() => localStorage.setItem("standfast.language", "en"));
    await page.reload();
    await expect.poll(() => rows.allTextContents(), SOON).toContain(`Lock ${names}`);
    expect(complaints.filter((c) => !/status of 4/.test(c))).toEqual([]);
    await page.context().close();
  });
});

describe("help", () => {
  it("opens by F1 and has every page, in both languages, without anything from elsewhere", async () => {
    const { page, complaints } = await house.open("/stock", DESK);
    await ready(page);
    await page.keyboard.press("F1");
    await page.waitForSelector(".helppage .lead");
    for (const language of ["en", "de"]) {
      await page.evaluate((l) => localStorage.setItem("standfast.language", l), language);
      await page.reload();
      await page.waitForSelector(".helppage .lead");
      const links = page.locator(".topics a");
      const n = await links.count();
      expect(n).toBeGreaterThanOrEqual(11);
      for (let i = 0; i < n; i++) {
        await links.nth(i).click();
        const title = await links.nth(i).textContent();
        await expect.poll(() => page.textContent(".helppage h1"), SOON).toBe(title);
        expect((await page.textContent(".helppage"))!.length).toBeGreaterThan(200);
        // The other language has the same marks.
        if (language === "en") expect(await serious(page), `${language}: ${title}`).toEqual([]);
      }
    }
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  it("tells beside a figure what it is and where it comes from", async () => {
    const { page } = await house.open("/stock", DESK);
    await ready(page);
    const key = page.getByRole("button", { name: "What is this: Person-hours" });
    await key.click();
    const slip = page.locator(".why-slip:popover-open");
    await expect.poll(() => slip.textContent(), SOON).toContain("800 to 1 200 pieces an hour");
    expect(await slip.textContent()).toContain("not measured");
    expect(await serious(page)).toEqual([]);
    const box = (await slip.boundingBox())!;
    expect(box.x).toBeGreaterThanOrEqual(0);
    expect(box.y).toBeGreaterThanOrEqual(0);
    expect(box.y + box.height).toBeLessThanOrEqual(DESK.height);
    await page.keyboard.press("Escape");
    await expect.poll(() => slip.count(), SOON).toBe(0);
    expect(await key.evaluate((k) => k === document.activeElement)).toBe(true);
    await key.click();
    await slip.getByRole("link").click();
    await expect.poll(() => path(page), SOON).toBe("/help/figures?at=hours");
    await expect.poll(() => page.evaluate(() => document.activeElement?.id), SOON).toBe("figure-hours");
    await page.context().close();
  });
});

describe.skipIf(FAKE)("figures on the floor and of the fall", () => {
  const asked = async (page: Page, where: string, name: string, says: string) => {
    const key = page.locator(where).getByRole("button", { name: `What is this: ${name}`, exact: true }).first();
    await key.click();
    const slip = page.locator(".why-slip:popover-open");
    await expect.poll(() => slip.textContent(), SOON).toContain(says);
    const box = (await slip.boundingBox())!;
    const { width, height } = page.viewportSize()!;
    expect([box.x >= 0, box.y >= 0, box.x + box.width <= width, box.y + box.height <= height], name).toEqual([true, true, true, true]);
    await page.keyboard.press("Escape");
    await expect.poll(() => slip.count(), SOON).toBe(0);
  };
  it("say what they are and where they come from, beside the tools and the inspector", async () => {
    const { page, complaints } = await house.open("/plan", DESK);
    await page.waitForSelector('.hallcount[data-pieces]:not([data-pieces=""])', SOON);
    const floor = page.getByRole("application", { name: "The hall from above" });
    for (const [tool, name, says] of [
      ["l", "Pitch along", "15 mm"], ["s", "From ring to ring", "80 mm"], ["a", "From course to course", "130 mm"], ["g", "Pieces left out", "7 pieces"], ["o", "Size of a stopper", "384 runs"],
      ["x", "Height of letters", "600 mm"], ["p", "Width of the push", "24 mm"], ["c", "Field of view", "60°"],
    ] as const) {
      await floor.focus();
      await page.keyboard.press(tool);
      await asked(page, ".toolslip", name, says);
    }
    // What somebody asks about stays at hand: the tool, and its figures.
    expect(await page.locator('.toolslip[aria-label="Camera"]').count()).toBe(1);
    await floor.focus();
    await page.keyboard.press("Escape");
    const river = (await state(page)).items.find((i) => i.sort === "line")!;
    await page.keyboard.press("Shift+O");
    await page.getByRole("treeitem", { name: new RegExp(`^${river.name} ?, `) }).click();
    await asked(page, ".inspector", "Lanes of a line", "nothing is assumed");
    expect(await serious(page)).toEqual([]);
    expect(complaints).toEqual([]);
    await page.context().close();
  });
  it("say it of times and of pieces a second too", async () => {
    for (const size of [DESK, { width: 1024, height: 768 }]) {
      const { page, complaints } = await house.open("/fall", size);
      await page.waitForSelector(".sentence", SOON);
      await asked(page, ".fallreport", "Total time", "slow one");
      await asked(page, ".timeline", "Pieces a second", "0.25 s");
      await asked(page, ".timeline", "Speed of playing", "as fast as in the hall");
      // Nothing of the speeds is cut off by the keys beside them.
      const cut = await page.locator(".speed .seg button").evaluateAll((keys) => {
        const right = keys[0]!.closest(".clockside")!.getBoundingClientRect().right;
        return keys.filter((k) => k.scrollWidth > k.clientWidth || k.getBoundingClientRect().right > right).map((k) => k.textContent);
      });
      expect(cut).toEqual([]);
      expect(await serious(page)).toEqual([]);
      expect(complaints).toEqual([]);
      await page.context().close();
    }
  });
});

describe.skipIf(FAKE)("an empty plan", () => {
  it("shows three ways in on its floor", async () => {
    const own = await house.own("empty");
    for (const size of [DESK, { width: 1024, height: 768 }, PHONE]) {
      const { page, complaints } = await house.open("/plan", size, undefined, own);
      await page.waitForSelector(".firstminutes");
      expect(await page.locator(".firstminutes .waysin > li").count()).toBe(3);
      expect(await serious(page)).toEqual([]);
      expect(complaints).toEqual([]);
      await page.context().close();
    }
    const { page } = await house.open("/plan", DESK, undefined, own);
    await page.waitForSelector(".firstminutes");
    const picture = png(12, 8);
    await page.evaluate((bytes) => {
      const data = new DataTransfer();
      data.items.add(new File([new Uint8Array(bytes)], "old-mill.png", { type: "image/png" }));
      document.querySelector("[role=application]")!.dispatchEvent(new DragEvent("drop", { dataTransfer: data, bubbles: true, cancelable: true }));
    }, [...picture]);
    await page.waitForSelector("dialog[open] img");
    await page.keyboard.press("Escape");
    await gone(page);
    await page.getByRole("button", { name: "Put this away" }).click();
    expect(await page.locator(".firstminutes").count()).toBe(0);
    await page.context().close();
    // Whoever draws the hall has the tool for it, from the view of pictures as well, and the ways in are out of the way.
    for (const from of ["/plan", "/"]) {
      const { page } = await house.open(from, DESK, undefined, own);
      await page.getByRole("button", { name: "Draw the hall" }).click();
      await page.locator('.toolslip[aria-label="Hall"]').waitFor();
      expect(await path(page)).toBe("/plan");
      expect(await page.locator(".firstminutes").count()).toBe(0);
      await page.context().close();
    }
  });

  it("opens the example as one step that one undo takes away", async () => {
    const own = await house.own("empty");
    const { page, complaints } = await house.open("/", DESK, undefined, own);
    await page.getByRole("button", { name: "Open the example" }).click();
    await expect.poll(() => path(page), { timeout: 30_000 }).toBe("/plan");
    const opened = await state(page);
    expect(opened.items.filter((i) => i.body.is === "field" && typeof i.body.picture === "number")).toHaveLength(6);
    expect(opened.undo).toContain("example");
    expect(await page.locator(".firstminutes").count()).toBe(0);
    await page.locator(".toast").getByRole("button", { name: /Undo/ }).click();
    await expect.poll(async () => (await state(page)).items.length, { timeout: 30_000 }).toBe(0);
    await page.waitForSelector(".firstminutes");
    expect(complaints).toEqual([]);
    await page.context().close();
  });
});
