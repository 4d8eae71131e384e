/** What the page says where it would be easy to say something untrue, too long, or meant for a machine. */
import { describe, expect, it } from "vitest";
import type { Page } from "playwright-core";
import { DESK, SOON, floor, get, housed, send, take } from "./house";
import { FAKE } from "./start";

const house = housed("run");
interface Seen {
  saved: { change: number };
  items: { id: number; name: string; x: number; y: number; heading: number }[];
}
const look = (page: Page, name: string) => (process.env.STANDFAST_LOOK ? page.screenshot({ path: `${process.env.STANDFAST_LOOK}/${name}.png` }) : null);

/** Drops a file on the floor, as the browser does. */
const drop = (page: Page, name: string, text: string, type = "") =>
  page.evaluate(
    ([file, data, type]) => {
      const transfer = new DataTransfer();
      transfer.items.add(new File([data!], file!, { type: type! }));
      document.querySelector("[role=application]")!.dispatchEvent(new DragEvent("drop", { dataTransfer: transfer, bubbles: true, cancelable: true, clientX: 600, clientY: 400 }));
    },
    [name, text, type],
  );

describe.skipIf(FAKE)("in words", () => {
  it("sheets say of how many pieces they are", async () => {
    const { page } = await house.open("/sheets", DESK);
    // 40 pieces stand in the one field, 649 in the line.
    await page.getByText("40 of 689 placed pieces are on the sheets; the chosen fields have 40. Lines, fills and feeds have no lane sheets.").waitFor(SOON);
    await page.locator(".sheetroom img").waitFor(SOON);
    await page.waitForTimeout(500);
    await look(page, "sheets");
    await page.context().close();
  });

  it("without a piece a tool asks for the stock, and no machine speaks", async () => {
    const server = await house.own("empty");
    const { page } = await house.open("/plan", DESK, undefined, server);
    await page.waitForSelector('.hallcount[data-pieces]:not([data-pieces=""])', SOON);
    await take(page, "l", "Line");
    const tried = page.waitForResponse((r) => r.url().endsWith("/api/try"));
    await page.mouse.click(600, 500);
    await page.mouse.move(900, 450);
    await page.mouse.click(900, 450);
    await page.mouse.move(800, 600);
    expect(((await (await tried).json()) as { refused: unknown }).refused).not.toBeNull();
    await page.waitForTimeout(300);
    const words = (await page.locator(".toolslip").innerText()) + (await page.locator(".livelabel").allInnerTexts()).join();
    expect(words).toContain("There are no pieces yet.");
    expect(words).not.toMatch(/kind 0|kinds? \d/);
    await look(page, "bare");
    await page.context().close();
  });

  it("a name as long as a book has a line or two, and is whole where it is changed", async () => {
    const server = await house.own("run");
    const { page } = await house.open("/plan", DESK, undefined, server);
    await page.waitForSelector('.hallcount[data-pieces]:not([data-pieces=""])', SOON);
    const sea = (await get<Seen>(page, "/api/state")).items.find((i) => i.name === "Sea")!;
    const name = "Sea of stones ".repeat(714).trim();
    const { x, y, heading } = sea;
    expect((await send(page, "/api/do", { do: "place", item: sea.id, name, x, y, heading })).status).toBe(200);
    await floor(page).focus();
    await page.keyboard.press("Shift+O");
    const row = page.getByRole("treeitem", { name: /^Sea of stones/ });
    await row.waitFor(SOON);
    await row.click();
    const heading2 = page.locator(".inspector h2");
    await expect.poll(() => heading2.getAttribute("title")).toBe(name);
    expect((await heading2.boundingBox())!.height).toBeLessThan(60);
    expect((await row.innerText()).length).toBeLessThan(140);
    expect(await page.locator(".inspector").getByRole("textbox", { name: "Name" }).inputValue()).toBe(name);
    // The figure of the fall says which one it is.
    await page.locator(".fallfig").getByText(/^middle of \d+:\d\d\.\d – \d+:\d\d\.\d$/).waitFor(SOON);
    await page.keyboard.press("F6");
    const told = await page.locator(".slip.findings li").allInnerTexts();
    expect(told.join()).toContain("Sea of stones");
    for (const words of told) expect(words.length).toBeLessThan(700);
    await page.keyboard.press("Escape");
    await floor(page).focus();
    await page.keyboard.press("Control+z");
    const toast = page.locator(".toast").first();
    await toast.waitFor(SOON);
    expect((await toast.boundingBox())!.height).toBeLessThan(190);
    await page.keyboard.press("Control+y");
    await expect.poll(() => heading2.getAttribute("title")).toBe(name);
    await look(page, "long");
    await page.context().close();
  });

  it("what is dropped and is no picture goes where it belongs, or the next step is said", async () => {
    const server = await house.own("run");
    const { page } = await house.open("/plan", DESK, undefined, server);
    await page.waitForSelector('.hallcount[data-pieces]:not([data-pieces=""])', SOON);
    const { saved } = await get<Seen>(page, "/api/state");
    const word = page.locator(".arrivals .stageword[role=alert]");
    await drop(page, "plan.toml", "format = 1\n");
    await word.getByText("`standfast new NEW.standfast --from plan.toml`").waitFor(SOON);
    expect(await page.locator("dialog").count()).toBe(0);
    await drop(page, "hall.standfast", "SQLite format 3");
    await word.getByText("`standfast open hall.standfast`").waitFor();
    expect((await get<Seen>(page, "/api/state")).saved.change).toBe(saved.change);
    await drop(page, "stock.csv", "name,code,hex\nChalk", "text/csv");
    await page.locator(".refused").waitFor(SOON);
    expect(new URL(page.url()).pathname).toBe("/stock");
    await page.goto(`${server.address}/plan`);
    await page.waitForSelector('.hallcount[data-pieces]:not([data-pieces=""])', SOON);
    await drop(page, "stock.csv", "name,code,hex,count\nBlue,B,#1d5fc4,900\nSky,S,#7cbde6,900\n", "text/csv");
    await page.getByText("stock.csv is the stock now").waitFor(SOON);
    expect(new URL(page.url()).pathname).toBe("/stock");
    await page.context().close();
  });

  it("nothing is said to be found before it is counted, and what is short leads to the stock", async () => {
    const { page } = await house.open("/help", DESK);
    let let_ = () => {};
    const wait = new Promise<void>((go) => (let_ = go));
    await page.route("**/api/findings", async (route) => {
      await wait;
      const answer = await route.fetch();
      const found = (await answer.json()) as { list: object[] };
      const said = { place: null, message: null, hint: null, brief: null };
      found.list.unshift({ code: "stock-short", severity: "must", item: null, place: "stock", at: null, message: "Sky: 640 short.", hint: "", said, mend: false });
      await route.fulfill({ response: answer, json: found });
    });
    await page.goto(`${house.address}/help`);
    const count = page.locator(".findcount");
    await count.getByText("Findings are counted").waitFor(SOON);
    expect(await count.innerText()).not.toContain("Nothing stands in the way");
    let_();
    await count.getByText("Sky: 640 short.").waitFor(SOON);
    await count.click();
    await page.locator(".slip.findings li").first().getByRole("button", { name: "Show the stock" }).click();
    await expect.poll(() => new URL(page.url()).pathname).toBe("/stock");
    await page.context().close();
  });

  it("another window shows a change while what is wrong is still being counted", async () => {
    const [{ page: one }, { page: other }] = [await house.open("/help", DESK), await house.open("/plan", DESK)];
    await other.waitForSelector('.hallcount[data-pieces]:not([data-pieces=""])', SOON);
    await floor(other).focus();
    await other.keyboard.press(".");
    const east = other.locator(".inspector").getByLabel("East of the datum", { exact: true });
    await east.waitFor(SOON);
    const before = await east.inputValue();
    const id = Number(await other.locator(".hallview").getAttribute("data-chosen"));
    let let_ = () => {};
    const wait = new Promise<void>((go) => (let_ = go));
    await other.route("**/api/findings", async (route) => {
      await wait;
      await route.continue();
    });
    const count = other.locator(".findcount");
    expect(await count.getAttribute("aria-busy")).toBe("false");
    expect((await send(one, "/api/do", { do: "arrange", items: [id], how: { is: "move", by: [1_000, 0] } })).status).toBe(200);
    await expect.poll(() => east.inputValue(), SOON).not.toBe(before);
    expect(await count.getAttribute("aria-busy")).toBe("true");
    let_();
    await expect.poll(() => count.getAttribute("aria-busy"), SOON).toBe("false");
    expect((await send(one, "/api/undo")).status).toBe(200);
    for (const page of [one, other]) await page.context().close();
  });

  it("the timeline counts the items that it has no row for", async () => {
    const server = await house.own("run");
    const { page } = await house.open("/fall", DESK, undefined, server);
    await page.locator(".fallreport [data-fallen]").waitFor(SOON);
    expect(await page.locator(".morerows").count()).toBe(0);
    const ids = (await get<Seen>(page, "/api/state")).items.filter((i) => ["First push", "River"].includes(i.name)).map((i) => i.id);
    await send(page, "/api/do", { do: "arrange", items: ids, how: { is: "copy", by: [0, -1300], times: 12, turn: 0 } });
    await page.locator(".morerows").getByText(/^and \d+ more items$/).waitFor(SOON);
    await page.waitForTimeout(400);
    await look(page, "rows");
    await page.context().close();
  });
});
