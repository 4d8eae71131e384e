/** The fall in space over ramps: boards that slope, and pieces square to them. */
import { describe, expect, it } from "vitest";
import type { Page } from "playwright-core";
import { DESK, get, housed } from "./house";
import { FAKE } from "./start";

const house = housed("ramp");

interface Place {
  x: number;
  y: number;
  body: { height: number; look: [number, number]; look_height: number; field_of_view: number };
}

/** Looks from the camera that stands beside the ramp; gives where a place of the hall is seen, worked out from the plan alone. */
async function beside(page: Page) {
  await page.waitForSelector('[data-loaded]:not([data-loaded="0"])');
  await page.locator(".places select").selectOption({ label: "Beside the ramp" });
  await page.waitForSelector('[data-camera="place"]');
  const { items } = await get<{ items: (Place & { name: string })[] }>(page, "/api/state");
  const camera = items.find((i) => i.name === "Beside the ramp")!;
  const box = (await page.locator(".hallview").boundingBox())!;
  // It looks level to the north. The field of view is from edge to edge across, so half of it is half the width.
  const scale = box.width / 2 / Math.tan((camera.body.field_of_view * Math.PI) / 360);
  return (x: number, y: number, z: number): [number, number] => [
    box.x + box.width / 2 + (scale * (x - camera.x)) / (y - camera.y),
    box.y + box.height / 2 - (scale * (z - camera.body.height)) / (y - camera.y),
  ];
}
/** The item of the piece at a place of the page; empty when a press there chooses none. */
async function pressed(page: Page, [x, y]: [number, number]): Promise<string> {
  const slip = page.locator(".slip.place");
  if (await slip.count()) await slip.getByRole("button", { name: "Close" }).click();
  await slip.waitFor({ state: "detached" });
  await page.mouse.click(x, y);
  await page.waitForTimeout(300);
  return (await slip.count()) ? await slip.locator("h2").innerText() : "";
}

const [SIN, COS, TAN] = [0.139173, 0.990268, 0.140541];

describe.skipIf(FAKE)("a line over ramps", () => {
  it("says on which surface each item stands", async () => {
    const { page } = await house.open("/fall", DESK);
    const state = await get<{ items: { name: string; surface: number }[]; surfaces: { id: number; name: string }[] }>(page, "/api/state");
    const on = (name: string) => state.surfaces.find((s) => s.id === state.items.find((i) => i.name === name)!.surface)?.name ?? "floor";
    expect(["Brook", "Up", "Over", "Down", "Mouth"].map(on)).toEqual(["floor", "Ramp up", "Deck", "Ramp down", "floor"]);
    await page.context().close();
  });

  it("shows a piece square to the plank, where trigonometry puts its corners", async () => {
    const { page, complaints } = await house.open("/fall", DESK);
    const at = await beside(page);
    // "Alone" stands 400 mm up the ramp; its side towards the camera is 12 mm before its middle.
    const foot = [1_400, 1_050 - 12, 400 * TAN] as const;
    const own = (along: number, up: number): [number, number] => at(foot[0] + along * COS - up * SIN, foot[1], foot[2] + along * SIN + up * COS);
    // Just within its four corners, and just beyond them.
    for (const [along, up] of [[-3, 47], [3, 47], [-3, 1], [3, 1]] as const) expect(await pressed(page, own(along, up)), `${along} ${up}`).toContain("Alone");
    for (const [along, up] of [[-4.5, 47], [4.5, 47], [0, 49.5]] as const) expect(await pressed(page, own(along, up)), `${along} ${up}`).not.toContain("Alone");
    // An upright piece would have its upper corner here.
    expect(await pressed(page, at(foot[0] + 3, foot[1], foot[2] + 47))).not.toContain("Alone");
    expect(complaints.filter((c) => !c.includes("GL Driver"))).toEqual([]);
    await page.context().close();
  });
});
