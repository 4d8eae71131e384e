/** Many pieces of which a few change: the kept picture is drawn again there alone, and has to look as if all of it were. */
import { describe, expect, it } from "vitest";
import type { Page } from "playwright-core";
import { DESK, SOON, floor, get, housed, send } from "./house";
import { FAKE } from "./start";

const house = housed("example");

/** What the floor shows between its slips once it rests, as PNG. */
async function picture(page: Page): Promise<string> {
  const box = (await page.locator(".hallview").boundingBox())!;
  const clip = { x: box.x + 60, y: box.y + 120, width: box.width - 420, height: box.height - 220 };
  let last = "";
  for (let again = 0; again < 40; again++) {
    // A view that rests is drawn finer after a while.
    await page.waitForTimeout(400);
    const now = (await page.screenshot({ clip })).toString("base64");
    if (now === last) return now;
    last = now;
  }
  throw new Error("the floor does not come to rest");
}
/** The same view, of which nothing is left of what was kept. */
async function anew(page: Page): Promise<string> {
  await floor(page).focus();
  for (let i = 0; i < 12; i++) await page.keyboard.press("+");
  await picture(page);
  await page.keyboard.press("Home");
  return picture(page);
}
/** Pixels that differ by more than the rounding of the mean of four samples. */
const differing = (page: Page, a: string, b: string) =>
  page.evaluate(
    async (both) => {
      const [one, other] = await Promise.all(
        both.map(async (png) => {
          const image = await createImageBitmap(new Blob([Uint8Array.from(atob(png), (sign) => sign.charCodeAt(0))]));
          const g = new OffscreenCanvas(image.width, image.height).getContext("2d")!;
          g.drawImage(image, 0, 0);
          return g.getImageData(0, 0, image.width, image.height).data;
        }),
      );
      let n = 0;
      for (let i = 0; i < one!.length; i += 4) if ([0, 1, 2].some((c) => Math.abs(one![i + c]! - other![i + c]!) > 2)) n++;
      return n;
    },
    [a, b],
  );

describe.skipIf(FAKE)("a few of many pieces", () => {
  it("look as if all of them were drawn again when they are moved, turned, coloured, taken away and brought back", async () => {
    const { page, complaints } = await house.open("/plan", DESK);
    await page.waitForSelector('.hallcount[data-pieces]:not([data-pieces=""])', SOON);
    await floor(page).focus();
    await page.keyboard.press("Home");
    const first = await picture(page);
    const { items, colours } = await get<{ items: { id: number; name: string; sort: string; pieces: number }[]; colours: { id: number }[] }>(page, "/api/state");
    // Fewer are drawn without a kept picture.
    expect(items.reduce((all, i) => all + i.pieces, 0)).toBeGreaterThan(20_000);
    const [field, line] = [items.find((i) => i.sort === "field")!, items.filter((i) => i.sort === "line").sort((a, b) => b.pieces - a.pieces)[0]!];
    const changes = [
      { do: "arrange", items: [line.id], how: { is: "move", by: [1_500, -900] } },
      { do: "arrange", items: [field.id], how: { is: "turn", about: [0, 0], by: 4 } },
      { do: "paint", item: field.id, cells: Array.from({ length: 400 }, (_, i) => i), colour: colours[0]!.id },
      { do: "take", items: [items.find((i) => i.name === "Mole")!.id] },
    ];
    let before = first;
    for (const change of changes) {
      const { status, body } = await send(page, "/api/do", change);
      expect(status, JSON.stringify(body)).toBe(200);
      const patched = await picture(page);
      expect(await differing(page, before, patched), change.do).toBeGreaterThan(50);
      expect(await differing(page, patched, await anew(page)), change.do).toBe(0);
      before = patched;
    }
    for (let i = 0; i < changes.length; i++) expect((await send(page, "/api/undo")).status).toBe(200);
    expect(await differing(page, await picture(page), first)).toBe(0);
    expect(complaints).toEqual([]);
    await page.context().close();
  });
});
