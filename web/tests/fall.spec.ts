/** The fall: playing, stepping, ways to look, pictures and films. */
import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import type { Page } from "playwright-core";
import { DESK, everywhere, get, housed, PHONE, SIDEWAYS } from "./house";
import { FAKE, serious } from "./start";

const house = housed("run");

const SOON = { timeout: 20_000 };

const scene = (page: Page) => page.getByRole("application");
const now = async (page: Page) => Number(await page.getByRole("slider", { name: "Time of the fall" }).inputValue());
const camera = (page: Page) => page.getAttribute(".camerabar", "data-camera");
async function begin(page: Page) {
  await page.waitForSelector('[data-loaded]:not([data-loaded="0"])');
  await page.waitForSelector(".sentence");
  await scene(page).focus();
}
/** Times of all hits as the server tells them, s, in order. */
const hits = (page: Page) =>
  page.evaluate(async () => {
    const view = new DataView(await (await fetch("/api/fall/times")).arrayBuffer());
    const n = view.getUint32(8, true);
    return Array.from({ length: n }, (_, p) => view.getUint32(16 + 4 * p, true)).filter((t) => t !== 0xffff_ffff).sort((a, b) => a - b).map((t) => t / 1e6);
  });
/** What the scene shows beside its slips and the ring of the focus, as a sum of its pixels. */
async function picture(page: Page): Promise<string> {
  await page.waitForTimeout(200);
  const box = (await page.locator(".hallview").boundingBox())!;
  const shot = await page.screenshot({ clip: { x: box.x + 10, y: box.y + 120, width: box.width - 400, height: box.height - 210 } });
  return createHash("sha256").update(shot).digest("hex");
}

describe.skipIf(FAKE)("the clock", () => {
  it("steps by frames, by pieces and by moments, on and back, by keys and by buttons", async () => {
    const { page, complaints } = await house.open("/fall", DESK);
    await begin(page);
    const times = await hits(page);
    const different = [...new Set(times)];
    await page.keyboard.press(".");
    await expect.poll(() => now(page)).toBeCloseTo(1 / 60, 3);
    await page.keyboard.press(",");
    await expect.poll(() => now(page)).toBe(0);
    for (const i of [1, 2, 3]) {
      await page.keyboard.press("n");
      await expect.poll(() => now(page)).toBeCloseTo(different[i]!, 3);
    }
    await page.locator('[data-action="fall.piece.back"]').click();
    await expect.poll(() => now(page)).toBeCloseTo(different[2]!, 3);
    await scene(page).focus();
    await page.keyboard.press("<");
    await page.keyboard.press("<");
    expect(await page.locator('.speed [aria-pressed="true"]').textContent()).toMatch(/1\/100/);
    await page.keyboard.press(">");
    await page.keyboard.press(">");
    // The line has a first and a last piece; nothing else is reached.
    await page.keyboard.press("]");
    await expect.poll(() => now(page)).toBeCloseTo(times.at(-1)!, 3);
    expect(await page.textContent(".momentnow")).toContain("River");
    await page.keyboard.press("[");
    await expect.poll(() => now(page)).toBe(0);
    await page.keyboard.press("PageUp");
    await expect.poll(() => now(page)).toBeGreaterThan(times.at(-1)!);
    await page.keyboard.press("Home");
    await expect.poll(() => now(page)).toBe(0);
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  it("plays at the speed that is chosen and stops at the end; with motion reduced four times a second", async () => {
    const { page } = await house.open("/fall", DESK);
    await begin(page);
    const last = (await hits(page)).at(-1)!;
    await page.evaluate(() => {
      const seen: string[] = [];
      (window as unknown as { seen: string[] }).seen = seen;
      const input = document.querySelector<HTMLInputElement>(".bars input")!;
      const look = () => {
        if (seen.at(-1) !== input.value) seen.push(input.value);
        requestAnimationFrame(look);
      };
      look();
    });
    await page.keyboard.press("Space");
    await page.waitForTimeout(2_000);
    await page.keyboard.press("Space");
    // These pages ask for less motion: about 8 steps in 2 s and no more, whatever the screen does.
    const seen = await page.evaluate(() => (window as unknown as { seen: string[] }).seen);
    expect(seen.length).toBeGreaterThan(2);
    expect(seen.length).toBeLessThanOrEqual(10);
    await page.getByRole("button", { name: "10", exact: true }).click();
    await page.locator('[data-action="fall.play"]').click();
    await expect.poll(() => now(page), SOON).toBeGreaterThan(last);
    await page.waitForSelector('[data-action="fall.play"][aria-pressed="false"]');
    await page.context().close();
  });

  it("goes to the first stall and says why a piece stands there, from the list of what can be done too", async () => {
    const { page } = await house.open("/fall", DESK);
    await begin(page);
    await page.keyboard.press("/");
    await page.waitForSelector("dialog.find[open]");
    await page.keyboard.type("first stall");
    await page.keyboard.press("Enter");
    await page.waitForSelector(".slip.place .facts .bad");
    expect(await page.textContent(".slip.place h2")).toContain("Sea");
    const why = (await page.evaluate(() => fetch("/api/fall/report").then((r) => r.json()).then((r) => r.stands[0].why))) as string;
    expect(why).toBe("not-fed");
    expect(await page.textContent(".slip.place .facts")).toContain("Nothing falls towards them.");
    await scene(page).focus();
    await page.keyboard.press("Escape");
    await page.waitForSelector(".slip.place", { state: "detached" });
    await page.context().close();
  });
});

describe.skipIf(FAKE)("ways to look", () => {
  it("walks by keys and by the keys on the screen, follows, and comes back", async () => {
    const { page, complaints } = await house.open("/fall", DESK);
    await begin(page);
    const first = await picture(page);
    expect(await picture(page)).toBe(first);
    await page.keyboard.press("w");
    await page.waitForSelector(".walkpad");
    expect(await camera(page)).toBe("walk");
    const stood = await picture(page);
    await page.keyboard.press("ArrowUp");
    const ahead = await picture(page);
    expect(ahead).not.toBe(stood);
    await page.keyboard.press("ArrowDown");
    expect(await picture(page)).toBe(stood);
    await page.getByRole("button", { name: "Turn left" }).click();
    expect(await picture(page)).not.toBe(stood);
    expect(await serious(page)).toEqual([]);
    await page.keyboard.press("Tab");
    await scene(page).focus();
    await page.keyboard.press("l");
    await page.waitForSelector('[data-camera="follow"]');
    const slider = page.getByRole("slider", { name: "Time of the fall" });
    await slider.fill("1");
    const early = await picture(page);
    await slider.fill("6");
    expect(await picture(page)).not.toBe(early);
    // The same time shows the same again, whatever was seen in between.
    await slider.fill("1");
    expect(await picture(page)).toBe(early);
    await scene(page).focus();
    await page.keyboard.press("f");
    expect(await camera(page)).toBe("orbit");
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  it("keeps a view in the plan and shows the same when it is chosen again, also after the page is loaded anew", async () => {
    const { page, complaints } = await house.open("/fall", DESK);
    await begin(page);
    await page.keyboard.press("w");
    await page.keyboard.press("ArrowUp");
    await page.keyboard.press("ArrowLeft");
    await page.locator('[data-action="fall.keep"]').click();
    await page.waitForSelector('[data-camera="place"]');
    await page.waitForSelector(".toast", { state: "detached", timeout: 20_000 });
    const state = () => page.evaluate(() => fetch("/api/state").then((r) => r.json())) as Promise<{ items: { id: number; name: string; sort: string; body: { height: number } }[] }>;
    const kept = (await state()).items.filter((i) => i.sort === "camera");
    expect(kept.map((i) => [i.name, Math.round(i.body.height)])).toEqual([["Camera 1", 1_600]]);
    await page.mouse.move(720, 880);
    await scene(page).focus();
    const seen = await picture(page);
    await page.keyboard.press("f");
    expect(await picture(page)).not.toBe(seen);
    await page.locator(".places select").selectOption({ label: "Camera 1" });
    await scene(page).focus();
    expect(await picture(page)).toBe(seen);
    await page.reload();
    await begin(page);
    await page.keyboard.press("c");
    expect(await camera(page)).toBe("place");
    // Nobody was here before in this page: what is seen is the plan's alone.
    expect(await picture(page)).toBe(seen);
    await page.keyboard.press("Control+z");
    await expect.poll(async () => (await state()).items.filter((i) => i.sort === "camera").length).toBe(0);
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  it("leaves room for the scene on a telephone, upright and on its side, where the report is one sentence until more is wanted", async () => {
    const { page, complaints } = await house.open("/fall", DESK);
    await begin(page);
    for (const [size, wide, high] of [[PHONE, 390, 280], [SIDEWAYS, 500, 240]] as const) {
      await page.setViewportSize(size);
      const box = async (of: string) => (await page.locator(of).boundingBox())!;
      const report = page.locator(".fallreport");
      await expect.poll(async () => (await box(".hallview")).width, SOON).toBeLessThanOrEqual(size.width);
      const [room, told, bar, clock] = [await box(".hallview"), await box(".fallreport"), await box(".camerabar"), await box(".timeline")];
      expect([room.width >= wide, room.height >= high], `${room.width} × ${room.height}`).toEqual([true, true]);
      expect(told.height + bar.height, `${size.width}`).toBeLessThan(0.62 * room.height);
      expect(clock.y + clock.height).toBeLessThanOrEqual(size.height);
      expect(clock.x + clock.width).toBeLessThanOrEqual(size.width);
      expect(await page.locator('[data-action="fall.play"]').isVisible()).toBe(true);
      expect(await page.getByRole("button", { name: "Time your own line" }).isVisible()).toBe(false);
      const more = report.getByRole("button", { name: "More" });
      await more.press("Enter");
      expect(await page.getByRole("button", { name: "Time your own line" }).isVisible()).toBe(true);
      await report.getByRole("button", { name: "Less" }).press("Enter");
    }
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  it("has all its keys at four sizes, 44 pixels high where fingers press, without serious findings", async () => {
    const { page } = await house.open("/fall", DESK);
    await begin(page);
    await everywhere(page, async (what, size) => {
      const more = page.locator(".camerabar .morekey");
      if ((size.width === 390 || size.height === 390) && (await more.getAttribute("aria-expanded")) !== "true") await more.click();
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(size.width);
      expect(await serious(page), what).toEqual([]);
      if (size.width < 1_200) {
        const low = await page.locator(".camerabar :is(button, select):visible, .timeline button:visible").evaluateAll((all) => {
          // Small keys take presses around them as well.
          const high = (b: Element) => Math.max(b.getBoundingClientRect().height, parseFloat(getComputedStyle(b, "::after").height) || 0);
          return all.filter((b) => high(b) < 44).map((b) => b.outerHTML.slice(0, 80));
        });
        expect(low, what).toEqual([]);
      }
    });
    await page.context().close();
  });
});

/** How bright the middle of the scene is, beside what lies over it: the mean of its pixels. */
async function light(page: Page): Promise<number> {
  const box = (await page.locator(".hallview").boundingBox())!;
  const shot = await page.screenshot({ clip: { x: box.x + 10, y: box.y + 120, width: box.width - 400, height: box.height - 210 } });
  return page.evaluate(async (data) => {
    const picture = await createImageBitmap(new Blob([Uint8Array.from(atob(data), (c) => c.charCodeAt(0))], { type: "image/png" }));
    const g = new OffscreenCanvas(picture.width, picture.height).getContext("2d")!;
    g.drawImage(picture, 0, 0);
    // Pieces of this plan are blue, nothing else is.
    const { data: all } = g.getImageData(0, 0, picture.width, picture.height);
    let [sum, n] = [0, 0];
    for (let i = 0; i < all.length; i += 4) if (all[i + 2]! > 1.5 * all[i]!) [sum, n] = [sum + all[i + 2]!, n + 1];
    return n ? sum / n : 0;
  }, shot.toString("base64"));
}

describe.skipIf(FAKE)("a fall that is older than the plan", () => {
  it("is said to be and shown at half light, until the new one is there", async () => {
    const { page, complaints } = await house.open("/fall", DESK);
    await begin(page);
    await scene(page).focus();
    await page.keyboard.press("w");
    const bright = await light(page);
    expect(bright).toBeGreaterThan(40);
    const stale = page.locator(".stalefall");
    expect(await stale.count()).toBe(0);
    // The new fall is slow to come.
    let go: () => void = () => undefined;
    const held = new Promise<void>((done) => (go = done));
    await page.route("**/api/fall/times", async (route) => {
      await held;
      await route.continue();
    });
    const change = await page.evaluate(async () => {
      const before = (await fetch("/api/state").then((r) => r.json())).saved.change as number;
      await fetch("/api/do", { method: "POST", headers: { "X-Standfast": "1", "Content-Type": "application/json" }, body: JSON.stringify({ do: "rename", name: "From Spring to Sea again" }) });
      return before;
    });
    await stale.waitFor();
    expect(await stale.innerText()).toContain(`Fall of change ${change}:`);
    await expect.poll(async () => (await light(page)) / bright).toBeLessThan(0.6);
    expect((await light(page)) / bright).toBeGreaterThan(0.4);
    expect(await serious(page)).toEqual([]);
    go();
    await stale.waitFor({ state: "detached" });
    await expect.poll(async () => (await light(page)) / bright).toBeGreaterThan(0.9);
    expect(complaints).toEqual([]);
    await page.keyboard.press("Control+z");
    // Pictures are named after the plan: the other tests want its own name.
    await expect.poll(async () => (await get<{ name: string }>(page, "/api/state")).name, SOON).toBe("From Spring to Sea");
    await page.context().close();
  });
});

describe.skipIf(FAKE)("the bars of pieces a second", () => {
  it("have a key above them where they are too narrow for words", async () => {
    const { page } = await house.open("/fall", PHONE);
    await page.waitForSelector(".barkey");
    const key = page.locator(".barkey");
    const words = await key.innerText();
    for (const word of ["Pieces a second,", "at the most", "fallen", "to come", "when the last one falls"]) expect(words).toContain(word);
    // The figure is that of the fullest bar: at most so many hits in a step of time, by the server's own times.
    const times = await hits(page);
    const end = times.at(-1)! + 1;
    const step = end > 240 ? 2 : end > 30 ? 1 : 0.25;
    const bars = new Map<number, number>();
    for (const t of times) bars.set(Math.floor(t / step), (bars.get(Math.floor(t / step)) ?? 0) + 1);
    expect(words).toContain(`${Math.round(Math.max(...bars.values()) / step)} at the most`);
    const [above, below] = [(await key.boundingBox())!, (await page.locator(".bars").boundingBox())!];
    expect(above.y + above.height).toBeLessThanOrEqual(below.y);
    expect(above.x + above.width).toBeLessThanOrEqual(PHONE.width);
    expect(await serious(page)).toEqual([]);
    await page.setViewportSize(DESK);
    await key.waitFor({ state: "detached" });
    await page.context().close();
  });
});

/** What the page hands to the browser to save. */
async function saved(page: Page, press: () => Promise<void>): Promise<{ name: string; bytes: Buffer }> {
  const [download] = await Promise.all([page.waitForEvent("download", { timeout: 100_000 }), press()]);
  return { name: download.suggestedFilename(), bytes: readFileSync(await download.path()) };
}
/** Length, size, and how bright the picture is in the middle of a film, as the browser plays it. */
const played = (page: Page, bytes: Buffer) =>
  page.evaluate(async (text) => {
    const video = document.createElement("video");
    video.muted = true;
    const data = Uint8Array.from(atob(text), (c) => c.charCodeAt(0));
    video.src = URL.createObjectURL(new Blob([data], { type: "video/webm" }));
    await new Promise((done, fail) => {
      video.onloadeddata = done;
      video.onerror = () => fail(new Error(video.error?.message));
    });
    const changes = (one: readonly number[], other: readonly number[]) => one.filter((v, i) => Math.abs(v - other[i]!) > 24).length;
    const look = async (at: number, before?: readonly number[]) => {
      video.currentTime = at;
      await new Promise((done) => (video.onseeked = done));
      const canvas = new OffscreenCanvas(video.videoWidth, video.videoHeight);
      const g = canvas.getContext("2d")!;
      // A busy browser may have sought a frame and not yet have it to draw: then nothing is drawn, or the one before it.
      for (let i = 0; ; i++) {
        g.drawImage(video, 0, 0);
        const pixels = Array.from(g.getImageData(0, 0, canvas.width, canvas.height).data.filter((_, k) => k % 4 !== 3));
        if (i === 60 || (pixels.some((v) => v > 0) && !(before && changes(before, pixels) === 0))) return pixels;
        await new Promise((done) => setTimeout(done, 50));
      }
    };
    const first = await look(0);
    const last = await look(Number.isFinite(video.duration) ? video.duration - 0.05 : 1, first);
    return { seconds: video.duration, size: [video.videoWidth, video.videoHeight], most: first.reduce((a, b) => Math.max(a, b), 0), changed: changes(first, last) };
  }, bytes.toString("base64"));

describe.skipIf(FAKE)("pictures and films", () => {
  it("saves a picture as PNG, named after plan and time, in the size that was chosen", async () => {
    const { page, complaints } = await house.open("/fall", DESK);
    await begin(page);
    await page.getByRole("slider", { name: "Time of the fall" }).fill("2.5");
    await page.locator('[data-action="fall.picture"]').click();
    expect(await serious(page)).toEqual([]);
    for (const [label, width, height] of [["1 280", 1_280, 720], ["1 920", 1_920, 1_080], ["3 840", 3_840, 2_160]] as const) {
      await page.locator("#studio-size").selectOption({ index: ["1 280", "1 920", "3 840"].indexOf(label) + 1 });
      const { name, bytes } = await saved(page, () => page.locator('[data-do="picture"]').click());
      expect(name).toBe("from-spring-to-sea_0-02.5.png");
      // The head of a PNG: eight signs, then width and height in the first chunk.
      expect([...bytes.subarray(0, 8)]).toEqual([137, 80, 78, 71, 13, 10, 26, 10]);
      expect([bytes.readUInt32BE(16), bytes.readUInt32BE(20)]).toEqual([width, height]);
      // Not one colour: an empty picture packs into next to nothing.
      expect(bytes.length).toBeGreaterThan(8_000);
    }
    expect(complaints.filter((c) => !c.includes("GL Driver"))).toEqual([]);
    await page.context().close();
  });

  it("makes a film with every frame in it, which the browser plays", async () => {
    const { page, complaints } = await house.open("/fall", DESK);
    await begin(page);
    await page.keyboard.press("m");
    await page.locator("#studio-size").selectOption({ index: 1 });
    await page.locator("#studio-begin").fill("1");
    await page.locator("#studio-until").fill("7");
    await page.locator("#studio-speed").selectOption("10");
    await page.locator("#studio-rate").selectOption("25");
    // 6 s at ten times: 0.6 s, 15 steps and one picture more.
    await page.getByText("16 frames").waitFor();
    const { name, bytes } = await saved(page, () => page.locator('[data-do="film"]').click());
    expect(name).toBe("from-spring-to-sea_0-01.0.webm");
    await page.waitForSelector('[data-film="webm"][data-frames="16"]');
    const blank = await house.browser.newPage();
    const told = await played(blank, bytes);
    expect(told.size).toEqual([1_280, 720]);
    expect(told.seconds).toBeCloseTo(16 / 25, 2);
    expect(told.most).toBeGreaterThan(80);
    // Pieces have fallen from the first frame to the last.
    expect(told.changed).toBeGreaterThan(200);
    await blank.close();
    expect(complaints.filter((c) => !c.includes("GL Driver"))).toEqual([]);
    await page.context().close();
  });

  it("stops a film when asked, and hands nothing over", async () => {
    const { page } = await house.open("/fall", DESK);
    await begin(page);
    let downloads = 0;
    page.on("download", () => downloads++);
    await page.keyboard.press("m");
    await page.locator('[data-do="film"]').click();
    await page.waitForSelector('.studiorun:not([data-frame="0"])');
    expect(await page.getByRole("progressbar", { name: "Making the film" }).count()).toBe(1);
    await page.locator(".studiorun").getByRole("button", { name: "Stop" }).click();
    await page.waitForSelector(".studiorun", { state: "detached" });
    expect(await page.locator("[data-film]").count()).toBe(0);
    expect(downloads).toBe(0);
    await page.context().close();
  });

  it("records where single frames cannot be encoded, and says so where there is no encoder at all", async () => {
    const { page } = await house.open("/fall", DESK);
    await page.addInitScript(() => delete (window as unknown as { VideoEncoder?: unknown }).VideoEncoder);
    await page.reload();
    await begin(page);
    await page.keyboard.press("m");
    await page.getByText("records while the fall plays").waitFor();
    await page.locator("#studio-size").selectOption({ index: 1 });
    await page.locator("#studio-speed").selectOption("10");
    const { name, bytes } = await saved(page, () => page.locator('[data-do="film"]').click());
    expect(name).toMatch(/\.(webm|mp4)$/);
    const blank = await house.browser.newPage();
    expect((await played(blank, bytes)).most).toBeGreaterThan(80);
    await blank.close();
    await page.addInitScript(() => delete (window as unknown as { MediaRecorder?: unknown }).MediaRecorder);
    await page.reload();
    await begin(page);
    await page.keyboard.press("m");
    await page.waitForSelector('[data-means="none"]');
    expect(await page.textContent('[data-means="none"]')).toContain("no encoder for films");
    expect(await page.locator('[data-do="film"]').count()).toBe(0);
    await page.context().close();
  });
});
