/** What tests share that draw on a small plan: a fresh page for each, what is new since it was opened, and one step back. */
import { beforeEach, expect } from "vitest";
import type { Page } from "playwright-core";
import { DESK, SOON, floor, get, type House } from "./house";

export interface Leg {
  is: string;
  length?: number;
  radius?: number;
  ring?: number;
  turns?: number;
  turn?: number;
  hand?: string;
  points?: [number, number][];
}
/** An item, whole. */
export interface Draft {
  id: number;
  name: string;
  x: number;
  y: number;
  heading: number;
  group: number | null;
  body: {
    is: string;
    path?: Leg[];
    from?: { item: number; port: string } | null;
    to?: unknown;
    ring?: number;
    outline?: [number, number][];
    ranks?: number;
    lanes?: number;
    pitch_along?: number;
    pitch_across?: number;
  };
}
/** An item as the plan tells of it. */
export interface Row {
  id: number;
  name: string;
  sort: string;
  x: number;
  y: number;
  pieces: number;
  outline: [number, number][];
  ports: { name: string; enters: boolean; at: [number, number]; heading: number }[];
}
export interface Seen {
  undo: string | null;
  items: Row[];
  floor_plan: { outline: [number, number][]; parts: { name: string; outline: [number, number][] }[] };
}

export class Drawing {
  page!: Page;
  /** What the page complained about; none is left when a test ends. */
  complaints!: string[];
  private known = new Set<number>();

  constructor(house: House) {
    beforeEach(async () => {
      ({ page: this.page, complaints: this.complaints } = await house.open("/plan", DESK));
      await this.page.waitForSelector('.hallcount[data-pieces]:not([data-pieces=""])', SOON);
      this.known = new Set((await this.state()).items.map((i) => i.id));
      return async () => {
        expect(this.complaints).toEqual([]);
        await this.page.context().close();
      };
    });
  }

  readonly state = () => get<Seen>(this.page, "/api/state");
  readonly item = (id: number) => get<Draft>(this.page, `/api/item/${id}`);

  /** Takes a tool by its key. */
  readonly use = async (key: string) => {
    await floor(this.page).focus();
    await this.page.keyboard.press(key);
    if (key !== "v") await this.page.waitForSelector(".toolslip");
  };

  /** Clicks at exact places: held so that nothing snaps, unless it is to. */
  readonly click = async (x: number, y: number, free = true) => {
    if (free) await this.page.keyboard.down("Control");
    await this.page.mouse.move(x, y, { steps: 3 });
    await this.page.mouse.down();
    await this.page.mouse.up();
    if (free) await this.page.keyboard.up("Control");
  };

  /** Presses at the first place and goes to the others without letting go; exact places, as clicks. */
  readonly drag = async (from: [number, number], ...to: [number, number][]) => {
    await this.page.keyboard.down("Control");
    await this.page.mouse.move(...from);
    await this.page.mouse.down();
    for (const place of to) await this.page.mouse.move(...place);
    await this.page.keyboard.up("Control");
  };

  readonly news = async () => (await this.state()).items.filter((i) => !this.known.has(i.id));

  /** The new items, once the server has them. */
  readonly fresh = async (least = 1): Promise<Draft[]> => {
    await expect.poll(async () => (await this.news()).length, SOON).toBeGreaterThanOrEqual(least);
    return Promise.all((await this.news()).map((i) => this.item(i.id)));
  };

  /** One step back takes all of it away. */
  readonly undone = async () => {
    await this.page.keyboard.press("Control+z");
    await expect.poll(async () => (await this.news()).length, SOON).toBe(0);
  };
}
