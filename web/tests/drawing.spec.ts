/** Drawing as hands do it: pointer and keys at once, figures in the middle of a drag, steps back, copies; the server is asked what came of it. */
import { beforeEach, describe, expect, it } from "vitest";
import type { Page } from "playwright-core";
import { Drawing, type Draft } from "./drawn";
import { SOON, floor, housed, scale } from "./house";
import { FAKE } from "./start";

const house = housed("run");

const draw = new Drawing(house);
const { state, item, use, click, drag, news, fresh, undone } = draw;
let page: Page;
beforeEach(() => void ({ page } = draw));

const hint = () => page.locator('.toolslip p[role="status"]').innerText();

describe.skipIf(FAKE)("Enter", () => {
  it("ends a line that was clicked, without one more point, and closes and lays an area", async () => {
    await use("l");
    await click(500, 500);
    await click(700, 450);
    expect(await hint()).toContain("Enter or a double click ends the line");
    await click(850, 560);
    await page.keyboard.press("Enter");
    const [line] = await fresh();
    expect(line!.body.path).toHaveLength(1);
    expect(line!.body.path![0]!.points).toHaveLength(2);
    await undone();

    await use("a");
    await click(500, 450);
    await click(700, 450);
    await click(700, 600);
    await page.keyboard.press("Enter");
    await expect.poll(() => page.locator(".toolslip").getByLabel("From course to course", { exact: true }).count()).toBe(1);
    await page.keyboard.press("Enter");
    const [area] = await fresh();
    expect(area!.body.outline).toHaveLength(3);
    await undone();
  });

  it("presses at the cross once arrows draw, and the words say which holds", async () => {
    await use("l");
    await click(500, 500);
    await page.keyboard.press("ArrowRight");
    expect(await hint()).toContain("Shift and Enter end the line");
    await page.keyboard.press("Enter");
    await page.keyboard.press("ArrowUp");
    await page.keyboard.press("Enter");
    expect(await news()).toHaveLength(0);
    await page.keyboard.press("Shift+Enter");
    const [line] = await fresh();
    expect(line!.body.path![0]!.points).toHaveLength(2);
    await undone();
  });
});

describe.skipIf(FAKE)("a tool", () => {
  it("stays until Escape: what it drew last is chosen and told, and a double click begins no second one", async () => {
    const chosen = () => page.locator("main").getAttribute("data-chosen");
    const tool = () => page.locator('.tooth[aria-pressed="true"]').first().getAttribute("data-action");
    await use("l");
    await click(500, 500);
    await click(640, 450);
    await page.mouse.dblclick(760, 520);
    const [first] = await fresh();
    await expect.poll(chosen, SOON).toBe(String(first!.id));
    expect(await tool()).toBe("tool.line");
    expect(await page.locator(".inspector").getByLabel("Name", { exact: true }).inputValue()).toBe(first!.name);
    // What is asked for the next one comes by a press, so that nothing lies over what was drawn.
    expect(await page.locator(".toolslip").getByText("Rounded corners").count()).toBe(0);
    await page.getByRole("button", { name: "Settings of the next one" }).click();
    await page.locator(".toolslip").getByText("Rounded corners").waitFor();
    // The next one at once; while it is drawn the tool has the place of the inspector again.
    await click(500, 620);
    expect(await page.locator(".inspector").count()).toBe(0);
    await click(640, 600);
    await page.keyboard.press("Enter");
    const second = (await fresh(2)).find((d) => d.id !== first!.id)!;
    await expect.poll(chosen, SOON).toBe(String(second.id));
    // One press is enough for a start: the second of a double click would set another one into it.
    await use("p");
    await page.mouse.dblclick(560, 560);
    await expect.poll(async () => (await news()).length, SOON).toBe(3);
    await page.mouse.click(620, 560);
    await expect.poll(async () => (await news()).length, SOON).toBe(4);
    expect(await tool()).toBe("tool.start");
    // Escape gives up what is being drawn, then the tool, then what is chosen.
    await use("l");
    await click(700, 620);
    for (const [now, some] of [["tool.line", true], ["tool.pick", true], ["tool.pick", false]] as const) {
      await page.keyboard.press("Escape");
      expect([await tool(), (await chosen()) !== ""]).toEqual([now, some]);
    }
    for (const left of [3, 2, 1]) {
      await page.keyboard.press("Control+z");
      await expect.poll(async () => (await news()).length, SOON).toBe(left);
    }
    await undone();
  });
});

describe.skipIf(FAKE)("a figure in the middle of a drag", () => {
  const types = async (from: [number, number], to: [number, number], text: string) => {
    await drag(from, [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2], to);
    if (text) await page.keyboard.type(text);
    await page.mouse.up();
  };

  it("counts when the button is let go", async () => {
    const before = (await state()).floor_plan.parts.length;
    await use("h");
    await page.locator(".toolslip select").selectOption("table");
    await floor(page).focus();
    await types([600, 600], [680, 640], "12m");
    await expect.poll(async () => (await state()).floor_plan.parts.length, SOON).toBe(before + 1);
    const xs = (await state()).floor_plan.parts.at(-1)!.outline.map((p) => p[0]);
    expect(Math.max(...xs) - Math.min(...xs)).toBeCloseTo(12_000, 1);
    await page.keyboard.press("Escape");
    await page.keyboard.press("Control+z");

    await use("s");
    await types([700, 500], [760, 500], "900");
    const [spiral] = await fresh();
    expect(spiral!.body.path![0]!.radius).toBe(900);
    await undone();
  });

  it("moves an item exactly, and the next drag has none of it", async () => {
    await use("f");
    await types([600, 500], [760, 600], "");
    const [field] = await fresh();
    await use("v");
    await page.waitForTimeout(300);
    await types([680, 550], [700, 550], "2m");
    await expect.poll(async () => (await item(field!.id)).x, SOON).toBeCloseTo(field!.x + 2000, 1);
    // What says nothing is dropped, and so is what Escape gave up.
    const mm = await scale(page);
    const at = 680 + 2000 / mm;
    for (const [text, key] of [["3q", null], ["5", "Escape"]] as const) {
      const { x } = await item(field!.id);
      await drag([at, 550], [at + 15, 550], [at + 30, 550]);
      await page.keyboard.type(text);
      if (key) await page.keyboard.press(key);
      await page.mouse.up();
      await expect.poll(async () => Math.abs((await item(field!.id)).x - x - 30 * mm), SOON).toBeLessThan(60);
      expect(await page.locator(".livelabel").count()).toBe(0);
      await page.keyboard.press("Control+z");
      await expect.poll(async () => (await item(field!.id)).x, SOON).toBe(x);
    }
    await page.keyboard.press("Control+z");
    await page.waitForTimeout(300);
    await undone();
  });

  it("sets the next point of a line by a click, sums and all", async () => {
    await use("l");
    await click(500, 500);
    await page.keyboard.down("Control");
    await page.mouse.move(600, 500, { steps: 3 });
    await page.keyboard.up("Control");
    await page.keyboard.type("3m+20cm");
    await click(600, 500);
    await page.keyboard.press("Enter");
    const [line] = await fresh();
    expect(line!.body.path).toEqual([{ is: "straight", length: 3200 }]);
    await undone();
  });
});

describe.skipIf(FAKE)("a field", () => {
  const at = (draft: Draft, rank: number, lane: number, mm: number, box: { x: number; y: number; fx: number; fy: number }): [number, number] => [
    box.x + (draft.x + rank * draft.body.pitch_along! - box.fx) / mm,
    box.y - (draft.y + lane * draft.body.pitch_across! - box.fy) / mm,
  ];
  it("says while it is drawn and reshaped how large it is, what it holds and how close, and takes its size as figures", async () => {
    const mm = await scale(page);
    await use("f");
    await page.keyboard.down("Control");
    await page.mouse.move(560, 480);
    await page.mouse.down();
    await page.mouse.move(700, 560);
    await page.mouse.move(720, 580);
    const label = page.locator(".livelabel");
    await expect.poll(() => label.innerText(), SOON).toMatch(/Room for \d\s\d{3} pieces, pitch 15\smm along the fall and 26\smm across/);
    for (const word of ["Width", "Depth", "Ranks", "Lanes"]) expect(await label.innerText()).toContain(word);
    await page.keyboard.up("Control");
    await page.keyboard.type("900");
    await page.keyboard.press("Tab");
    await page.keyboard.type("52cm");
    await page.mouse.up();
    const [field] = await fresh();
    expect(field!.body).toMatchObject({ ranks: 60, lanes: 20 });
    await use("v");

    // Its eastern edge, half a pitch beyond its last rank: the drag began at its north-western corner.
    await page.waitForTimeout(500);
    const ground = { x: 560, y: 480, fx: field!.x - 7.5, fy: field!.y + 19.5 * 26 };
    const edge = at(field!, 59.5, 9.5, mm, ground);
    await page.mouse.move(...edge);
    await page.mouse.down();
    await page.mouse.move(edge[0] + 20, edge[1]);
    await page.mouse.move(edge[0] + 40, edge[1]);
    await expect.poll(() => label.innerText(), SOON).toMatch(/Room for .* pieces, pitch/);
    for (const word of ["Width", "Depth", "Ranks", "Lanes"]) expect(await label.innerText()).toContain(word);
    await page.keyboard.type("1.2m");
    await page.mouse.up();
    await expect.poll(async () => (await item(field!.id)).body, SOON).toMatchObject({ ranks: 80, lanes: 20 });
    // Its handles are there again once the page has it as it is now.
    await page.waitForTimeout(1000);
    // A figure on an edge that runs along the fall is how deep it is.
    const north = at(field!, 39.5, 19.5, mm, ground);
    await page.mouse.move(...north);
    await page.mouse.down();
    await page.mouse.move(north[0], north[1] - 10);
    await page.mouse.move(north[0], north[1] - 20);
    await page.keyboard.type("260");
    await page.mouse.up();
    await expect.poll(async () => (await item(field!.id)).body, SOON).toMatchObject({ ranks: 80, lanes: 10 });
    for (let i = 0; i < 2; i++) {
      await page.keyboard.press("Control+z");
      await page.waitForTimeout(400);
    }
    await undone();
  });
});

describe.skipIf(FAKE)("steps back", () => {
  it("take back the points of what is drawn, bring them again, and only then go through the plan", async () => {
    const undo = (await state()).undo;
    await use("l");
    await click(500, 500);
    await click(700, 450);
    await click(850, 560);
    const button = page.locator('[data-action="undo"]');
    await expect.poll(() => button.getAttribute("aria-label")).toContain("last point");
    await page.keyboard.press("Control+z");
    await page.keyboard.press("Control+z");
    await page.keyboard.press("Control+Shift+z");
    await page.keyboard.press("Enter");
    const [line] = await fresh();
    expect(line!.body.path).toMatchObject([{ is: "straight" }]);
    // The plan's own step, once nothing is drawn.
    await use("l");
    await click(500, 600);
    await page.keyboard.press("Control+z");
    expect(await news()).toHaveLength(1);
    await page.keyboard.press("Control+z");
    await expect.poll(async () => (await news()).length, SOON).toBe(0);
    expect((await state()).undo).toBe(undo);
  });

  it("taking another tool keeps a line of two points, and gives up one of a single point", async () => {
    await use("l");
    await click(500, 500);
    await click(700, 450);
    await page.keyboard.press("f");
    const [line] = await fresh();
    expect(line!.body.path).toMatchObject([{ is: "straight" }]);
    expect(await page.locator(".toolslip").getAttribute("aria-label")).toBe("Field");
    await page.getByText("is kept as it was drawn").waitFor();
    await undone();
    await page.keyboard.press("l");
    await click(500, 500);
    await page.keyboard.press("v");
    await page.waitForTimeout(400);
    expect(await news()).toHaveLength(0);
  });
});

describe.skipIf(FAKE)("what is chosen", () => {
  const [x, y] = [600, 550];
  async function one(): Promise<Draft> {
    await use("f");
    await click(x - 60, y - 40);
    await page.keyboard.down("Control");
    await page.mouse.move(x + 60, y + 40);
    await page.mouse.down();
    await page.mouse.up();
    await page.keyboard.up("Control");
    const [field] = await fresh();
    await expect.poll(() => page.locator("main").getAttribute("data-chosen"), SOON).toBe(String(field!.id));
    await use("v");
    return field!;
  }
  it("is copied to the pointer and beside it, and what is cut moves, each as one step", async () => {
    const mm = await scale(page);
    const field = await one();
    await page.keyboard.press("Control+c");
    await page.mouse.move(x + 200, y);
    await page.keyboard.press("Control+v");
    const copy = (await fresh(2)).find((d) => d.id !== field.id)!;
    expect(Math.abs(copy.x - field.x - 200 * mm)).toBeLessThan(30);
    expect(Math.abs(copy.y - field.y)).toBeLessThan(30);
    expect(copy.body).toMatchObject({ ranks: field.body.ranks, lanes: field.body.lanes });
    // The pointer still lies there: beside it.
    await page.keyboard.press("Control+v");
    const next = (await fresh(3)).find((d) => d.id !== field.id && d.id !== copy.id)!;
    expect(next.x).toBeGreaterThan(copy.x + field.body.ranks! * 15);
    // By the menu of the floor it comes to where that was opened.
    await page.mouse.click(x, y + 130, { button: "right" });
    await page.locator('[role="menu"] [data-do="edit.paste"]').click();
    const last = (await fresh(4)).find((d) => ![field.id, copy.id, next.id].includes(d.id))!;
    expect(Math.abs(last.x - field.x)).toBeLessThan(30);
    expect(Math.abs(last.y - field.y + 130 * mm)).toBeLessThan(30);
    for (const left of [3, 2, 1]) {
      await page.keyboard.press("Control+z");
      await expect.poll(async () => (await news()).length, SOON).toBe(left);
    }
    // What was copied outlives what it was copied from, in another window of the plan as well.
    const undo = (await state()).undo;
    await page.mouse.click(x, y);
    await page.keyboard.press("Control+c");
    await page.waitForTimeout(300);
    await page.keyboard.press("Delete");
    await expect.poll(async () => (await news()).length, SOON).toBe(0);
    await page.mouse.move(x + 10, y + 90);
    await page.keyboard.press("Control+v");
    const [again] = await fresh();
    expect([Math.abs(again!.x - field.x - 10 * mm) < 30, again!.body.ranks]).toEqual([true, field.body.ranks]);
    await undone();
    const other = await page.context().newPage();
    await other.goto(page.url());
    await other.waitForSelector('.hallcount[data-pieces]:not([data-pieces=""])', SOON);
    await floor(other).focus();
    await other.keyboard.press("Control+v");
    expect((await fresh())[0]!.body.ranks).toBe(field.body.ranks);
    await other.close();
    await undone();
    await page.keyboard.press("Control+z");
    await expect.poll(async () => (await news()).length, SOON).toBe(1);
    await expect.poll(() => page.locator('[data-action="undo"]').getAttribute("aria-label"), SOON).toContain(undo!);

    await page.mouse.click(x, y);
    await expect.poll(() => page.locator("main").getAttribute("data-chosen"), SOON).toBe(String(field.id));
    await page.keyboard.press("Control+x");
    await page.mouse.move(x, y - 100);
    await page.keyboard.press("Control+v");
    await expect.poll(async () => Math.abs((await item(field.id)).y - field.y - 100 * mm), SOON).toBeLessThan(30);
    expect(await news()).toHaveLength(1);
    await page.keyboard.press("Control+z");
    await expect.poll(async () => (await item(field.id)).y, SOON).toBe(field.y);
    await undone();
  });

  it("moves by a tenth of a millimetre with Alt", async () => {
    const field = await one();
    await floor(page).focus();
    await page.keyboard.press("Alt+ArrowRight");
    await expect.poll(async () => (await item(field.id)).x, SOON).toBeCloseTo(field.x + 0.1, 6);
    await page.keyboard.press("Control+z");
    await expect.poll(async () => (await item(field.id)).x, SOON).toBe(field.x);
    await undone();
  });
});

describe.skipIf(FAKE)("a drag over bare floor", () => {
  it("chooses by a lasso once that was taken by pointer, key or the list of commands", async () => {
    const way = () => page.locator("[data-area]").getAttribute("data-area");
    expect(await way()).toBe("box");
    await floor(page).focus();
    await page.keyboard.press("Shift+V");
    expect(await way()).toBe("lasso");
    await page.locator("[data-area]").click();
    await page.locator("[data-area]").click();
    expect(await way()).toBe("box");
    await page.keyboard.press("/");
    await page.keyboard.type("lasso");
    await page.getByRole("option", { name: /Choose by a lasso/ }).first().waitFor();
    await page.keyboard.press("Enter");
    await expect.poll(way).toBe("lasso");
    const all = await state();
    const sea = all.items.find((i) => i.name === "Sea")!;
    await page.mouse.move(640, 560);
    await page.mouse.down();
    for (const p of [[900, 600], [900, 700], [640, 700], [600, 640]] as const) await page.mouse.move(p[0], p[1], { steps: 6 });
    await expect.poll(() => page.locator('.toolslip p[role="status"]').innerText()).toContain("whole inside");
    await page.mouse.up();
    await expect.poll(() => page.locator("main").getAttribute("data-chosen"), SOON).toBe(String(sea.id));
  });

  it("leaves every tool in sight on a laptop's screen, also with the close up open", async () => {
    const hidden = () =>
      page.evaluate(() =>
        [...document.querySelectorAll(".tooth")].filter((tooth) => {
          const r = tooth.getBoundingClientRect();
          return [r.top + 2, r.bottom - 2].some((py) => !tooth.contains(document.elementFromPoint(r.left + 12, py)));
        }).map((tooth) => tooth.textContent),
      );
    expect(await page.locator(".tooth").count()).toBeGreaterThan(15);
    expect(await hidden()).toEqual([]);
    await floor(page).focus();
    await page.keyboard.press("e");
    await page.locator(".glass").waitFor();
    expect(await hidden()).toEqual([]);
  });
});
