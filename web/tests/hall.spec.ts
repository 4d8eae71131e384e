import { describe, expect, it } from "vitest";
import type { Page } from "playwright-core";
import { DESK, SOON, housed, send } from "./house";
import { FAKE, serious } from "./start";

const house = housed("run");

interface Fact {
  n: number;
  hit: number[];
  forward: number[];
  back: number[];
  most: number[];
}
/** The columns as the server tells them, read apart from the page's own reader. */
const columns = (page: Page) =>
  page.evaluate(async () => {
    const get = async (path: string) => new DataView(await (await fetch(path)).arrayBuffer());
    const [times, touch] = await Promise.all([get("/api/fall/times"), get("/api/touch")]);
    const n = times.getUint32(8, true);
    const column = (view: DataView, i: number) => Array.from({ length: n }, (_, p) => view.getUint32(16 + 4 * (n * i + p), true));
    return { n, hit: column(times, 0), forward: column(touch, 0), back: column(touch, 1), most: column(touch, 2) };
  }) as Promise<Fact>;
const figure = (text: string | null) => Number((text ?? "").replace(/\D/g, ""));

describe.skipIf(FAKE)("the plan view", () => {
  it("opens with all pieces, moves by keys, and a touch costs what the server says", async () => {
    const { page, complaints } = await house.open("/plan", DESK);
    const told = await columns(page);
    await page.waitForSelector(`.hallcount[data-pieces="${told.n}"]`);
    expect(figure(await page.textContent(".hallcount b"))).toBe(told.n);
    const ground = page.getByRole("application");
    await ground.focus();
    await page.keyboard.press("t");
    await page.waitForSelector(".legend li");
    await page.getByRole("button", { name: "Gaps closed" }).click();
    await page.waitForSelector('[data-query="gaps=closed"]');
    expect(await page.locator(".legend li").count()).toBe(5);
    const shown = await page.locator(".legend small").allTextContents();
    expect(shown.map(figure).reduce((a, b) => a + b, 0)).toBe(told.most.filter((c) => c > 0).length);
    const least = [1, 10, 100, 1_000, 10_000, Infinity];
    expect(shown.map(figure)).toEqual(least.slice(0, 5).map((from, i) => told.most.filter((c) => c >= from && c < least[i + 1]!).length));
    expect(await serious(page)).toEqual([]);
    // By keys alone to the worst place.
    await page.locator(".worst button").first().focus();
    await page.keyboard.press("Enter");
    const touched = page.locator(".touched");
    await touched.waitFor();
    expect(figure(await page.textContent(".worst b"))).toBe(Math.max(...told.most));
    const [forward, back] = [Number(await touched.getAttribute("data-forward")), Number(await touched.getAttribute("data-back"))];
    expect(Math.max(forward, back)).toBeLessThanOrEqual(Math.max(...told.most));
    const piece = told.most.indexOf(Math.max(...told.most));
    expect([forward, back]).toEqual([told.forward[piece], told.back[piece]]);
    const before = await page.textContent(".scalebar b");
    await ground.focus();
    for (let i = 0; i < 6; i++) await page.keyboard.press("-");
    expect(await page.textContent(".scalebar b")).not.toBe(before);
    const far = await page.textContent(".scalebar b");
    for (let i = 0; i < 4; i++) await page.getByRole("button", { name: "Closer" }).click();
    expect(await page.textContent(".scalebar b")).not.toBe(far);
    // A telephone shows the chosen place alone.
    await page.setViewportSize({ width: 390, height: 844 });
    expect(await page.locator(".touchslip").isVisible()).toBe(false);
    await ground.focus();
    await page.keyboard.press("Escape");
    await touched.waitFor({ state: "detached" });
    expect(await page.locator(".touchslip").isVisible()).toBe(true);
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  it("counts a touch for what stands and says what the gaps do", async () => {
    const { page, complaints } = await house.open("/plan", DESK);
    const ground = page.getByRole("application");
    const most = (query: string) =>
      page.evaluate(async (q) => {
        const view = new DataView(await (await fetch(`/api/touch?${q}`)).arrayBuffer());
        const n = view.getUint32(8, true);
        return Array.from({ length: n }, (_, p) => view.getUint32(16 + 4 * (2 * n + p), true));
      }, query);
    const agrees = async (query: string) => {
      await page.waitForSelector(`[data-query="${query}"]`);
      const told = await most(query);
      const shown = await page.locator(".legend small").allTextContents();
      expect(shown.map(figure).reduce((a, b) => a + b, 0)).toBe(told.filter((c) => c > 0).length);
      return told.filter((c) => c > 0).length;
    };
    await ground.focus();
    await page.keyboard.press("t");
    // Four pieces of the line are its gap, which is open at first as while building.
    const open_ = await agrees("gaps=open");
    await ground.focus();
    await page.keyboard.press("g");
    expect(await agrees("gaps=closed")).toBe(open_ + 4);
    await page.keyboard.press("g");
    await agrees("gaps=open");
    // The gap in words: 5 pitches of 15 mm less one piece of 7.5 mm.
    const gap = page.locator(".gaplist li");
    expect(await gap.count()).toBe(1);
    const said = (await page.evaluate(() => fetch("/api/gaps").then((r) => r.json()))) as { gaps: { holds: string; open: number }[] };
    expect(said.gaps[0]!.open).toBeCloseTo(67.5, 6);
    expect(await gap.getAttribute("data-holds")).toBe(said.gaps[0]!.holds);
    expect(await gap.textContent()).toMatch(/River, ranks 61 to 64\..*67\.5.mm are open/s);
    // The line is not built yet: by keys, and again after the page is loaded anew.
    await page.locator(".builtlist summary").focus();
    await page.keyboard.press("Enter");
    const river = page.getByRole("checkbox", { name: /^River/ });
    await river.focus();
    await page.keyboard.press("Space");
    expect(await agrees("gaps=open&without=902")).toBe(40);
    expect(await gap.textContent()).toContain("Not built yet");
    expect(await serious(page)).toEqual([]);
    await page.reload();
    await ground.focus();
    await page.keyboard.press("t");
    expect(await agrees("gaps=open&without=902")).toBe(40);
    // Another browser keeps its own choice.
    const other = await house.open("/plan", DESK);
    await other.page.getByRole("button", { name: "Touch map" }).click();
    await other.page.waitForSelector('[data-query="gaps=open"]');
    await other.page.context().close();
    await page.locator(".builtlist summary").click();
    await page.getByRole("button", { name: "None stands" }).click();
    expect(await agrees("gaps=open&without=902-903")).toBe(0);
    await page.getByRole("button", { name: "All stand" }).click();
    await agrees("gaps=open");
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  it("goes to the place of a finding that is chosen from the list", async () => {
    const { page } = await house.open("/plan", DESK);
    await page.waitForSelector(".hallcount b");
    const findings = (await page.evaluate(() => fetch("/api/findings").then((r) => r.json()).then((s) => s.list))) as { at: [number, number] | null; message: string }[];
    const i = findings.findIndex((f) => f.at);
    expect(i).toBeGreaterThanOrEqual(0);
    await page.keyboard.press("F6");
    await page.locator(".slip.findings li").nth(i).getByRole("button", { name: "Show" }).click();
    await page.waitForSelector(`.slip.place[data-finding="${i}"]`);
    expect(await page.textContent(".slip.place .body")).toContain(findings[i]!.message.slice(0, 30));
    expect(new URL(page.url()).searchParams.get("at")).toBe(findings[i]!.at!.map(Math.round).join(","));
    await page.context().close();
  });
});

describe.skipIf(FAKE)("findings", () => {
  /** Lanes at 25 mm, which is too close for pieces of 24 mm: the mend is clear. */
  const close = { do: "frame", item: 903, lanes: 4, ranks: 10, pitch_along: 15, pitch_across: 25, stagger: 0, fall: "right" };

  it("are mended by a key where the mend is clear, and undone in one step", async () => {
    const { page, complaints } = await house.open("/plan", DESK);
    expect((await send(page, "/api/do", close)).status).toBe(200);
    await page.keyboard.press("F6");
    const row = page.locator(".slip.findings li", { hasText: "The lanes of Sea stand 1" });
    await row.waitFor();
    const all = await page.locator(".slip.findings li").count();
    // Only what has a clear mend offers one.
    expect(await page.getByRole("button", { name: "Mend it" }).count()).toBe(1);
    expect(await serious(page)).toEqual([]);
    await row.getByRole("button", { name: "Mend it" }).focus();
    await page.keyboard.press("m");
    await row.waitFor({ state: "detached" });
    expect(await page.locator(".slip.findings li").count()).toBe(all - 1);
    await page.getByText("Mended: field Sea").waitFor();
    await page.locator(".toast").getByRole("button", { name: "Undo" }).click();
    await row.waitFor();
    // Somebody else changes the plan while the mend is on its way: nothing is done, and the page says why.
    await page.route("**/api/mend", async (route) => {
      expect((await send(page, "/api/do", { do: "rename", name: "From Sea to Spring" })).status).toBe(200);
      await route.continue();
    });
    await row.getByRole("button", { name: "Mend it" }).click();
    await page.getByText("The plan has changed meanwhile").waitFor();
    await row.waitFor();
    await page.unroute("**/api/mend");
    for (let i = 0; i < 2; i++) expect((await send(page, "/api/undo")).status).toBe(200);
    expect(complaints.filter((c) => !c.includes("409"))).toEqual([]);
    await page.context().close();
  });

  it("are mended where they are still found when the key was pressed while they were counted anew", async () => {
    const { page, complaints } = await house.open("/plan", DESK);
    expect((await send(page, "/api/do", close)).status).toBe(200);
    await page.keyboard.press("F6");
    const list = page.locator(".slip.findings");
    const row = list.locator("li", { hasText: "The lanes of Sea stand 1" });
    const key = row.getByRole("button", { name: "Mend it" });
    await key.waitFor();
    /** Another change whose findings are held back, a press, and their coming; gives whether the mend was asked for before that. */
    const pressed = async (change: object): Promise<boolean> => {
      let let_ = () => {};
      const wait = new Promise<void>((go) => (let_ = go));
      await page.route("**/api/findings", async (route) => {
        await wait;
        await route.continue();
      });
      expect((await send(page, "/api/do", change)).status).toBe(200);
      await expect.poll(() => list.getAttribute("aria-busy"), SOON).toBe("true");
      const asked = page.waitForRequest("**/api/mend", { timeout: 300 }).then(() => true, () => false);
      await key.click();
      const early = await asked;
      let_();
      await page.unrouteAll({ behavior: "wait" });
      return early;
    };
    expect(await pressed({ do: "rename", name: "From Sea to Spring" })).toBe(false);
    await page.getByText("Mended: field Sea").waitFor(SOON);
    await row.waitFor({ state: "detached" });
    expect((await send(page, "/api/undo")).status).toBe(200);
    await key.waitFor();
    // What another window mended meanwhile is not there to be mended: the page says so.
    expect(await pressed({ ...close, pitch_across: 26 })).toBe(false);
    await page.getByText("The plan has changed meanwhile").waitFor(SOON);
    await row.waitFor({ state: "detached" });
    for (let i = 0; i < 3; i++) expect((await send(page, "/api/undo")).status).toBe(200);
    expect(complaints).toEqual([]);
    await page.context().close();
  });
});

describe.skipIf(FAKE)("the fall view", () => {
  it("counts at every time what the server's times say, by pointer and by keys", async () => {
    const { page, complaints } = await house.open("/fall", DESK);
    const told = await columns(page);
    const hits = told.hit.filter((t) => t !== 0xffff_ffff);
    await page.waitForSelector(".sentence");
    await page.waitForSelector('[data-loaded]:not([data-loaded="0"])');
    expect(Number(await page.getAttribute(".sentence", "data-fallen"))).toBeGreaterThanOrEqual(hits.length);
    const slider = page.getByRole("slider", { name: "Time of the fall" });
    const now = async () => Number(await page.getAttribute("[data-fallen]:not(.sentence)", "data-fallen"));
    // The run falls: a fall of nothing would pass every count below.
    expect(hits.length).toBeGreaterThan(500);
    const last = Math.max(...hits) / 1e6;
    for (const share of [0.2, 0.5, 0.9]) {
      const at = Math.round(last * share * 1000) / 1000;
      await slider.fill(String(at));
      await expect.poll(now).toBe(hits.filter((t) => t <= at * 1e6 + 0.5).length);
    }
    await slider.focus();
    await page.keyboard.press("End");
    await expect.poll(now).toBe(hits.length);
    await page.keyboard.press("Home");
    await page.keyboard.press("Space");
    await page.waitForSelector('button[aria-pressed="true"]:has-text("Pause")');
    await expect.poll(now, { timeout: 20_000 }).toBeGreaterThan(0);
    await page.keyboard.press("Space");
    // J goes to what stays standing: the field that nothing reaches.
    await page.keyboard.press("j");
    await page.waitForSelector(".slip.place .facts .bad");
    expect(await page.textContent(".slip.place h2")).toContain("Sea");
    expect(await serious(page)).toEqual([]);
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  it("tries many falls in the background, with the same answer for the same seed, and stops when asked", async () => {
    const { page, complaints } = await house.open("/fall", DESK);
    await page.waitForSelector(".sentence");
    const part = page.locator(".fallreport");
    await part.getByRole("button", { name: "Try 100 falls" }).focus();
    await page.keyboard.press("Enter");
    const first = part.locator('[data-seed="1"]');
    await first.waitFor({ timeout: 60_000 });
    // Asked apart from the page: the same figures.
    const told = (await page.evaluate(async () => {
      const headers = { "X-Standfast": "1", "Content-Type": "application/json" };
      let job = await (await fetch("/api/odds", { method: "POST", headers, body: JSON.stringify({ runs: 100, seed: 1 }) })).json();
      while (!job.over) job = await (await fetch(`/api/job/${job.id}`)).json();
      return job.odds;
    })) as { fallen: number[]; can_fall: number; all_fall: number; seconds: number[] };
    expect(Number(await first.getAttribute("data-all"))).toBe(told.all_fall);
    expect((await first.locator("dd").allTextContents()).slice(0, 3).map(figure)).toEqual(told.fallen);
    expect(figure((await first.locator("p").first().textContent())!.split(":")[1]!)).toBe(told.can_fall);
    expect(await first.locator("dd").nth(3).textContent()).toContain(told.seconds[2]! < 10 ? told.seconds[2]!.toFixed(1) : told.seconds[2]!.toFixed(0));
    await part.getByRole("button", { name: "Try 100 others" }).click();
    await part.locator('[data-seed="2"]').waitFor({ timeout: 60_000 });
    expect(await serious(page)).toEqual([]);
    // A long one shows how far it is and ends by a key.
    await page.evaluate(() => fetch("/api/odds", { method: "POST", headers: { "X-Standfast": "1", "Content-Type": "application/json" }, body: '{"runs":10000,"seed":9}' }));
    await part.getByRole("progressbar").waitFor();
    await part.getByRole("button", { name: "Stop", exact: true }).click();
    await part.getByRole("progressbar").waitFor({ state: "detached" });
    expect(await part.locator('[data-seed="2"]').count()).toBe(1);
    expect(await part.locator('[data-seed="9"]').count()).toBe(0);
    expect(complaints).toEqual([]);
    await page.context().close();
  });
});
