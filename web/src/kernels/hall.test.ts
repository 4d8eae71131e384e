import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { NEVER } from "./columns";
import { finder, fit, pan, scaleBar, toPlan, toScreen, zoomAt } from "./floor";
import { CLASSES, heatClass, worst } from "./heat";
import { entrance } from "./marks";
import { PerspectiveCamera, Vector3 } from "three";
import { approach, axes, circle, eye, slide, VIEW_ANGLE, whole, type Orbit } from "./orbit";
import { luminance, rgb } from "./swatch";
import { clock, clocks, reckoned } from "./numbers";
import { contactAngle, duration, EASE, fallenAt, inOrder, perStep, restAngle } from "./topple";

const SIZE = { width: 800, height: 600 };

describe("the view of the floor", () => {
  const view = { scale: 0.05, x: 12_000, y: 7_000 };
  it("goes to the screen and back", () => {
    const [x, y] = toPlan(view, SIZE, toScreen(view, SIZE, [3_210, 9_870]));
    expect(x).toBeCloseTo(3_210, 6);
    expect(y).toBeCloseTo(9_870, 6);
  });
  it("has north up and east right", () => {
    const [a, b] = [toScreen(view, SIZE, [0, 0]), toScreen(view, SIZE, [1_000, 1_000])];
    expect(b[0] - a[0]).toBeCloseTo(50, 9);
    expect(b[1] - a[1]).toBeCloseTo(-50, 9);
  });
  it("keeps what lies under the pointer while zooming", () => {
    const before = toPlan(view, SIZE, [123, 456]);
    const after = toPlan(zoomAt(view, SIZE, [123, 456], 7.3), SIZE, [123, 456]);
    expect(after[0]).toBeCloseTo(before[0], 6);
    expect(after[1]).toBeCloseTo(before[1], 6);
  });
  it("carries what is seen along with the pointer", () => {
    expect(toScreen(pan(view, 30, -20), SIZE, toPlan(view, SIZE, [100, 100]))).toEqual([130, 80]);
  });
  it("shows a box whole within its margins", () => {
    const v = fit({ x0: 0, y0: 0, x1: 27_000, y1: 15_000 }, SIZE, [10, 20, 300, 40]);
    const [a, b] = [toScreen(v, SIZE, [0, 0]), toScreen(v, SIZE, [27_000, 15_000])];
    expect(a[0]).toBeGreaterThanOrEqual(9.99);
    expect(b[0]).toBeLessThanOrEqual(500.01);
    expect(b[1]).toBeGreaterThanOrEqual(19.99);
    expect(a[1]).toBeLessThanOrEqual(560.01);
    const high = fit({ x0: 0, y0: 0, x1: 1_000, y1: 15_000 }, SIZE, [10, 20, 300, 40]);
    expect(toScreen(high, SIZE, [0, 15_000])[1]).toBeCloseTo(20, 6);
    expect(toScreen(high, SIZE, [0, 0])[1]).toBeCloseTo(560, 6);
  });
  it("has round scale bars that fit", () => {
    expect([scaleBar(0.05, 120, false), scaleBar(2, 120, false), scaleBar(0.03, 120, true) / 304.8]).toEqual([2_000, 50, 10]);
  });
  it("finds the nearest piece and no far one", () => {
    const f = finder(Float32Array.of(0, 15, 30), Float32Array.of(0, 0, 0));
    expect([f.nearest(16, 3, 20), f.nearest(22.6, 0, 20), f.nearest(500, 0, 20), f.nearest(60, 0, 20)]).toEqual([1, 2, null, null]);
    expect(f.inside({ x0: -1, y0: -1, x1: 1, y1: 1 }, 10)).toEqual([0, 1, 2]);
  });
});

describe("the camera", () => {
  const o = { x: 1_000, y: 2_000, far: 500, turn: 0, steep: 0 };
  it("looks north from the south, and west from the east after a quarter turn", () => {
    expect(eye(o)).toEqual([1_000, 1_500, 0]);
    const [x, y] = eye({ ...o, turn: Math.PI / 2 });
    expect([Math.round(x), Math.round(y)]).toEqual([1_500, 2_000]);
  });
  it("slides to the right and away as it looks", () => {
    const from = (turn: number, right: number, away: number) => {
      const { x, y } = slide({ ...o, turn }, right, away);
      return [Math.round(x - o.x), Math.round(y - o.y)];
    };
    expect([from(0, 0.1, 0), from(0, 0, 0.1), from(Math.PI / 2, 0.1, 0), from(Math.PI / 2, 0, 0.1)]).toEqual([[50, 0], [0, 50], [0, 50], [-50, 0]]);
  });
  it("goes neither under the floor nor over its top, nor into a piece", () => {
    expect(circle(o, 0, -9).steep).toBeGreaterThan(0);
    expect(circle(o, 0, 9).steep).toBeLessThan(Math.PI / 2);
    expect(approach(o, 1e9).far).toBeGreaterThanOrEqual(100);
  });
});

describe("the fall as it is shown", () => {
  // Closed forms: cos = thickness / pitch at rest, sin = gap / height at the touch; 60 and 8.99 degrees at 15 mm.
  it("comes to rest at 60 degrees for usual pieces", () => expect((restAngle(7.5, 15) * 180) / Math.PI).toBeCloseTo(60, 9));
  it("touches at 8.99 degrees for usual pieces", () => expect((contactAngle(48, 7.5) * 180) / Math.PI).toBeCloseTo(8.99, 2));
  it("touches the next piece just when that one is hit", () => {
    const [rest, touch] = [restAngle(7.5, 15), contactAngle(48, 7.5)];
    const takes = duration(rest, touch, 0.015);
    expect(rest * (1 - (1 - 0.015 / takes) ** EASE)).toBeCloseTo(touch, 6);
  });
  it("reads times as people do", () => {
    expect([0, 59.96, 65.3, 372.5].map((s) => clock(s, "en"))).toEqual(["0:00.0", "0:59.9", "1:05.3", "6:12.5"]);
    expect(clock(77.4, "de")).toBe("1:17,4");
  });
  it("gives one time where two show the same", () => {
    expect(clocks([1.31, 1.34], "en")).toBe("0:01.3");
    expect(clocks([1.31, 1.4], "de").replace(/[\u00a0\u2060]/g, " ")).toMatch(/^0:01,3 – +0:01,4$/);
  });
  it("rounds times that were worked out", () => expect([68.597, 84.594, 59.96, 0].map((s) => reckoned(s, "en"))).toEqual(["1:08.6", "1:24.6", "1:00.0", "0:00.0"]));
  const sorted = inOrder(Uint32Array.of(2_500_000, NEVER, 0, 400_000, 400_000));
  it("counts what has fallen", () => expect([0, 0.39, 0.4, 2.4, 2.5, 9].map((t) => fallenAt(sorted, t))).toEqual([1, 1, 3, 3, 4, 4]));
  it("counts each piece in one second", () => expect(perStep(sorted, 1)).toEqual([3, 0, 1]));
});

describe("what a touch takes", () => {
  it("has the classes of the server", () => {
    const rust = readFileSync(join(import.meta.dirname, "../../../crates/fall/src/touch.rs"), "utf8");
    const told = /TOUCH_CLASSES: \[u32; \d+\] = \[([^\]]+)\]/.exec(rust)![1]!;
    expect(told.split(",").map((n) => Number(n.replaceAll("_", "")))).toEqual([...CLASSES]);
    expect([1, 9, 10, 99, 100, 9_999, 10_000, 1e6].map(heatClass)).toEqual([0, 0, 1, 1, 2, 3, 4, 4]);
  });
  it("names the worst place of each item", () => {
    const found = worst(Uint32Array.of(50, 49, 48, 70, 0), [{ first: 0, count: 2 }, { first: 2, count: 2 }, { first: 4, count: 1 }]);
    expect(found).toEqual([{ piece: 3, count: 70 }, { piece: 0, count: 50 }]);
    // One more is worse; of equals the first is named.
    expect(worst(Uint32Array.of(5, 6, 6), [{ first: 0, count: 3 }])).toEqual([{ piece: 1, count: 6 }]);
  });
  it("grows lighter with the loss in every look, so that it holds in grey", () => {
    const css = readFileSync(join(import.meta.dirname, "../look/tokens.css"), "utf8");
    for (const look of ["dark", "light", "hall"]) {
      const from = css.indexOf(`[data-look="${look}"] {`);
      const block = css.slice(from, css.indexOf("}", from));
      const light = CLASSES.map((_, i) => luminance(rgb(new RegExp(`--heat-${i}: (#[0-9a-f]{6})`).exec(block)![1]!)));
      for (let i = 1; i < light.length; i++) expect((light[i]! + 0.05) / (light[i - 1]! + 0.05)).toBeGreaterThan(1.3);
    }
  });
});

describe("the camera that sees all", () => {
  /** Where a point is drawn by the camera of the library that draws the fall, which shares no arithmetic with `whole`. */
  function drawn(o: Orbit, size: { width: number; height: number }, p: readonly [number, number, number]): [number, number] {
    const camera = new PerspectiveCamera(VIEW_ANGLE, size.width / size.height, 10, 1e6);
    camera.up = new Vector3(0, 0, 1);
    camera.position.set(...eye(o));
    camera.lookAt(o.x, o.y, 0);
    camera.updateMatrixWorld();
    const v = new Vector3(...p).project(camera);
    return [((v.x + 1) / 2) * size.width, ((1 - v.y) / 2) * size.height];
  }
  const box = (x: number, y: number, z: number) => [0, x].flatMap((a) => [0, y].flatMap((b) => [0, z].map((c) => [1_000 + a, -2_000 + b, c] as const)));
  it.each([
    [1600, 830, [30, 90, 400, 40], box(17_000, 9_000, 48), 0.35, 0.75],
    [1600, 830, [30, 90, 400, 40], box(2_000, 30_000, 48), 0.35, 0.75],
    [390, 560, [12, 280, 12, 20], box(17_000, 9_000, 300), 0.35, 0.75],
    [1000, 500, [0, 0, 0, 0], box(8_000, 5_000, 0), -2.1, 1.2],
  ] as const)("has all within its margins and no room to spare: %i by %i", (width, height, margin, points, turn, steep) => {
    const size = { width, height };
    const o = whole(points, size, margin, { turn, steep })!;
    const at = points.map((p) => drawn(o, size, p));
    const [xs, ys] = [at.map((p) => p[0]), at.map((p) => p[1])];
    const room = [Math.min(...xs) - margin[0], Math.min(...ys) - margin[1], width - margin[2] - Math.max(...xs), height - margin[3] - Math.max(...ys)];
    for (const r of room) expect(r).toBeGreaterThan(-0.01);
    // Nearer would cut something off: two sides that face each other are reached.
    expect(Math.min(Math.max(room[0]!, room[2]!), Math.max(room[1]!, room[3]!))).toBeLessThan(0.01);
  });
  it("has none without points or without a picture", () => {
    expect(whole([], { width: 10, height: 10 }, [0, 0, 0, 0], { turn: 0, steep: 1 })).toBe(null);
    expect(whole([[0, 0, 0]], { width: 0, height: 10 }, [0, 0, 0, 0], { turn: 0, steep: 1 })).toBe(null);
  });
  it("stays a camera when margins leave no room", () => {
    const o = whole(box(1_000, 1_000, 48), { width: 300, height: 200 }, [200, 150, 200, 150], { turn: 0, steep: 0.8 })!;
    expect(o.far).toBeGreaterThan(1_000);
    expect(Number.isFinite(o.x + o.y)).toBe(true);
  });
  it("looks along its axes", () => {
    const o = { x: 3, y: 4, far: 1_000, turn: 0.6, steep: 0.9 };
    const { away, right, up } = axes(o);
    eye(o).forEach((v, i) => expect(v + 1_000 * away[i]!).toBeCloseTo([3, 4, 0][i]!, 6));
    for (const [a, b] of [[away, right], [right, up], [up, away]] as const) expect(a[0] * b[0] + a[1] * b[1] + a[2] * b[2]).toBeCloseTo(0, 12);
  });
});

describe("where somebody comes in", () => {
  const walls: [number, number][] = [[0, 0], [20_000, 0], [20_000, 12_000], [0, 12_000]];
  const door: [number, number][] = [[3_000, 11_800], [5_000, 11_800], [5_000, 12_000], [3_000, 12_000]];
  it("is on the nearest wall, into the hall, whichever way the walls go round", () => {
    for (const round of [walls, [...walls].reverse()]) {
      const way = entrance(round, door)!;
      expect(way.at).toEqual([4_000, 12_000]);
      expect(way.into.map((v) => v + 0)).toEqual([0, -1]);
    }
    expect(entrance(walls, [[19_900, 5_000], [20_300, 5_000], [20_300, 6_000], [19_900, 6_000]])!.into.map((v) => v + 0)).toEqual([-1, 0]);
  });
  it("is nowhere without walls or a door, and past walls of no length", () => {
    expect([entrance([], door), entrance(walls, [])]).toEqual([null, null]);
    expect(entrance([[0, 0], [0, 0], [10, 0], [10, 10]], [[5, -1]])!.at).toEqual([5, 0]);
  });
});
