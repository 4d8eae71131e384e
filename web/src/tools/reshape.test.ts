import { describe, expect, it } from "vitest";
import type { ItemDraft } from "../api/generated/ItemDraft";
import type { LegDraft } from "../api/generated/LegDraft";
import type { State } from "../api/generated/State";
import type { Pair } from "../kernels/floor";
import { apart, toHall } from "../kernels/frames";
import { stations } from "../kernels/paths";
import { fieldBody, lineBody, sized } from "./drafts";
import { dragged, handles, nearest, removed, type Handle } from "./reshape";
import type { Env } from "./tool";
import { FIRST } from "./uses";

const env = { plan: { items: [], kinds: [{ id: 1 }], colours: [{ id: 1 }] } as unknown as State, uses: FIRST } as unknown as Env;
const base = { id: 5, name: "A", section: null, surface: 0, x: 1000, y: 500, heading: 30, built: null, gaps: [], locked: false, group: null, cells_from: null };
const line = (...path: LegDraft[]): ItemDraft => ({ ...base, body: lineBody(path, env) });
const get = (d: ItemDraft, is: Handle["is"], i = 0, leg = 0) => handles(d).find((h) => h.is === is && h.i === i && h.leg === leg)!;
const end = (d: ItemDraft): Pair => {
  if (d.body.is !== "line") throw new Error("not a line");
  const f = stations(d, d.body.path)[d.body.path.length]!;
  return [f.x, f.y];
};
const close = (a: Pair, b: Pair, within = 0.1) => expect(apart(a, b)).toBeLessThan(within);

describe("handles of a line", () => {
  it("move one point and leave the others where they are", () => {
    const curve = line({ is: "through", points: [[500, 0], [900, 300], [1500, 200]] });
    const was = handles(curve).filter((h) => h.is === "point").map((h) => h.at);
    const now = dragged(curve, get(curve, "point", 1), [2222, 1111]);
    handles(now).filter((h) => h.is === "point").forEach((h, i) => close(h.at, i === 1 ? [2222, 1111] : was[i]!));
    // The first point takes the direction of the beginning along, as it was drawn.
    const first = dragged(curve, get(curve, "point", 0), [1000, 1000]);
    expect(first.heading).toBe(90);
    close(end(first), was[2]!);
  });
  it("draw out a point in the middle, and take one away", () => {
    const straight = line({ is: "straight", length: 1000 });
    const bent = dragged(straight, get(straight, "middle"), toHall(base, [500, 200]));
    expect(handles(bent).filter((h) => h.is === "point")).toHaveLength(2);
    close(end(bent), end(straight));
    const more = dragged(bent, get(bent, "middle", 1), toHall(base, [700, 300]));
    const points = handles(more).filter((h) => h.is === "point");
    expect(points).toHaveLength(3);
    close(points[1]!.at, toHall(base, [700, 300]));
    const less = removed(more, points[1]!)!;
    expect(less).toEqual(bent);
    expect(removed(straight, get(straight, "end"))).toBeNull();
  });
  it("move the end of a straight, and of one that follows another only along it", () => {
    const one = line({ is: "straight", length: 1000 });
    const now = dragged(one, get(one, "end"), [1000, 1700]);
    expect([now.heading, now.body.is === "line" && now.body.path]).toEqual([90, [{ is: "straight", length: 1200 }]]);
    const two = line({ is: "arc", radius: 500, turn: 90 }, { is: "straight", length: 300 });
    const longer = dragged(two, get(two, "end", 0, 1), toHall(base, [700, 500 + 400]));
    expect(longer.body.is === "line" && longer.body.path[1]).toEqual({ is: "straight", length: 400 });
  });
  it("bend an arc by its bulge while its ends stay", () => {
    const quarter = line({ is: "arc", radius: 1000, turn: 90 });
    // Over the chord of a quarter: drawn out to half the chord it is a half circle.
    const [a, b] = [[1000, 500] as Pair, end(quarter)];
    const half = apart(a, b) / 2;
    const bulge = get(quarter, "bulge").at;
    const mid: Pair = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
    const to: Pair = [mid[0] + ((bulge[0] - mid[0]) * half) / apart(bulge, mid), mid[1] + ((bulge[1] - mid[1]) * half) / apart(bulge, mid)];
    const now = dragged(quarter, get(quarter, "bulge"), to);
    expect(now.body.is === "line" && now.body.path[0]).toMatchObject({ is: "arc", turn: expect.closeTo(180, 1) as number, radius: expect.closeTo(half, 0) as number });
    close([now.x, now.y], a);
    close(end(now), b, 0.3);
    // Its end goes where it is dragged, in the same direction from the start.
    const further = dragged(quarter, get(quarter, "end"), [500, 2500]);
    expect(further.heading).toBe(30);
    close(end(further), [500, 2500], 0.3);
  });
  it("change rings and turns of a spiral", () => {
    const d = line({ is: "spiral", radius: 1000, ring: -60, turns: 8, hand: "left" });
    const ring = get(d, "ring").at;
    const c = handles(d) && ring;
    expect(c).toBeDefined();
    // Ten millimetres further in, along the same ray.
    const centre = toHall({ ...base, heading: 30 + (Math.atan2(-60 / (2 * Math.PI), 1000) * 180) / Math.PI }, [0, 1000]);
    const inward: Pair = [ring[0] + ((centre[0] - ring[0]) * 10) / 940, ring[1] + ((centre[1] - ring[1]) * 10) / 940];
    const tighter = dragged(d, get(d, "ring"), inward);
    expect(tighter.body.is === "line" && tighter.body.path[0]).toMatchObject({ ring: expect.closeTo(-70, 1) as number, turns: 8 });
    // Its end a turn and a half back: 8 turns lie on the ray of the start, 6.5 opposite, 610 mm from the middle.
    const ray: Pair = [(1000 - centre[0]) / 1000, (500 - centre[1]) / 1000];
    const fewer = dragged(d, get(d, "turns"), [centre[0] - ray[0] * 610, centre[1] - ray[1] * 610]);
    expect(fewer.body.is === "line" && fewer.body.path[0]).toMatchObject({ turns: expect.closeTo(6.5, 2) as number });
  });
  it("are not there while the item is locked, and the beginning not while a port gives it", () => {
    expect(handles({ ...line({ is: "straight", length: 10 }), locked: true })).toEqual([]);
    const linked = line({ is: "straight", length: 10 });
    if (linked.body.is === "line") linked.body.from = { item: 1, port: "end" };
    expect(handles(linked).some((h) => h.is === "start")).toBe(false);
  });
});

describe("handles of fields and fills", () => {
  const field: ItemDraft = { ...base, heading: 0, body: fieldBody(10, 40, env) };
  it("change lanes and ranks while the opposite edge stays", () => {
    // 15 mm along, 26 mm across; the frame begins half a pitch before the first piece.
    const wider = dragged(field, get(field, "edge", 0), [1000 + 49.6 * 15, 600]);
    expect(wider).toMatchObject({ x: 1000, y: 500, body: { ranks: 50, lanes: 10 } });
    const back = dragged(field, get(field, "edge", 2), [1000 + 9.5 * 15, 600]);
    expect(back).toMatchObject({ x: 1150, body: { ranks: 30 } });
    const corner = dragged(field, get(field, "corner", 0), [1000 - 15.5 * 15, 500 - 5.5 * 26]);
    expect(corner).toMatchObject({ x: 1000 - 225, y: 500 - 130, body: { ranks: 55, lanes: 15 } });
    expect(dragged(field, get(field, "edge", 0), [-5000, 0])).toMatchObject({ body: { ranks: 1 } });
    const [c0, c1] = [get(field, "corner", 2).at, get(corner, "corner", 2).at];
    close(c0, c1);
  });
  it("take a typed size in place of the pointer's, and the opposite edge stays all the same", () => {
    const west = get(field, "edge", 2);
    // 900 mm are 60 ranks, and they grow to the west: 20 more of 15 mm.
    expect(dragged(field, west, [1000 + 9.5 * 15, 600], { width: 900 })).toMatchObject({ x: 1000 - 300, y: 500, body: { ranks: 60, lanes: 10 } });
    expect(dragged(field, get(field, "corner", 2), [0, 0], { width: 150, depth: 52 })).toMatchObject({ x: 1000, y: 500, body: { ranks: 10, lanes: 2 } });
    expect(dragged(field, west, west.at, { ranks: 30, lanes: 4 })).toMatchObject({ x: 1150, body: { ranks: 30, lanes: 4 } });
    // A length and a count of the same side: the last word counts.
    expect(sized({ width: 900, depth: 52 }, "ranks", 7)).toEqual({ depth: 52, ranks: 7 });
  });
  const fill: ItemDraft = { ...base, heading: 0, body: { is: "fill", kind: 1, outline: [[0, 0], [1000, 0], [1000, 800], [0, 800]], with: { is: "spiral" }, ring: 60, spacing: { by: "pitch", mm: 15 }, placed: "comb", colours: { is: "plain", colour: 1 } } };
  it("move, add and take corners of an outline, and never turn it over", () => {
    const moved = dragged(fill, get(fill, "point", 2), [2500, 1500]);
    expect(moved.body.is === "fill" && moved.body.outline[2]).toEqual([1500, 1000]);
    const more = dragged(fill, get(fill, "rim", 1), [2400, 900]);
    expect(more.body.is === "fill" && more.body.outline).toEqual([[0, 0], [1000, 0], [1400, 400], [1000, 800], [0, 800]]);
    expect(removed(more, get(more, "point", 2))).toEqual(fill);
    expect(dragged(fill, get(fill, "point", 2), [-9000, -9000])).toBe(fill);
  });
  it("are met within reach, points before what draws out new ones", () => {
    const list = handles(fill);
    expect(nearest(list, [1000, 505], 20)).toMatchObject({ is: "point", i: 0 });
    expect(nearest(list, [1500, 505], 20)).toMatchObject({ is: "rim", i: 0 });
    expect(nearest(list, [1250, 900], 20)).toBeNull();
  });
});
