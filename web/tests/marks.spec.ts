import { describe, expect, it } from "vitest";
import { DESK, figure, floor, housed, take } from "./house";
import { FAKE, serious } from "./start";

const house = housed("empty");

interface Item {
  id: number;
  name: string;
  sort: string;
  x: number;
  y: number;
  heading: number;
  gaps: { first: number; count: number; stopper: boolean }[];
  body: Record<string, unknown> & { is: string };
}
interface Plan {
  hall: string;
  undo: string | null;
  kinds: { id: number }[];
  colours: { id: number; code: string }[];
  surfaces: { id: number; name: string; height: number; outline: [number, number][] }[];
  floor_plan: { outline: [number, number][]; parts: { name: string; is: string; outline: [number, number][]; height: number }[] };
  items: Item[];
}
const told = async (): Promise<Plan> => (await fetch(`${house.address}/api/state`)).json() as Promise<Plan>;
const post = async (path: string, body?: unknown) => {
  const answer = await fetch(house.address + path, { method: "POST", headers: { "X-Standfast": "1", "Content-Type": "application/json", Origin: house.address }, ...(body === undefined ? {} : { body: JSON.stringify(body) }) });
  if (!answer.ok) throw new Error(`${path}: ${await answer.text()}`);
};
/** The plan once something is true of it. */
async function once(is: (plan: Plan) => boolean, what: string): Promise<Plan> {
  for (let i = 0; i < 400; i++) {
    const plan = await told();
    if (is(plan)) return plan;
    await new Promise((later) => setTimeout(later, 50));
  }
  throw new Error(`never: ${what}; the plan: ${JSON.stringify(await told()).slice(0, 2000)}`);
}
const of = (plan: Plan, sort: string) => plan.items.filter((i) => i.sort === sort);
const box = (o: readonly (readonly [number, number])[]) => {
  const [xs, ys] = [o.map((p) => p[0]), o.map((p) => p[1])];
  return [Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys)].map(Math.round);
};

describe.skipIf(FAKE)("tools that are neither lines nor fields", () => {
  it("draw a hall and all that stands in it from an empty plan", { timeout: 120_000 }, async () => {
    // Empty also when it is tried again.
    house.server = await house.own("empty");
    const { page, complaints } = await house.open("/plan", DESK);
    // Begin: usual pieces, so that there is something to lay.
    await page.locator('[data-action="stock.usual"]').click();
    const stocked = await once((p) => p.kinds.length === 1, "the usual pieces");
    expect(stocked.colours).toHaveLength(10);
    // The way in "Draw the hall" takes the tool.
    await page.locator('[data-action="hall.draw"]').click();
    await page.locator('.toolslip[aria-label="Hall"]').waitFor();
    expect(await page.locator(".firstminutes").count()).toBe(0);
    await floor(page).focus();
    // Walls by keys alone: a corner at the crosshair, then typed sizes.
    await page.keyboard.press("Enter");
    await page.keyboard.type("27 m");
    await page.keyboard.press("Tab");
    await page.keyboard.type("15 m");
    await page.keyboard.press("Enter");
    await page.keyboard.press("Shift+Enter");
    let plan = await once((p) => p.floor_plan.outline.length === 4, "the walls");
    expect(box(plan.floor_plan.outline)).toEqual([27_000, 15_000]);
    await page.locator(".toolslip").getByLabel("Name").waitFor();
    await page.locator(".toolslip").getByLabel("Name").fill("Larkmeadow Hall");
    await page.locator(".toolslip").getByLabel("Name").press("Enter");
    await once((p) => p.hall === "Larkmeadow Hall", "the name of the hall");
    expect(await serious(page)).toEqual([]);

    // An exit by a drag; then it is chosen, and its height and name are typed.
    await floor(page).focus();
    await page.keyboard.press("Home");
    await page.keyboard.press("Escape");
    await page.locator(".toolslip").getByLabel("Part of the hall").selectOption("exit");
    const [cx, cy] = [720, 480];
    await page.mouse.move(cx, cy);
    await page.mouse.down();
    await page.mouse.move(cx + 60, cy + 40, { steps: 4 });
    await page.mouse.up();
    plan = await once((p) => p.floor_plan.parts.length === 1, "an exit");
    expect(plan.floor_plan.parts[0]).toMatchObject({ name: "Exit 1", is: "exit" });
    expect(await page.locator(".toolslip .caution").textContent()).toContain("local codes");
    // One right after the other: neither change undoes the one before.
    await figure(page, "Height", "2.1 m");
    await figure(page, "Width", "1.2 m");
    plan = await once((p) => box(p.floor_plan.parts[0]!.outline)[0] === 1200, "the width of the exit");
    expect(plan.floor_plan.parts[0]!.height).toBe(2100);
    // Another one, taken away by Delete while it is chosen.
    await page.mouse.move(cx - 200, cy);
    await page.mouse.down();
    await page.mouse.move(cx - 140, cy + 40, { steps: 4 });
    await page.mouse.up();
    await once((p) => p.floor_plan.parts[1]?.name === "Exit 2", "a second exit");
    await floor(page).focus();
    await page.keyboard.press("Delete");
    await once((p) => p.floor_plan.parts.length === 1, "one exit again");
    await post("/api/undo");
    await once((p) => p.floor_plan.parts.length === 2, "the exit back");
    await post("/api/redo");
    // The walls stayed as they were all the while.
    expect(box((await told()).floor_plan.outline)).toEqual([27_000, 15_000]);

    // A table to stand on, by keys.
    const table = async () => {
      await page.keyboard.press("Enter");
      await page.keyboard.type("1.2 m");
      await page.keyboard.press("Tab");
      await page.keyboard.type("600");
      await page.keyboard.press("Enter");
      await page.keyboard.press("Shift+Enter");
    };
    await take(page, "u", "Surface");
    await table();
    plan = await once((p) => p.surfaces.length === 1, "a surface");
    expect([plan.surfaces[0]!.height, box(plan.surfaces[0]!.outline)]).toEqual([740, [1200, 600]]);
    // While the answer to a change is on its way, what is pressed and typed waits for it: no letter of a unit is a shortcut.
    const old = plan.surfaces[0]!.id;
    await page.route("**/api/do", async (route) => {
      await new Promise((later) => setTimeout(later, 800));
      await route.continue();
    }, { times: 1 });
    await page.keyboard.press("Delete");
    await table();
    plan = await once((p) => p.surfaces.length === 1 && p.surfaces[0]!.id !== old, "another surface");
    expect(box(plan.surfaces[0]!.outline)).toEqual([1200, 600]);
    // The hall's own parts do not take it in.
    expect(plan.floor_plan.parts.filter((p) => p.is !== "surface")).toHaveLength(1);

    // A placeholder by keys.
    await take(page, "b", "Placeholder");
    for (let i = 0; i < 3; i++) await page.keyboard.press("Shift+ArrowUp");
    await page.keyboard.press("Enter");
    await page.keyboard.type("1.5 m");
    await page.keyboard.press("Tab");
    await page.keyboard.type("400");
    await page.keyboard.press("Enter");
    expect(await serious(page)).toEqual([]);
    await page.keyboard.press("Shift+Enter");
    plan = await once((p) => of(p, "placeholder").length === 1, "a placeholder");
    expect(of(plan, "placeholder")[0]!.body).toMatchObject({ length: 1500, width: 400, height: 300 });

    // A line to mark, made apart from the page.
    const line = {
      id: null, name: "River", section: null, surface: 0, x: 0, y: 4000, heading: 0, built: null, gaps: [], locked: false, group: null, cells_from: null,
      body: { is: "line", kind: plan.kinds[0]!.id, lanes: 2, pitch_across: 27, spacing: { by: "pitch", mm: 15 }, placed: "comb", path: [{ is: "straight", length: 1500 }], from: null, to: null, colours: { is: "plain", colour: plan.colours[0]!.id }, bridges: [] },
    };
    await post("/api/do", { do: "put", items: [line], label: "Draw River" });
    plan = await once((p) => of(p, "line").length === 1, "a line");
    const river = of(plan, "line")[0]!;
    // Choose it by keys and go where it is: its first piece lies in the middle then.
    await floor(page).focus();
    await page.keyboard.press("Escape");
    await page.keyboard.press("Escape");
    await page.waitForSelector('.hallcount[data-pieces="200"]');
    await page.keyboard.press("Escape");
    for (let i = 0; i < 8 && (await page.locator(".hallview").getAttribute("data-chosen")) !== String(river.id); i++) await page.keyboard.press(".");
    expect(await page.locator(".hallview").getAttribute("data-chosen")).toBe(String(river.id));
    // The line's middle lies in the middle now; its beginning is looked at by its place.
    await page.goto(`${house.address}/plan?at=0,4000`);
    await page.waitForSelector('.hallcount[data-pieces="200"]');
    await floor(page).focus();
    for (let i = 0; i < 4; i++) await page.keyboard.press("+");

    // A start at the crosshair, which meets the line's own beginning.
    await page.keyboard.press("p");
    await page.locator('.toolslip[aria-label="Start"]').waitFor();
    expect(await serious(page)).toEqual([]);
    await page.keyboard.press("Enter");
    plan = await once((p) => of(p, "start").length === 1, "a start");
    const start = of(plan, "start")[0]!;
    const pushed = await (await fetch(`${house.address}/api/item/${start.id}`)).json() as { body: { width: number } };
    // 20 mm before the first piece; as wide as two lanes of 24 mm that lie 27 mm apart.
    expect([start.x, start.y, start.heading, pushed.body.width]).toEqual([-20, 4000, 0, 51]);

    // A gap by keys on a piece in the middle of it: once to see, once to open; a stopper stands in it.
    await take(page, "g", "Gap");
    await page.keyboard.press("ArrowRight");
    await page.keyboard.press("ArrowUp");
    await page.keyboard.press("ArrowDown");
    await page.keyboard.press("Enter");
    await page.getByText("Press there again").waitFor();
    expect(of(await told(), "line")[0]!.gaps).toEqual([]);
    await page.locator(".toolslip").getByText("clear for").waitFor();
    await page.keyboard.press("Enter");
    plan = await once((p) => of(p, "line")[0]!.gaps.length === 1, "a gap");
    expect(of(plan, "line")[0]!.gaps[0]).toMatchObject({ count: 7, stopper: false });
    const first = of(plan, "line")[0]!.gaps[0]!.first;
    expect(first).toBeLessThan(100);
    await post("/api/undo");
    await once((p) => of(p, "line")[0]!.gaps.length === 0, "no gap");
    await post("/api/redo");

    // A stopper where the crosshair is.
    await take(page, "o", "Stopper");
    await figure(page, "Thickness", "30");
    await floor(page).focus();
    await page.keyboard.press("Enter");
    plan = await once((p) => of(p, "stopper").length === 1, "a stopper");
    expect(of(plan, "stopper")[0]!.heading).toBe(0);

    // A note with signs that a page could take for its own.
    const text = '<b onmouseover="x">Mind the step</b> & שלום 🌊';
    await take(page, "n", "Note");
    await page.keyboard.press("ArrowDown");
    await page.keyboard.press("Enter");
    const words = page.locator(".toolslip textarea");
    await words.waitFor();
    await words.fill("");
    await words.press("Enter");
    await page.getByText("Write something first").waitFor();
    await words.fill(text);
    expect(await serious(page)).toEqual([]);
    await words.press("Enter");
    plan = await once((p) => of(p, "note").length === 1, "a note");
    expect(of(plan, "note")[0]!.body["text"]).toBe(text);
    expect(await page.locator("[onmouseover]").count()).toBe(0);

    // A dimension by keys, and a camera.
    await take(page, "m", "Dimension");
    await page.keyboard.press("Enter");
    await page.keyboard.type("2.4 m");
    await page.keyboard.press("Tab");
    await page.keyboard.type("90");
    await page.keyboard.press("Enter");
    await page.keyboard.press("Shift+Enter");
    plan = await once((p) => of(p, "dimension").length === 1, "a dimension");
    expect([of(plan, "dimension")[0]!.body["to"], of(plan, "dimension")[0]!.heading]).toEqual([[2400, 0], 90]);
    await take(page, "c", "Camera");
    await figure(page, "Height of the lens", "3 m");
    expect(await page.locator(".toolslip .caution").textContent()).toContain("licensed rigger");
    await floor(page).focus();
    await page.keyboard.press("Enter");
    await page.keyboard.type("6 m");
    await page.keyboard.press("Enter");
    await page.keyboard.press("Shift+Enter");
    plan = await once((p) => of(p, "camera").length === 1, "a camera");
    expect(of(plan, "camera")[0]!.body).toMatchObject({ height: 3000, look: [6000, 0], field_of_view: 60 });
    await post("/api/undo");
    await once((p) => of(p, "camera").length === 0, "no camera");
    await post("/api/redo");
    await once((p) => of(p, "camera").length === 1, "the camera again");
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  it("feed a field in the way that is chosen, and say how sure it is", { timeout: 60_000 }, async () => {
    const { page, complaints } = await house.open("/plan", DESK);
    await post("/api/do", { do: "add-field", name: "Mill", lanes: 8, ranks: 12, fall: "right", picture: null });
    const field = of(await once((p) => of(p, "field").length === 1, "a field"), "field")[0]!;
    await floor(page).focus();
    for (let i = 0; i < 20 && (await page.locator(".hallview").getAttribute("data-chosen")) !== String(field.id); i++) await page.keyboard.press(".");
    await page.keyboard.press("d");
    await page.locator('.toolslip[aria-label="Feed"]').waitFor();
    await page.keyboard.press("Enter");
    const ways = page.locator(".asktold label");
    await ways.first().waitFor();
    expect(await ways.count()).toBe(8);
    const asked = await (await fetch(`${house.address}/api/field/${field.id}/feeds`)).json() as { ways: { means: { way?: { is: string } }; why: string; pieces: number }[] };
    expect(await page.locator(".asktold p").textContent()).toBe(asked.ways[0]!.why);
    expect(await serious(page)).toEqual([]);
    const brick = asked.ways.find((w) => w.means.way?.is === "brick")!;
    await page.locator(".toolslip").getByRole("radio", { name: /^Bricks/ }).check();
    expect(await page.locator(".asktold p").textContent()).toBe(brick.why);
    await page.locator(".toolslip").getByRole("button", { name: "Done" }).click();
    const plan = await once((p) => of(p, "feed").length === 1, "a feed");
    expect((of(plan, "feed")[0] as Item & { pieces: number }).pieces).toBe(brick.pieces);
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  it("say in place what cannot be, and lose nothing", { timeout: 60_000 }, async () => {
    const { page } = await house.open("/plan", DESK);
    const before = (await told()).items.length;
    await page.waitForSelector(".comb");
    await floor(page).focus();
    await page.keyboard.press("b");
    await page.locator('.toolslip[aria-label="Placeholder"]').waitFor();
    await page.keyboard.press("Enter");
    for (const [text, limit] of [["0", true], ["-5", true], ["1000 km", true], ["800", false]] as const) {
      const width = page.locator(".toolslip").getByLabel("Width", { exact: true });
      await width.fill(text);
      expect(await width.getAttribute("aria-invalid")).toBe(String(limit));
    }
    // A note that is too long stays in its box, with the figure.
    await page.keyboard.press("Escape");
    await take(page, "n", "Note");
    await page.keyboard.press("Enter");
    const words = page.locator(".toolslip textarea");
    await words.fill("z".repeat(10_012));
    await words.press("Enter");
    await page.getByText("The note has 10012 signs").waitFor();
    expect((await words.inputValue()).length).toBe(10_012);
    expect((await told()).items.length).toBe(before);
    await words.fill("z".repeat(10_000));
    await words.press("Enter");
    await once((p) => p.items.length === before + 1, "the note of 10 000 signs");
    await page.context().close();
  });
});
