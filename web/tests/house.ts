/** What the tests of a file share: a browser, a server, sizes of screens, and ways to ask the server as the page does. */
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll } from "vitest";
import { launch, open, serve, type Running, type Size } from "./start";

export const DESK = { width: 1440, height: 900 };
export const TABLET = { width: 1024, height: 768 };
/** A tablet that is held upright. */
export const UPRIGHT = { width: 820, height: 1180 };
export const PHONE = { width: 390, height: 844 };
/** A telephone on its side. */
export const SIDEWAYS = { width: 844, height: 390 };
/** Two cores are shared with the server, the browser, and another file's. */
export const SOON = { timeout: 15_000 };

/** The usual look at five sizes, the other looks where most is shown: sizes and looks do not meet in the styles. */
const SHOWN = [["dark", DESK], ["dark", TABLET], ["dark", UPRIGHT], ["dark", PHONE], ["dark", SIDEWAYS], ["light", DESK], ["hall", DESK]] as const;

/** For what is made of the parts of the views: each look once, and a size where slips lie at the foot. */
export const EACH_LOOK = [["dark", UPRIGHT], ["light", DESK], ["hall", DESK]] as const;

/** Has a page judged in every look and at every size, or in those of `shown`. */
export async function everywhere(page: Page, judge: (what: string, size: Size) => Promise<void>, shown: typeof SHOWN | typeof EACH_LOOK = SHOWN) {
  for (const [look, size] of shown) {
    await page.setViewportSize(size);
    // As the slip of looks does, which has a test of its own.
    await page.evaluate((l) => (document.documentElement.dataset.look = l), look);
    await page.waitForTimeout(100);
    await judge(`${look} at ${size.width}`, size);
  }
}

export const floor = (page: Page) => page.getByRole("application");
/** Takes a tool by its key, as whoever draws does. */
export async function take(page: Page, key: string, words: string) {
  await floor(page).focus();
  await page.keyboard.press("Escape");
  await page.keyboard.press("Escape");
  await page.keyboard.press(key);
  await page.locator(`.toolslip[aria-label="${words}"]`).waitFor();
}
/** A figure in the tool's slip. */
export async function figure(page: Page, label: string, text: string) {
  const box = page.locator(".toolslip").getByLabel(label, { exact: true });
  await box.fill(text);
  await box.press("Enter");
}
/** Millimetres of a pixel, by the bar of the scale. */
export async function scale(page: Page): Promise<number> {
  const wide = await page.locator(".rule2").evaluate((e) => e.getBoundingClientRect().width);
  const [, n, unit] = /([\d.]+)\s*(mm|m)/.exec(await page.locator(".scalebar b").innerText())!;
  return (Number(n) * (unit === "m" ? 1000 : 1)) / wide;
}

type Plan = Parameters<typeof serve>[0];

export class House {
  browser!: Browser;
  server!: Running;
  private readonly owned: Running[] = [];

  get address(): string {
    return this.server.address;
  }

  /** A page of the common server, or of another one. */
  open(path: string, size: Size, look?: string, server = this.server) {
    return open(this.browser, server.address, path, size, look);
  }

  /** A server of a single test; it ends with the file, also when the test fails. */
  async own(plan: Plan, port?: number): Promise<Running> {
    const one = await serve(plan, [], port);
    this.owned.push(one);
    return one;
  }

  async end() {
    await this.browser?.close();
    for (const one of this.owned) await one.stop();
  }
}

/** A browser for the tests of a file, with more flags where it takes some, and a server when they share one. */
export function housed(plan: Plan | null, flags: readonly string[] = []): House {
  const house = new House();
  beforeAll(async () => {
    [house.browser] = await Promise.all([launch(flags), plan && house.own(plan).then((server) => (house.server = server))]);
  });
  afterAll(() => house.end());
  return house;
}

/** JSON of the server, as the page gets it. */
export const get = <T>(page: Page, path: string) => page.evaluate((p) => fetch(p).then((r) => r.json()), path) as Promise<T>;

/** Posts as the page would; gives the status and what was answered. */
export const send = <T = unknown>(page: Page, path: string, body?: unknown) =>
  page.evaluate(
    ([p, b]) =>
      fetch(p as string, { method: "POST", headers: { "X-Standfast": "1", "Content-Type": "application/json" }, ...(b ? { body: JSON.stringify(b) } : {}) }).then(async (r) => ({
        status: r.status,
        body: (await r.json().catch(() => null)) as unknown,
      })),
    [path, body],
  ) as Promise<{ status: number; body: T | null }>;
