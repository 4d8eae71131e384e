/** Cells set by hand in the picture view: each tool by pointer and by keys, judged by the cells of the plan itself. */
import { beforeAll, beforeEach, describe, expect, it } from "vitest";
import type { Page } from "playwright-core";
import { cellAt, pictureSize, type Grid } from "../src/kernels/grid";
import { flood, lasso, line, mirrored, rectangle } from "../src/kernels/cells";
import { DESK, housed } from "./house";
import { serious } from "./start";
import { png } from "./png";

const NAME = "Sail";

const house = housed("example");
let page: Page;
let complaints: string[];
let field: Field;
let before: number[];
let hand: number[];
/** What could be undone before the test began. */
let below: string | null;

interface Field extends Grid {
  id: number;
  columns: number;
  rows: number;
}
interface Seen {
  undo: string | null;
  saved: { change: number };
  colours: { id: number; name: string }[];
  pictures: { id: number }[];
  items: { id: number; name: string; body: Grid & { is: string; look: string; by_hand: number; picture_name: string; picture: number | null; wish: { weight: number } } }[];
}

const state = (): Promise<Seen> => fetch(`${house.address}/api/state`).then((r) => r.json()) as Promise<Seen>;

/** Bytes or numbers of the field in picture order, as the server has them. */
async function fetched(what: "cells" | "by-hand"): Promise<number[]> {
  const buffer = await fetch(`${house.address}/api/field/${field.id}/${what}.bin`).then((r) => r.arrayBuffer());
  const raw = what === "cells" ? new Uint16Array(buffer) : new Uint8Array(buffer);
  const { columns } = field;
  return Array.from(raw, (_, i) => raw[cellAt(field, i % columns, Math.floor(i / columns))]!);
}
const cells = () => fetched("cells");

const at = (column: number, row: number) => row * field.columns + column;
const differ = (now: number[]) => now.flatMap((c, i) => (c === before[i] ? [] : [i]));

/** Middle of a cell on the page. */
async function middle(column: number, row: number): Promise<[number, number]> {
  const box = (await page.locator(".canvasbox").boundingBox())!;
  return [box.x + ((column + 0.5) * box.width) / field.columns, box.y + ((row + 0.5) * box.height) / field.rows];
}
async function drag(...path: [number, number][]) {
  await page.mouse.move(...(await middle(...path[0]!)));
  await page.mouse.down();
  for (const to of path.slice(1)) await page.mouse.move(...(await middle(...to)));
  await page.mouse.up();
}
const tool = (name: string) => page.locator(".teeth").getByRole("button", { name, exact: true }).click();
const button = (name: string) => page.getByRole("button", { name, exact: true }).click();

/** A colour that none of the cells has, by its swatch. */
async function other(...of: number[]): Promise<number> {
  const { colours } = await state();
  const colour = colours.find((c) => !of.some((i) => before[i] === c.id))!;
  await page.locator(".brushes").getByRole("button", { name: colour.name, exact: true }).click();
  return colour.id;
}

/** Waits until exactly these cells are of the colour and no others have changed, and then takes it back. */
async function drawn(expected: Iterable<number>, colour: number | ((cell: number) => number), label: RegExp) {
  const to = (cell: number) => (typeof colour === "number" ? colour : colour(cell));
  const want = [...before];
  for (const cell of expected) want[cell] = to(cell);
  const told = async () => differ(await cells());
  await expect.poll(told, { timeout: 15_000 }).toEqual(differ(want));
  expect(await cells()).toEqual(want);
  const seen = await state();
  expect(seen.undo).toMatch(label);
  await page.keyboard.press("Control+z");
  await expect.poll(told).toEqual([]);
  expect(await fetched("by-hand")).toEqual(hand);
  await caughtUp();
  // One step and no more.
  expect((await state()).undo).toBe(below);
}

/** Waits until the page shows the cells that the server has. */
async function caughtUp() {
  const look = async () => (await state()).items.find((i) => i.id === field.id)!.body.look;
  await expect.poll(async () => (await page.getAttribute(".canvasbox", "data-look")) === (await look())).toBe(true);
}

/** Brings the cursor to a cell by its keys. */
async function cursorTo(column: number, row: number) {
  await page.getByRole("application").focus();
  const words = async () => {
    const [, lane, rank] = /(\d+)\D+(\d+)/.exec((await page.textContent("#paint-at"))!)!.map(Number);
    return placeOf(lane! - 1, rank! - 1);
  };
  const [c, r] = await words();
  for (const [from, to, back, on] of [[c, column, "ArrowLeft", "ArrowRight"], [r, row, "ArrowUp", "ArrowDown"]] as const) {
    const steps = Math.abs(to - from);
    const key = to < from ? back : on;
    for (let i = 0; i < Math.floor(steps / 10); i++) await page.keyboard.press(`Shift+${key}`);
    for (let i = 0; i < steps % 10; i++) await page.keyboard.press(key);
  }
  expect(await words()).toEqual([column, row]);
}
/** Column and row of a lane and rank, found by asking the table the other way round. */
function placeOf(lane: number, rank: number): [number, number] {
  for (let i = 0; i < before.length; i++) {
    const [c, r] = [i % field.columns, Math.floor(i / field.columns)];
    if (cellAt(field, c, r) === lane * field.ranks + rank) return [c, r];
  }
  throw new Error("no such cell");
}

beforeAll(async () => {
  const item = (await state()).items.find((i) => i.name === NAME)!;
  field = { ...item.body, ...pictureSize(item.body), id: item.id };
});
beforeEach(async () => {
  await page?.context().close();
  ({ page, complaints } = await house.open(`/picture/${field.id}`, DESK));
  [before, hand, below] = [await cells(), await fetched("by-hand"), (await state()).undo];
  await button("Edit cells");
  await settled();
});

/** Waits until the letters have come and the cells lie still: a stroke is aimed at where they are. */
async function settled() {
  await page.waitForSelector(".canvasbox");
  await caughtUp();
  await page.evaluate(() => document.fonts.ready.then(() => true));
  const place = async () => JSON.stringify(await page.locator(".canvasbox").boundingBox());
  for (let last = "", now = await place(); now !== last; now = await place()) {
    last = now;
    await page.waitForTimeout(60);
  }
}

describe("tools by pointer", () => {
  it("the brush draws an unbroken line, as wide as it says", async () => {
    const colour = await other(...line([3, 3], [20, 9]).map(([c, r]) => at(c, r)));
    await drag([3, 3], [20, 9]);
    await drawn(line([3, 3], [20, 9]).map(([c, r]) => at(c, r)), colour, /^Draw \d+ cells of Sail with /);
    await page.getByRole("group", { name: "Width" }).getByRole("button", { name: "3" }).click();
    const square = rectangle([9, 9], [11, 11], field);
    const second = await other(...square);
    await page.mouse.click(...(await middle(10, 10)));
    await drawn(square, second, /^Draw 9 cells/);
  });
  it("a line goes from end to end however the pointer wandered, a rectangle from corner to corner", async () => {
    await tool("Line");
    const straight = line([4, 20], [25, 6]).map(([c, r]) => at(c, r));
    const colour = await other(...straight);
    await drag([4, 20], [4, 2], [25, 6]);
    await drawn(straight, colour, /^Draw a line of \d+ cells of Sail/);
    await tool("Rectangle");
    const all = rectangle([5, 5], [12, 9], field);
    const second = await other(...all);
    await drag([12, 9], [5, 5]);
    await drawn(all, second, /^Draw a rectangle of 40 cells/);
    await page.getByRole("checkbox", { name: "Filled" }).uncheck();
    await drag([5, 5], [12, 9]);
    await drawn(rectangle([5, 5], [12, 9], field, false), second, /^Draw a rectangle of 22 cells/);
  });
  it("a fill takes the region that a search finds, and replacing takes a colour everywhere", async () => {
    await tool("Fill");
    const region = flood(before, field, [10, 3]);
    const colour = await other(at(10, 3));
    await page.mouse.click(...(await middle(10, 3)));
    await drawn(region, colour, /^Fill \d+ cells?/);
    await tool("Replace");
    await page.mouse.click(...(await middle(10, 3)));
    await drawn(before.flatMap((c, i) => (c === before[at(10, 3)] ? [i] : [])), colour, /^Replace the colour of \d+ cells/);
  });
  it("a colour is picked from the field, and the tool of before comes back", async () => {
    await tool("Pick colour");
    await page.mouse.click(...(await middle(7, 7)));
    const { colours } = await state();
    const name = colours.find((c) => c.id === before[at(7, 7)])!.name;
    expect(await page.locator(".brushes").getByRole("button", { name, exact: true }).getAttribute("aria-pressed")).toBe("true");
    expect(await page.locator(".teeth").getByRole("button", { name: "Brush" }).getAttribute("aria-pressed")).toBe("true");
  });
  it("a stroke is mirrored at the axes of the picture", async () => {
    for (const [name, symmetry] of [["Left-right", "sides"], ["Up-down", "ends"], ["Both", "both"]] as const) {
      await page.getByRole("group", { name: "Symmetry" }).getByRole("button", { name, exact: true }).click();
      const all = new Set(line([2, 2], [9, 5]).flatMap(([c, r]) => mirrored(at(c, r), field, symmetry)));
      const colour = await other(...all);
      await drag([2, 2], [9, 5]);
      await drawn(all, colour, /^Draw \d+ cells/);
      expect(all.size).toBe(8 * (symmetry === "both" ? 4 : 2));
    }
  });
  it("a stamp sets a copy elsewhere, turned and mirrored", async () => {
    await tool("Stamp");
    await drag([4, 4], [8, 6]);
    const patch = (c: number, r: number) => before[at(4 + c, 4 + r)]!;
    await page.mouse.click(...(await middle(22, 21)));
    const set = new Map<number, number>();
    for (let c = 0; c < 5; c++) for (let r = 0; r < 3; r++) set.set(at(20 + c, 20 + r), patch(c, r));
    await drawn(set.keys(), (cell) => set.get(cell)!, /^Stamp 15 cells of Sail/);
    await button("Turn the stamp");
    await button("Mirror the stamp");
    // Turned to the right and then mirrored, columns become rows and rows columns.
    await page.mouse.click(...(await middle(31, 12)));
    const turned = new Map<number, number>();
    for (let c = 0; c < 5; c++) for (let r = 0; r < 3; r++) turned.set(at(30 + r, 10 + c), patch(c, r));
    await drawn(turned.keys(), (cell) => turned.get(cell)!, /^Stamp 15 cells of Sail/);
  });
  it("the counts of the colour follow the stroke before it is sent", async () => {
    const cell = await other(...rectangle([0, 0], [field.columns - 1, 0], field));
    const needed = async () => Number(/needed ([\d\u202f\u00a0 ]+)/.exec((await page.textContent(".cellcounts"))!)![1]!.replace(/\D/g, ""));
    const first = await needed();
    await page.mouse.move(...(await middle(2, 0)));
    await page.mouse.down();
    await page.mouse.move(...(await middle(11, 0)));
    await expect.poll(needed).toBe(first + 10);
    expect(await cells()).toEqual(before);
    await page.keyboard.press("Escape");
    await expect.poll(needed).toBe(first);
    await page.mouse.up();
    expect(cell).toBeGreaterThan(0);
    expect((await state()).undo).toBe(below);
  });
  it("two fingers enlarge and draw nothing; a single finger draws", async () => {
    const context = await house.browser.newContext({ viewport: { width: 390, height: 844 }, hasTouch: true, reducedMotion: "reduce" });
    page = await context.newPage();
    await page.goto(`${house.address}/picture/${field.id}`);
    await button("Edit cells");
    const room = (await page.locator(".cellroom").boundingBox())!;
    const wide = async () => (await page.locator(".canvasbox").boundingBox())!.width;
    const first = await wide();
    const client = await context.newCDPSession(page);
    const spread = (apart: number) => [-1, 1].map((side, id) => ({ x: room.x + room.width / 2 + side * apart, y: room.y + room.height / 2, id }));
    const send = (type: "touchStart" | "touchMove" | "touchEnd", touchPoints: { x: number; y: number; id: number }[]) => client.send("Input.dispatchTouchEvent", { type, touchPoints });
    await send("touchStart", spread(20).slice(0, 1));
    await send("touchStart", spread(20));
    for (const apart of [50, 90, 140]) await send("touchMove", spread(apart));
    await send("touchEnd", []);
    await expect.poll(wide).toBeGreaterThan(first * 4);
    expect(await cells()).toEqual(before);
    // A cell is wide enough for a finger by now.
    expect((await wide()) / field.columns).toBeGreaterThan(30);
    const colour = await other(at(field.columns >> 1, field.rows >> 1));
    const spot = await middle(field.columns >> 1, field.rows >> 1);
    await page.touchscreen.tap(...spot);
    await drawn([at(field.columns >> 1, field.rows >> 1)], colour, /^Draw 1 cell of Sail/);
  });
});

describe("tools by keys alone", () => {
  it("paint the cell under the cursor, draw on with the pen down, and join ends by a line", async () => {
    const colour = await other(at(10, 10), ...rectangle([10, 10], [14, 10], field));
    await cursorTo(10, 10);
    await page.keyboard.press("Enter");
    await drawn([at(10, 10)], colour, /^Draw 1 cell of Sail/);
    await page.keyboard.press("Space");
    for (let i = 0; i < 4; i++) await page.keyboard.press("ArrowRight");
    await page.keyboard.press("Space");
    await drawn(rectangle([10, 10], [14, 10], field), colour, /^Draw 5 cells/);
    await page.keyboard.press("l");
    await cursorTo(6, 12);
    const ends = line([6, 12], [16, 15]).map(([c, r]) => at(c, r));
    const second = await other(...ends);
    await page.getByRole("application").focus();
    await page.keyboard.press("Enter");
    await cursorTo(16, 15);
    await page.keyboard.press("Enter");
    await drawn(ends, second, /^Draw a line/);
  });
  it("fill, replace and stamp", async () => {
    await cursorTo(9, 4);
    const colour = await other(at(9, 4));
    await page.getByRole("application").focus();
    await page.keyboard.press("g");
    await page.keyboard.press("Enter");
    await drawn(flood(before, field, [9, 4]), colour, /^Fill/);
    await page.keyboard.press("c");
    await page.keyboard.press("Enter");
    await drawn(before.flatMap((c, i) => (c === before[at(9, 4)] ? [i] : [])), colour, /^Replace/);
    await page.keyboard.press("s");
    await page.keyboard.press("Enter");
    await page.keyboard.press("ArrowRight");
    await page.keyboard.press("Enter");
    await cursorTo(20, 15);
    await page.keyboard.press("Enter");
    const set = new Map([[at(20, 15), before[at(9, 4)]!], [at(21, 15), before[at(10, 4)]!]]);
    await drawn(set.keys(), (cell) => set.get(cell)!, /^Stamp 2 cells/);
  });
  it("mirror what is drawn, and choose cells around which the cursor goes", async () => {
    await cursorTo(3, 4);
    const four = new Set(mirrored(at(3, 4), field, "both"));
    const colour = await other(...four);
    await page.getByRole("application").focus();
    for (let i = 0; i < 3; i++) await page.keyboard.press("y");
    await page.keyboard.press("Enter");
    await drawn(four, colour, /^Draw 4 cells/);
    await page.keyboard.press("o");
    await page.keyboard.press("Enter");
    for (const key of ["ArrowRight", "ArrowDown", "ArrowLeft"]) for (let i = 0; i < 4; i++) await page.keyboard.press(key);
    await page.keyboard.press("Enter");
    expect(await page.textContent(".choicebar b")).toMatch(/^25 cells/);
    await page.keyboard.press("Delete");
    await drawn(rectangle([3, 4], [7, 8], field), 0, /^Set 25 chosen cells of Sail with no piece/);
    await page.keyboard.press("Escape");
    await page.waitForSelector(".choicebar", { state: "detached" });
  });
  it("stand in the sheet of keys and in the command list, and buttons show where they live", async () => {
    await page.getByRole("application").focus();
    await page.keyboard.press("?");
    const sheet = await page.locator("dialog").textContent();
    for (const words of ["Use the tool at the cursor", "Cursor left", "Cursor left by ten", "Stop the stroke"]) expect(sheet).toContain(words);
    await page.keyboard.press("Escape");
    await page.getByRole("application").focus();
    await page.keyboard.press("/");
    await page.keyboard.type("Choose lasso");
    await page.keyboard.press("Enter");
    expect(await page.locator("[data-action='cells.lasso']").getAttribute("aria-pressed")).toBe("true");
  });
});

describe("chosen cells", () => {
  it("are a box, a lasso and all of one colour, joined and taken from", async () => {
    const said = async () => Number((await page.textContent(".choicebar b"))!.replace(/\D/g, ""));
    await tool("Choose box");
    await drag([2, 2], [6, 6]);
    await expect.poll(said).toBe(25);
    const joining = (name: string) => page.locator(".celloptions").getByRole("button", { name, exact: true }).click();
    await joining("Add");
    await drag([5, 5], [9, 6]);
    await expect.poll(said).toBe(25 + 10 - 4);
    await joining("Take away");
    await tool("Choose lasso");
    await drag([2, 2], [4, 2], [4, 4], [2, 4]);
    await expect.poll(said).toBe(31 - lasso([[2, 2], [4, 2], [4, 4], [2, 4]], field).size);
    await joining("New");
    await tool("Choose alike");
    await page.mouse.click(...(await middle(8, 8)));
    await expect.poll(said).toBe(before.filter((c) => c === before[at(8, 8)]).length);
  });
  it("alone take colour, by every tool", async () => {
    await tool("Choose box");
    await drag([4, 4], [7, 7]);
    await tool("Rectangle");
    const inner = rectangle([4, 4], [7, 7], field);
    const colour = await other(...inner);
    await tool("Rectangle");
    await drag([0, 0], [20, 20]);
    await drawn(inner, colour, /^Draw a rectangle of 16 cells/);
  });
  it("are matched again while all others stay, within the stock, and cells set by hand survive", async () => {
    // Spoil a patch: half of it stays set by hand, the other half is released.
    await tool("Rectangle");
    const patch = rectangle([6, 6], [15, 15], field);
    const colour = await other(...patch);
    await tool("Rectangle");
    await drag([6, 6], [15, 15]);
    await expect.poll(async () => (await cells())[at(6, 6)]).toBe(colour);
    await tool("Choose box");
    await drag([6, 6], [15, 10]);
    await button("Release for the match");
    await expect.poll(async () => (await fetched("by-hand")).reduce((a, b) => a + b, 0)).toBe(50 + hand.reduce((a, b) => a + b, 0));
    const spoilt = await cells();
    await drag([6, 6], [15, 12]);
    await expect.poll(() => page.textContent(".choicebar b")).toMatch(/^70 cells/);
    expect(await serious(page)).toEqual([]);
    await button("Match these again");
    await page.waitForSelector("text=70 cells matched again", { timeout: 60_000 });
    expect((await state()).undo).toBe("Match 70 cells of Sail again");
    const now = await cells();
    const free = rectangle([6, 6], [15, 10], field);
    now.forEach((c, i) => {
      if (!free.has(i)) expect([i, c]).toEqual([i, spoilt[i]]);
    });
    expect([...free].filter((i) => now[i] !== colour).length).toBeGreaterThan(25);
    const stock = (await fetch(`${house.address}/api/stock`).then((r) => r.json())) as { rows: { colour: number; needed: number; usable: number }[] };
    for (const row of stock.rows) if (row.colour !== colour && [...free].some((i) => now[i] === row.colour)) expect([row.colour, row.needed <= row.usable]).toEqual([row.colour, true]);
    for (let i = 0; i < 3; i++) {
      const { undo } = await state();
      await page.keyboard.press("Control+z");
      await expect.poll(async () => (await state()).undo).not.toBe(undo);
    }
    expect(await cells()).toEqual(before);
    expect(complaints).toEqual([]);
  });
});

/** Drops files where a selector says. */
const drop = (where: string, files: { name: string; type: string; bytes: number[] }[], text?: string) =>
  page.evaluate(
    ([selector, list, plain]) => {
      const data = new DataTransfer();
      for (const f of list) data.items.add(new File([new Uint8Array(f.bytes)], f.name, { type: f.type }));
      if (plain) data.setData("text/plain", plain);
      document.querySelector(selector)!.dispatchEvent(new DragEvent("drop", { dataTransfer: data, bubbles: true, cancelable: true }));
    },
    [where, files, text ?? ""] as const,
  );

/** A JPEG photo drawn by the browser. */
const jpeg = (width: number, height: number): Promise<number[]> =>
  page.evaluate(
    async ([w, h]) => {
      const canvas = new OffscreenCanvas(w, h);
      const g = canvas.getContext("2d")!;
      const sky = g.createLinearGradient(0, 0, w, h);
      sky.addColorStop(0, "#2060c0");
      sky.addColorStop(0.5, "#f0e0b0");
      sky.addColorStop(1, "#207030");
      g.fillStyle = sky;
      g.fillRect(0, 0, w, h);
      const blob = await canvas.convertToBlob({ type: "image/jpeg", quality: 0.9 });
      return [...new Uint8Array(await blob.arrayBuffer())];
    },
    [width, height] as const,
  );

describe("pictures that arrive", () => {
  const row = async () => (await state()).items.find((i) => i.id === field.id)!.body;
  const undoTo = async (change: (s: Seen) => boolean) => {
    for (let i = 0; i < 5 && !change(await state()); i++) {
      const { undo } = await state();
      await page.keyboard.press("Control+z");
      await expect.poll(async () => (await state()).undo).not.toBe(undo);
    }
  };
  it("a photo dropped on the view is shown by the chosen field, matched and laid", async () => {
    const old = await row();
    const was = await state();
    await drop(".stage", [{ name: "hills.jpg", type: "image/jpeg", bytes: await jpeg(800, 600) }]);
    await page.waitForSelector("text=shows hills.jpg and is matched", { timeout: 60_000 });
    expect((await row()).picture_name).toBe("hills.jpg");
    expect((await state()).undo).toBe("Show hills.jpg in Sail and lay it");
    expect((await state()).saved.change).toBe(was.saved.change + 1);
    expect(differ(await cells()).length).toBeGreaterThan(before.length / 4);
    // One gesture is one step, and the toast takes back all of it.
    await page.locator(".toast", { hasText: "hills.jpg" }).getByRole("button", { name: "Undo" }).click();
    await expect.poll(async () => (await state()).undo).toBe(was.undo);
    expect((await row()).picture).toBe(old.picture);
    expect((await state()).pictures).toEqual(was.pictures);
    expect(await cells()).toEqual(before);
  });
  it("a picture that is pasted goes there too, and one dropped on another field goes to that one", async () => {
    await page.evaluate((bytes) => {
      const data = new DataTransfer();
      data.items.add(new File([new Uint8Array(bytes)], "pasted.png", { type: "image/png" }));
      document.body.dispatchEvent(new ClipboardEvent("paste", { clipboardData: data, bubbles: true }));
    }, [...png(60, 40)]);
    await page.waitForSelector("text=shows pasted.png and is matched", { timeout: 60_000 });
    await undoTo((s) => s.items.find((i) => i.id === field.id)!.body.picture_name !== "pasted.png");
    const town = (await state()).items.find((i) => i.name === "Town")!;
    await drop(`[data-field="${town.id}"]`, [{ name: "roofs.png", type: "image/png", bytes: [...png(60, 40)] }]);
    await page.waitForSelector("text=Town shows roofs.png and is matched", { timeout: 60_000 });
    expect((await row()).picture_name).not.toBe("roofs.png");
    await undoTo((s) => s.items.find((i) => i.id === town.id)!.body.picture_name === town.body.picture_name);
  });
  it("what cannot be taken is told in place, and nothing changes", async () => {
    const { change } = (await state()).saved;
    // A PNG that claims 100 000 x 1 000 pixels; only its head is looked at.
    const huge = [...png(4, 4)];
    huge.splice(16, 8, 0, 1, 0x86, 0xa0, 0, 0, 3, 0xe8);
    const files = {
      "notes.txt": [...new TextEncoder().encode("no picture")],
      "film.mp4": [0, 0, 0, 24, 0x66, 0x74, 0x79, 0x70],
      "photo.heic": [...new TextEncoder().encode("....ftypheic")],
      "huge.png": huge,
      "torn.jpg": (await jpeg(400, 300)).slice(0, 300),
    };
    for (const [name, bytes] of Object.entries(files)) {
      await drop(".stage", [{ name, type: "", bytes }]);
      const word = page.locator(".stageword[role=alert]");
      await word.getByText(`${name} was not taken.`).waitFor();
      expect(await word.textContent()).toContain("Sail is as it was.");
      await word.getByRole("button", { name: "Close" }).click();
    }
    const one = (name: string, bytes: number[]) => ({ name, type: "image/png", bytes });
    await drop(".stage", [one("a.png", [...png(4, 4)]), one("b.png", [...png(4, 4)])]);
    await page.getByText("2 files came at once: a.png, b.png.").waitFor();
    await drop(".stage", [one("none.png", [])]);
    await page.getByText("none.png is empty, 0 bytes.").waitFor();
    await drop(".stage", [], "https://localhost/picture.png");
    await page.getByText("Only an address came").waitFor();
    expect(await serious(page)).toEqual([]);
    expect((await state()).saved.change).toBe(change);
    expect(await cells()).toEqual(before);
  });
});

describe("pictures that arrive on the plan", () => {
  const shows = async (id: number) => (await state()).items.find((i) => i.id === id)!.body.picture_name;
  /** Drops or pastes a file on the page at a place, as the browser does. */
  const arrive = (event: "drop" | "dragover" | "paste", name: string, bytes: number[], at: readonly [number, number] = [0, 0]) =>
    page.evaluate(
      ([kind, file, data, [clientX, clientY]]) => {
        const transfer = new DataTransfer();
        transfer.items.add(new File([new Uint8Array(data)], file, { type: "image/png" }));
        const on = kind === "paste" ? document.body : document.elementFromPoint(clientX, clientY)!;
        const common = { bubbles: true, cancelable: true };
        const made = kind === "paste" ? new ClipboardEvent("paste", { clipboardData: transfer, ...common }) : new DragEvent(kind, { dataTransfer: transfer, clientX, clientY, ...common });
        on.dispatchEvent(made);
      },
      [event, name, bytes, at] as const,
    );
  const chosen = () => page.getAttribute("main.hallview", "data-chosen");
  /** A place on the floor that Town covers, and nothing chosen. */
  async function onTown(town: number): Promise<[number, number]> {
    await page.goto(`${house.address}/plan`);
    await page.waitForSelector('.hallcount[data-pieces]:not([data-pieces=""])');
    const floor = page.getByRole("application", { name: "The hall from above" });
    await floor.focus();
    await page.keyboard.press("Shift+O");
    await page.getByRole("treeitem", { name: /^Town ?, / }).click();
    await page.keyboard.press("Shift+O");
    await floor.focus();
    await page.keyboard.press("z");
    await page.keyboard.press("Escape");
    await expect.poll(chosen).toBe("");
    const at = [635, 450] as [number, number];
    await page.mouse.click(...at);
    await expect.poll(chosen).toBe(String(town));
    await floor.focus();
    await page.keyboard.press("Escape");
    await expect.poll(chosen).toBe("");
    return at;
  }
  const undoTo = async (id: number, name: string | undefined) => {
    for (let i = 0; i < 4 && (await shows(id)) !== name; i++) {
      const { undo } = await state();
      await page.keyboard.press("Control+z");
      await expect.poll(async () => (await state()).undo).not.toBe(undo);
    }
    expect(await shows(id)).toBe(name);
  };
  it("go to the field under the pointer, or to the chosen field; elsewhere a new one begins", async () => {
    const { id: town, body } = (await state()).items.find((i) => i.name === "Town")!;
    const at = await onTown(town);
    await arrive("dragover", "roofs.png", [...png(60, 40)], at);
    await page.getByText("Drop the picture: Town shows it and is matched").waitFor();
    expect(await serious(page)).toEqual([]);
    await arrive("drop", "roofs.png", [...png(60, 40)], at);
    await page.waitForSelector("text=Town shows roofs.png and is matched", { timeout: 60_000 });
    expect(await shows(town)).toBe("roofs.png");
    await undoTo(town, body.picture_name);
    // Pasted: the chosen field has it, wherever the pointer lies.
    await page.mouse.click(...at);
    await expect.poll(chosen).toBe(String(town));
    await arrive("paste", "pasted.png", [...png(60, 40)]);
    await page.waitForSelector("text=Town shows pasted.png and is matched", { timeout: 60_000 });
    expect(await shows(town)).toBe("pasted.png");
    await undoTo(town, body.picture_name);
    // Bare floor: a new field, as soon as somebody says how large.
    const items = async () => (await state()).items.map((i) => [i.id, i.body.picture_name]);
    const old = await items();
    const { saved, pictures } = await state();
    await page.keyboard.press("Home");
    await arrive("drop", "new.png", [...png(60, 40)], [300, 820]);
    await page.waitForSelector("dialog[open] img");
    await page.keyboard.press("Escape");
    await page.waitForSelector("dialog", { state: "detached" });
    expect(await items()).toEqual(old);
    // Nobody made a field of it: the plan and its history know nothing of the picture.
    expect([(await state()).saved.change, (await state()).pictures]).toEqual([saved.change, pictures]);
    expect(complaints).toEqual([]);
  });
  it("what cannot be taken is told over the floor, and nothing changes", async () => {
    const { id: town } = (await state()).items.find((i) => i.name === "Town")!;
    const at = await onTown(town);
    const { change } = (await state()).saved;
    const word = page.locator(".arrivals .stageword[role=alert]");
    await arrive("drop", "notes.txt", [...new TextEncoder().encode("no picture")], at);
    await word.getByText("notes.txt was not taken.").waitFor();
    expect(await word.textContent()).toContain("Town is as it was.");
    expect(await serious(page)).toEqual([]);
    await word.getByRole("button", { name: "Close" }).click();
    expect(await word.count()).toBe(0);
    // All are chosen: nobody knows which one is meant.
    await page.getByRole("application", { name: "The hall from above" }).focus();
    await page.keyboard.press("Control+a");
    await arrive("paste", "pasted.png", [...png(60, 40)]);
    await word.getByText("pasted.png has no field to go to").waitFor();
    expect((await state()).saved.change).toBe(change);
  });
});

describe("the rest of the picture view", () => {
  it("a part of the picture is drawn, shown and taken back", async () => {
    await button("Done");
    await page.getByRole("button", { name: "Crop", exact: true }).click();
    const stage = page.locator(".cropstage");
    await page.waitForFunction(() => (document.querySelector<HTMLImageElement>(".cropstage img")?.naturalWidth ?? 0) > 0);
    const box = (await stage.boundingBox())!;
    await page.mouse.move(box.x + box.width * 0.25, box.y + box.height * 0.5);
    await page.mouse.down();
    await page.mouse.move(box.x + box.width * 0.75, box.y + box.height * 0.9);
    await page.mouse.up();
    expect(await serious(page)).toEqual([]);
    await button("Show this part");
    await page.waitForSelector("dialog", { state: "detached" });
    const item = (await fetch(`${house.address}/api/item/${field.id}`).then((r) => r.json())) as { body: { crop: number[] } };
    item.body.crop.forEach((edge, i) => expect(edge).toBeCloseTo([0.25, 0.5, 0.75, 0.9][i]!, 1));
    expect((await state()).undo).toBe("Crop the picture of Sail");
    await page.keyboard.press("Control+z");
    await expect.poll(async () => (await state()).undo).not.toBe("Crop the picture of Sail");
    expect(await cells()).toEqual(before);
  });
  it("the standing pieces are looked at from another place without a change of the plan", async () => {
    await button("Done");
    const { change } = (await state()).saved;
    await page.locator(".eyeform summary").click();
    const asked = page.waitForResponse((r) => r.url().includes("eye=") && r.status() === 200);
    await page.locator(".eyeslip").getByRole("button", { name: "Far end" }).click();
    expect((await asked).url()).toMatch(/standing\.png.*eye=\d+,\d+,0$/);
    expect((await state()).saved.change).toBe(change);
  });
  it("the importance of any field that shares the stock is set in one list", async () => {
    await button("Done");
    await page.locator(".shares summary").click();
    const town = (await state()).items.find((i) => i.name === "Town")!;
    await page.getByRole("button", { name: "Town: Before all others" }).click();
    const weight = async () => (await state()).items.find((i) => i.id === town.id)!.body.wish.weight;
    await expect.poll(weight).toBe(100);
    await page.keyboard.press("Control+z");
    await expect.poll(weight).toBe(town.body.wish.weight);
  });
  it("holds no serious finding of axe in three looks and on three sizes", async () => {
    for (const [look, width, height] of [["dark", 1440, 900], ["light", 1024, 768], ["hall", 390, 844]] as const) {
      const opened = await house.open(`/picture/${field.id}`, { width, height }, look);
      await opened.page.getByRole("button", { name: "Edit cells" }).click();
      await opened.page.waitForSelector(".canvasbox");
      expect([look, await serious(opened.page)]).toEqual([look, []]);
      const narrow = await opened.page.evaluate(() => document.documentElement.scrollWidth <= innerWidth);
      expect([look, narrow]).toEqual([look, true]);
      if (width <= 1100) {
        const low = await opened.page.evaluate(() => [...document.querySelectorAll(".editor button")].filter((b) => b.getClientRects().length > 0 && b.getBoundingClientRect().height < 43.5).map((b) => b.textContent));
        expect([look, low]).toEqual([look, []]);
      }
      expect(opened.complaints).toEqual([]);
      await opened.page.context().close();
    }
  });
});
