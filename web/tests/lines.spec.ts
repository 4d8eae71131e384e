/** Drawing lines of every sort: by pointer, by finger and by keys alone; what came of it is asked of the server. */
import { beforeEach, describe, expect, it } from "vitest";
import type { Page } from "playwright-core";
import { Drawing } from "./drawn";
import { SOON, floor, housed, scale } from "./house";
import { FAKE } from "./start";

const house = housed("run");
const draw = new Drawing(house);
const { state, item, use, click, drag, fresh, undone } = draw;
let page: Page;
beforeEach(() => void ({ page } = draw));

const words = () => page.locator(".toolslip").getByLabel("Words", { exact: true });

describe.skipIf(FAKE)("by pointer", () => {
  it("a line goes through the points, and a double click ends it without one more", async () => {
    await use("l");
    await click(500, 500);
    await click(700, 450);
    await page.mouse.dblclick(850, 560);
    const [line] = await fresh();
    expect(line!.body.path).toHaveLength(1);
    expect(line!.body.path![0]!.points).toHaveLength(2);
    await undone();
  });

  it("an arc passes start, end and bulge", async () => {
    const mm = await scale(page);
    await use("r");
    await click(500, 500);
    await click(700, 500);
    await click(600, 400);
    const [arc] = await fresh();
    // Start, end and top of a half circle; from west to east over the north it turns to the right.
    expect(arc!.body.path![0]!.radius! / (100 * mm)).toBeCloseTo(1, 1);
    expect(arc!.body.path![0]!.turn! / -180).toBeCloseTo(1, 1);
    await undone();
  });

  it("a spiral lies around its middle, and its pieces where the closed form says", async () => {
    await use("s");
    await click(700, 500);
    await page.mouse.move(830, 500);
    for (const [label, value] of [["Radius", "800 mm"], ["From ring to ring", "70 mm"], ["Turns", "6"]] as const) {
      const field = page.locator(".toolslip").getByLabel(label, { exact: true });
      await field.fill(value);
      await field.press("Enter");
    }
    await page.locator(".toolslip .btn.main").click();
    const [spiral] = await fresh();
    expect(spiral!.body.path).toEqual([{ is: "spiral", radius: 800, ring: -70, turns: 6, hand: "left" }]);
    const places = await page.evaluate(async (draft) => {
      const answer = await fetch("/api/try/pieces", { method: "POST", headers: { "X-Standfast": "1", "Content-Type": "application/json" }, body: JSON.stringify({ items: [draft] }) });
      const bytes = await answer.arrayBuffer();
      const view = new DataView(bytes);
      const [n, k] = [view.getUint32(8, true), view.getUint32(12, true)];
      const at = 16 + 8 * k;
      return Array.from({ length: n }, (_, i) => [view.getFloat32(at + 4 * i, true), view.getFloat32(at + 4 * (n + i), true)] as [number, number]);
    }, spiral!);
    // The length of r = a + b phi from 800 to 380 mm: the integral of sqrt(r^2 + b^2), b = 70 / 2 pi (textbook; from memory).
    const b = 70 / (2 * Math.PI);
    const whole = (r: number) => (r * Math.hypot(r, b) + b * b * Math.asinh(r / b)) / (2 * b);
    expect(Math.abs(places.length - (whole(800) - whole(380)) / 15)).toBeLessThan(1);
    // The middle lies 800 mm to the left of the first piece, square to the circle there: the spiral itself leans inwards.
    const square = (spiral!.heading * Math.PI) / 180 + Math.atan2(-b, 800) + Math.PI / 2;
    const centre: [number, number] = [spiral!.x + 800 * Math.cos(square), spiral!.y + 800 * Math.sin(square)];
    let turned = 0;
    let before = 0;
    places.forEach(([x, y], i) => {
      const a = Math.atan2(y - centre[1], x - centre[0]);
      turned += i ? (((a - before) % (2 * Math.PI)) + 3 * Math.PI) % (2 * Math.PI) - Math.PI : 0;
      before = a;
      expect(Math.hypot(x - centre[0], y - centre[1])).toBeCloseTo(800 - b * turned, 0);
    });
    expect(turned / (2 * Math.PI)).toBeCloseTo(6, 1);
    await undone();
  });

  it("a stroke by hand becomes a curve, with a mouse and with a finger", async () => {
    await use("w");
    await page.mouse.move(450, 500);
    await page.mouse.down();
    for (let i = 1; i <= 40; i++) await page.mouse.move(450 + i * 10, 500 + 60 * Math.sin(i / 5));
    await page.mouse.up();
    const [stroke] = await fresh();
    const points = stroke!.body.path![0]!.points!.length;
    expect(points).toBeGreaterThan(4);
    expect(points).toBeLessThan(40);
    await undone();

    await use("w");
    const touch = await page.context().newCDPSession(page);
    const finger = (type: "touchStart" | "touchMove" | "touchEnd", x = 0, y = 0) => touch.send("Input.dispatchTouchEvent", { type, touchPoints: type === "touchEnd" ? [] : [{ x, y }] });
    await finger("touchStart", 450, 550);
    for (let i = 1; i <= 20; i++) await finger("touchMove", 450 + i * 18, 550 - 50 * Math.sin(i / 4));
    await finger("touchEnd");
    expect((await fresh())[0]!.body.path![0]!.is).toBe("through");
    await undone();
  });

  it("a fill takes a box, and nearly the number of pieces that is typed", async () => {
    await use("a");
    await drag([500, 420], [600, 500], [760, 600]);
    await page.mouse.up();
    const field = page.locator(".toolslip").getByLabel("pieces", { exact: false }).first();
    await expect.poll(() => page.locator(".livelabel").getAttribute("data-pieces"), SOON).not.toBe("0");
    // Two trials are lost on their way; the search goes on all the same and is over when it has come near.
    await page.route("**/api/try", (route) => route.abort("connectionfailed"), { times: 2 });
    await field.fill("1500");
    await field.press("Enter");
    const seen = async () => {
      const added = (await page.locator(".fig small.added").first().textContent())!;
      const figures = await page.locator(".toolslip input").evaluateAll((all) => all.map((i) => (i as HTMLInputElement).value).join(", "));
      return Math.abs(Number(added.replace(/\D/g, "")) - 1500) < 150 ? "near" : `${added}; ${figures}`;
    };
    await expect.poll(seen, { timeout: 60_000 }).toBe("near");
    await page.locator(".toolslip .btn.main").click();
    const [fill] = await fresh();
    const row = (await state()).items.find((i) => i.id === fill!.id)!;
    expect(row.sort).toBe("fill");
    expect(Math.abs(row.pieces - 1500)).toBeLessThan(150);
    await undone();
    const lost = draw.complaints.splice(0).map((c) => c.replace(/^.*ERR_CONNECTION_FAILED.*\/api\/try$/, "lost"));
    expect(lost).toEqual(["lost", "lost"]);
  });

  it("letters are lines in a group, or stand in a field, in few steps", async () => {
    await use("x");
    await words().fill("Hi");
    await words().press("Enter");
    await click(520, 560);
    // There and back it is one line, and one more for the dot which nothing leads to.
    const walked = await fresh();
    expect(walked.length).toBeLessThanOrEqual(2);
    expect(walked.every((l) => l.body.is === "line" && !l.body.from)).toBe(true);
    await undone();

    await use("x");
    await page.locator(".toolslip").getByText("Single", { exact: true }).click();
    await words().fill("Hi");
    await words().press("Enter");
    await click(520, 560);
    const lines = await fresh(3);
    // A link to each letter, two stems and a bar that are parted where they branch, a stem and a dot.
    expect(lines.length).toBeLessThanOrEqual(10);
    // Each begins at a port of another one but the first, and the dot which nothing leads to.
    expect(lines.filter((l) => !l.body.from).length).toBeLessThanOrEqual(2);
    expect(new Set(lines.map((l) => l.group)).size).toBe(1);
    expect(lines[0]!.group).not.toBeNull();
    expect(lines.every((l) => l.body.is === "line")).toBe(true);
    await undone();

    await use("x");
    await page.locator(".toolslip").getByText("Standing").click();
    await words().fill("Hi");
    await words().press("Enter");
    await click(520, 560);
    const [field] = await fresh();
    expect(field!.body.is).toBe("field");
    // Its ground is of the other colour, so that every cell takes a piece and the fall runs through.
    const pieces = async () => (await state()).items.find((i) => i.id === field!.id)!.pieces;
    await expect.poll(pieces, SOON).toBe(field!.body.ranks! * field!.body.lanes!);
    await page.keyboard.press("Control+z");
    await page.waitForTimeout(300);
    await undone();

    // Without a ground it takes fewer pieces than it has cells, but some.
    await use("x");
    await page.locator(".toolslip").getByLabel("Ground").selectOption({ label: "None" });
    await words().fill("Hi");
    await words().press("Enter");
    await click(520, 560);
    const [bare] = await fresh();
    const some = async () => (await state()).items.find((i) => i.id === bare!.id)!.pieces;
    await expect.poll(some, SOON).toBeGreaterThan(50);
    expect(await some()).toBeLessThan(bare!.body.ranks! * bare!.body.lanes! * 0.7);
    await page.keyboard.press("Control+z");
    await page.waitForTimeout(300);
    await undone();
  });

  it("a line carries on from a port, and one that was drawn is reshaped by its points", async () => {
    const mm = await scale(page);
    await use("l");
    await click(500, 440);
    await click(700, 440);
    await page.keyboard.press("Shift+Enter");
    const [line] = await fresh();
    const end = (await state()).items.find((i) => i.id === line!.id)!.ports.find((p) => p.name === "end")!;
    // Where the port is on the screen: beside the second click, at most a piece further.
    const x = 700 + (end.at[0] - (line!.x + 200 * mm)) / mm;
    await use("r");
    await click(x, 440, false);
    await click(x + 120, 320);
    const arc = (await fresh(2)).find((d) => d.id !== line!.id)!;
    expect(arc.body.from).toMatchObject({ item: line!.id });
    expect(arc.body.from!.port).toMatch(/^end/);
    await page.keyboard.press("Control+z");
    await expect.poll(async () => (await draw.news()).length, SOON).toBe(1);

    // The middle of the straight is drawn out to a point of its own.
    await page.keyboard.press("Escape");
    await page.mouse.click(560, 440);
    await page.waitForTimeout(400);
    await drag([600, 440], [605, 420], [610, 380]);
    await page.mouse.up();
    await expect.poll(async () => (await item(line!.id)).body.path, SOON).toMatchObject([{ is: "through", points: [expect.anything(), expect.anything()] }]);
    // A point is chosen by keys and taken away; the item stays.
    await page.waitForTimeout(400);
    await floor(page).focus();
    await page.keyboard.press("]");
    await page.keyboard.press("]");
    await page.keyboard.press("Delete");
    await expect.poll(async () => (await item(line!.id)).body.path![0]!.points?.length, SOON).toBe(1);
    await page.keyboard.press("Control+z");
    await expect.poll(async () => (await item(line!.id)).body.path![0]!.points?.length, SOON).toBe(2);
    await page.keyboard.press("Control+z");
    await expect.poll(async () => (await item(line!.id)).body.path, SOON).toMatchObject([{ is: "straight" }]);
    await undone();
  });
});

describe.skipIf(FAKE)("by keys alone", () => {
  it("a spiral is drawn from the middle of the floor with typed figures", async () => {
    await use("s");
    await page.keyboard.press("Enter");
    await page.keyboard.press("ArrowRight");
    await page.keyboard.type("600");
    await page.keyboard.press("Tab");
    await page.keyboard.type("60");
    await page.keyboard.press("Tab");
    await page.keyboard.type("4.5");
    await page.keyboard.press("Enter");
    await page.keyboard.press("Shift+Enter");
    const [spiral] = await fresh();
    expect(spiral!.body.path).toEqual([{ is: "spiral", radius: 600, ring: -60, turns: 4.5, hand: "left" }]);
    await undone();
  });

  it("each of the others is drawn with Enter, arrows and typed figures", async () => {
    for (const [key, presses, sort] of [
      ["l", ["Enter", "ArrowRight", "Enter", "ArrowUp", "Enter", "Shift+Enter"], "line"],
      ["r", ["Enter", "ArrowRight", "ArrowRight", "Enter", "ArrowUp", "Enter"], "line"],
      ["w", ["Enter", "ArrowRight", "ArrowUp", "ArrowRight", "ArrowDown", "Enter"], "line"],
      ["a", ["Enter", "ArrowRight", "Enter", "ArrowUp", "Enter", "Shift+Enter", "Shift+Enter"], "fill"],
    ] as const) {
      await use(key);
      for (const press of presses) await page.keyboard.press(press);
      const [drawn] = await fresh();
      expect([key, drawn!.body.is]).toEqual([key, sort]);
      await undone();
      await page.keyboard.press("Escape");
    }
    await use("x");
    await page.waitForTimeout(100);
    await page.keyboard.type("Go");
    await page.keyboard.press("Enter");
    await page.keyboard.press("Enter");
    expect((await fresh()).every((d) => d.body.is === "line")).toBe(true);
    await undone();
  });
});
