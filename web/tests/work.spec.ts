import { describe, expect, it } from "vitest";
import type { Page } from "playwright-core";
import { DESK, get, housed } from "./house";
import { FAKE, serious } from "./start";
import { png } from "./png";

const house = housed("example");


interface Seen {
  saved: { change: number };
  undo: string | null;
  items: { id: number; name: string; body: { is: string; lanes: number; ranks: number; look: string; by_hand: number } }[];
}
const state = (page: Page) => get<Seen>(page, "/api/state");
const cells = (page: Page, id: number) =>
  page.evaluate((i) => fetch(`/api/field/${i}/cells.bin`).then((r) => r.arrayBuffer()).then((b) => [...new Uint16Array(b)]), id);
const firstField = async (page: Page) => (await state(page)).items.find((i) => i.body.is === "field")!;

describe("the picture view", () => {
  it("a divider moves by arrow keys and by dragging", async () => {
    const { page } = await house.open("/", DESK);
    const grip = page.getByRole("slider", { name: /Divider between Source/ });
    await grip.focus();
    await page.keyboard.press("Shift+ArrowRight");
    expect(Number(await grip.getAttribute("aria-valuenow"))).toBe(35);
    const box = (await grip.boundingBox())!;
    await page.mouse.move(box.x + 22, box.y + 22);
    await page.mouse.down();
    await page.mouse.move(box.x - 60, box.y + 22, { steps: 4 });
    await page.mouse.up();
    expect(Number(await grip.getAttribute("aria-valuenow"))).toBeLessThan(30);
    await page.context().close();
  });

  it("a match becomes a variant that can be laid and taken back", async () => {
    const { page, complaints } = await house.open("/", DESK);
    const before = await firstField(page);
    await page.getByRole("button", { name: "Match", exact: true }).click();
    await page.waitForSelector(".variants li", { timeout: 90_000 });
    expect(await serious(page)).toEqual([]);
    await page.getByRole("button", { name: "Use variant A" }).click();
    await page.waitForSelector(".variant .laid");
    const after = await firstField(page);
    expect(after.body.look).not.toBe(before.body.look);
    const change = (await state(page)).saved.change;
    await page.keyboard.press("Control+z");
    await expect.poll(async () => (await firstField(page)).body.look).toBe(before.body.look);
    await expect.poll(() => page.textContent(".saved")).toContain(`change ${change + 1},`);
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  it("cells are painted by keys alone, exactly where the cursor stands, and undone", async () => {
    const { page } = await house.open("/", DESK);
    const field = await firstField(page);
    const before = await cells(page, field.id);
    await page.getByRole("button", { name: "Edit cells" }).click();
    const canvas = page.getByRole("application");
    await canvas.focus();
    await page.keyboard.press("ArrowRight");
    const words = (await page.textContent("#paint-at"))!;
    const [, lane, rank] = /Lane (\d+), rank (\d+)/.exec(words)!.map(Number);
    const index = (lane! - 1) * field.body.ranks + rank! - 1;
    // A colour that is not there yet.
    const colours = await page.evaluate(() => fetch("/api/state").then((r) => r.json()).then((s) => s.colours)) as { id: number; name: string }[];
    const other = colours.find((c) => c.id !== before[index])!;
    await page.locator(".brushes").getByRole("button", { name: other.name, exact: true }).click();
    await canvas.focus();
    await page.keyboard.press("Enter");
    await expect.poll(async () => (await firstField(page)).body.by_hand).toBeGreaterThan(field.body.by_hand);
    const after = await cells(page, field.id);
    const changed = after.flatMap((c, i) => (c === before[i] ? [] : [i]));
    expect(changed).toEqual([index]);
    expect(after[index]).toBe(other.id);
    await page.keyboard.press("Control+z");
    await expect.poll(() => cells(page, field.id)).toEqual(before);
    await page.context().close();
  });

  it("a dragged brush paints the cells under it", async () => {
    const { page } = await house.open("/", DESK);
    const field = await firstField(page);
    await page.getByRole("button", { name: "Edit cells" }).click();
    const box = (await page.locator(".canvasbox").boundingBox())!;
    await page.mouse.move(box.x + 3, box.y + 3);
    await page.mouse.down();
    await page.mouse.move(box.x + box.width - 3, box.y + 3, { steps: 3 });
    await page.mouse.up();
    const b = field.body as unknown as { columns: number };
    await expect.poll(async () => (await firstField(page)).body.by_hand - field.body.by_hand).toBe(b.columns);
    await page.getByRole("button", { name: "Undo:" }).click();
    await expect.poll(async () => (await firstField(page)).body.by_hand).toBe(field.body.by_hand);
    await page.context().close();
  });

  it("a picture dropped on the list of fields becomes a field with the shape of the picture", async () => {
    const { page } = await house.open("/", DESK);
    await page.waitForSelector(".fields img");
    const before = (await state(page)).items.length;
    const bytes = [...png(160, 90)];
    await page.evaluate((b) => {
      const data = new DataTransfer();
      data.items.add(new File([new Uint8Array(b)], "old-mill.png", { type: "image/png" }));
      document.querySelector(".fields .add")!.dispatchEvent(new DragEvent("drop", { dataTransfer: data, bubbles: true, cancelable: true }));
    }, bytes);
    await page.waitForSelector("dialog .pic img");
    expect(await page.inputValue("dialog .in.text input")).toBe("old mill");
    expect(await serious(page)).toEqual([]);
    await page.locator("dialog").getByRole("button", { name: "Add a field" }).click();
    await page.waitForSelector("dialog", { state: "detached" });
    const now = await state(page);
    expect(now.items.length).toBe(before + 1);
    expect(now.items.at(-1)!.name).toBe("old mill");
    expect(await page.textContent(".stagehead h1")).toBe("old mill");
    await page.keyboard.press("Control+z");
    await expect.poll(async () => (await state(page)).items.length).toBe(before);
    await page.context().close();
  });

  it("a file that is no picture is refused in words where a field begins, and changes nothing", async () => {
    const { page } = await house.open("/", DESK);
    await page.waitForSelector(".fields img");
    const before = (await state(page)).items.length;
    await page.evaluate(() => {
      const data = new DataTransfer();
      data.items.add(new File(["no picture"], "hall.heic", { type: "image/heic" }));
      document.querySelector(".fields .add")!.dispatchEvent(new DragEvent("drop", { dataTransfer: data, bubbles: true, cancelable: true }));
    });
    await page.waitForSelector("dialog [role=alert]");
    expect(await page.textContent("dialog [role=alert]")).toMatch(/\w/);
    expect((await state(page)).items.length).toBe(before);
    await page.context().close();
  });

  it("a bad pitch is told at the field, and the old one stays", async () => {
    const { page } = await house.open("/", DESK);
    await page.locator("details.frame summary").click();
    const input = page.getByRole("textbox", { name: "Pitch along" });
    const before = await input.inputValue();
    await input.fill("nonsense");
    expect(await page.locator(".nf.bad .why").textContent()).toMatch(/Use .* to /);
    await input.press("Escape");
    expect(await input.inputValue()).toBe(before);
    await page.context().close();
  });
});

describe("the stock view", () => {
  it("a refused list is told line by line and changes nothing", async () => {
    const { page } = await house.open("/stock", DESK);
    await page.waitForSelector("table");
    const before = (await state(page)).saved.change;
    await page.setInputFiles("input[type=file]", { name: "stock.csv", mimeType: "text/csv", buffer: Buffer.from("colour;amount\nSky;-40\n") });
    await page.waitForSelector(".refused");
    expect(await page.locator(".refused li").count()).toBeGreaterThan(0);
    expect(await serious(page)).toEqual([]);
    expect((await state(page)).saved.change).toBe(before);
    await page.context().close();
  });

  it("a counted lot changes the figures", async () => {
    const { page } = await house.open("/stock", DESK);
    await page.waitForSelector("table");
    const input = page.locator(".side .nf input").first();
    const was = Number((await input.inputValue()).replace(/\D/g, ""));
    const change = (await state(page)).saved.change;
    await input.fill(String(was + 7));
    await input.press("Enter");
    await expect.poll(async () => (await state(page)).saved.change).toBe(change + 1);
    await page.getByRole("button", { name: "Undo:" }).click();
    await expect.poll(async () => (await state(page)).saved.change).toBeGreaterThan(change + 1);
    await page.context().close();
  });
});

describe("sheets", () => {
  it("count as many pieces as the plan, and show a page", async () => {
    const { page, complaints } = await house.open("/sheets", DESK);
    await page.waitForSelector(".sheetroom img");
    // "31 680 of 42 660 placed pieces are on the sheets; the chosen fields have 31 680."
    const [on, placed, fields] = [...(await page.textContent(".stagehead span"))!.matchAll(/\d[\d\s]*/g)].map((n) => Number(n[0].replace(/\D/g, "")));
    expect(on).toBe(fields);
    expect(on).toBeGreaterThan(0);
    const pieces = FAKE ? placed : (await get<{ pieces: number }>(page, "/api/fall/report")).pieces;
    expect(placed).toBe(pieces);
    expect(await page.locator(".sheetroom img").evaluate((i) => (i as HTMLImageElement).naturalWidth)).toBeGreaterThan(0);
    const pdf = await page.getByRole("link", { name: "Save as PDF" }).getAttribute("href");
    expect(pdf).toMatch(/^\/api\/sheets\.pdf\?fields=/);
    if (!FAKE) {
      const head = await page.evaluate((u) => fetch(u).then((r) => r.text()).then((t) => t.slice(0, 5)), pdf!);
      expect(head).toBe("%PDF-");
    }
    expect(complaints).toEqual([]);
    await page.context().close();
  });
});

describe("an empty plan", () => {
  it("says how to begin", async () => {
    const own = await house.own("empty");
    const { page } = await house.open("/", DESK, undefined, own);
    await page.waitForSelector(".nothing");
    expect(await page.textContent(".nothing")).toContain("drop a picture");
    expect(await serious(page)).toEqual([]);
    await page.context().close();
    await own.stop();
  });
});
