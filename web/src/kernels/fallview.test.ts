import { describe, expect, it } from "vitest";
import { NEVER, type FallTimes, type HallPieces } from "./columns";
import { even, fileName, frameCount, frameTime, shownAt } from "./film";
import { eased, frontAt, frontSteps } from "./front";
import { beforeOf, frameStep, hitBefore, nextHit, nextOf, stallTimes } from "./moments";
import { orderOf } from "./topple";
import { webm, type Coded } from "./webm";

function hall(at: readonly (readonly [number, number])[], hits: readonly number[]): [HallPieces, FallTimes] {
  const n = at.length;
  const x = Float32Array.from(at, (p) => p[0]);
  const none = new Uint16Array(n);
  return [
    { change: 1, n, items: [], x, y: Float32Array.from(at, (p) => p[1]), z: x, yaw: x, colour: none, kind: none, pose: new Uint8Array(n) },
    { change: 1, n, last: 0, hit: Uint32Array.from(hits), from: new Uint32Array(n), way: new Uint8Array(n) },
  ];
}

describe("the front of the fall", () => {
  const along = Array.from({ length: 1_001 }, (_, i) => [i * 10, 0] as const);
  // A piece each 10 ms and 10 mm: one metre a second.
  const [pieces, times] = hall(along, along.map((_, i) => i * 10_000));
  const steps = frontSteps(pieces, times, orderOf(times.hit));
  it("goes on as fast as the pieces", () => {
    for (const t of [1, 3.333, 7.5]) expect(Math.abs(frontAt(steps, t).x - 1_000 * t)).toBeLessThan(15);
  });
  it("lies between two waves, as wide as they are apart", () => {
    const two = hall([...along, ...along.map(([x]) => [x, 2_000] as const)], [...along, ...along].map(([x]) => x * 1_000));
    const f = frontAt(frontSteps(...two, orderOf(two[1].hit)), 5);
    expect(f.y).toBeCloseTo(1_000, 6);
    expect(f.wide).toBeCloseTo(1_000, -1);
  });
  it("waits where nothing is hit, and eased it neither jumps nor overshoots", () => {
    const gap = hall([[0, 0], [4_000, 0]], [0, 10_000_000]);
    const raw = frontSteps(...gap, orderOf(gap[1].hit));
    expect([frontAt(raw, 0).x, frontAt(raw, 9).x, frontAt(raw, 10.1).x, frontAt(raw, 99).x]).toEqual([0, 0, 4_000, 4_000]);
    const soft = eased(raw, 1);
    let before = 0;
    for (let t = 0; t < 12; t += 0.016) {
      const { x } = frontAt(soft, t);
      expect(x).toBeGreaterThanOrEqual(before - 1e-6);
      expect(x - before).toBeLessThan(4_000 * 0.05);
      before = x;
    }
  });
  it("is there without any piece", () => {
    const none = hall([], []);
    expect(frontAt(eased(frontSteps(...none, orderOf(none[1].hit)), 2), 3)).toEqual({ x: 0, y: 0, wide: 0 });
  });
});

describe("moments", () => {
  it("go on and back and stop at the ends", () => {
    const at = [0, 2.5, 1, 7];
    expect([nextOf(at, 0), nextOf(at, 1), nextOf(at, 1.2), nextOf(at, 7)]).toEqual([1, 2.5, 2.5, null]);
    expect([beforeOf(at, 7), beforeOf(at, 1.2), beforeOf(at, 1), beforeOf(at, 0)]).toEqual([2.5, 1, 0, null]);
  });
  it("step from piece to piece, each time once", () => {
    const sorted = Uint32Array.of(0, 15_000, 15_000, 40_000);
    const seen: number[] = [];
    for (let t: number | null = 0; t !== null; t = nextHit(sorted, t)) seen.push(t);
    expect(seen).toEqual([0, 0.015, 0.04]);
    for (let t: number | null = 0.04; t !== null; t = hitBefore(sorted, t)) seen.push(t);
    expect(seen.slice(3)).toEqual([0.04, 0.015, 0]);
  });
  it("step by one picture of the speed that is played", () => expect([frameStep(1), frameStep(0.01), frameStep(100)].map((s) => s * 60)).toEqual([1, 0.01, 100]));
  it("stall when the nearest piece that falls is hit", () => {
    const [pieces, times] = hall([[0, 0], [100, 0], [180, 0], [5_000, 0], [400, 250]], [1_000_000, 2_000_000, NEVER, 9_000_000, 3_000_000]);
    expect(stallTimes(pieces, times, [[180, 0], [9_000, 0], [400, 0]])).toEqual([2, null, 3]);
  });
});

describe("a film", () => {
  const shot = { from: 1, to: 3, speed: 0.5, rate: 30 };
  // Two seconds of the fall at half speed are four seconds of film: 120 steps and one picture more.
  it("has a frame for each step, the first and the last time among them", () => {
    expect(frameCount(shot)).toBe(121);
    expect([frameTime(shot, 0), frameTime(shot, 60), frameTime(shot, 120)]).toEqual([1, 2, 3]);
    expect(shownAt(shot, 120)).toBe(4_000_000);
  });
  it("never shows the same moment twice where time goes on, at any rate", () => {
    for (const rate of [24, 25, 30, 60]) for (const speed of [0.01, 1, 10, 100]) {
      const s = { from: 0, to: 2, speed, rate };
      for (let i = 1; i < Math.min(500, frameCount(s)); i++) expect(frameTime(s, i)).toBeGreaterThan(frameTime(s, i - 1));
    }
  });
  it("has no frames without time", () => expect([frameCount({ ...shot, to: 0 }), frameCount({ ...shot, speed: 0 }), frameCount({ ...shot, to: Number.NaN }), frameCount({ ...shot, to: 1 })]).toEqual([0, 0, 0, 1]));
  it("is named after plan and time, and no name leaves its folder", () => {
    expect(fileName("From Spring to Sea", 12.34, "png")).toBe("from-spring-to-sea_0-12.3.png");
    expect(fileName("../Größe/äöü: 漢字?", 65, "webm")).toBe("größe-äöü-漢字_1-05.0.webm");
    expect(fileName("***", 0, "png")).toBe("fall_0-00.0.png");
  });
  it("has even sides", () => expect(even({ width: 1_441, height: 899 })).toEqual({ width: 1_440, height: 898 }));
});

/** A reader of EBML after RFC 8794, apart from the writer: ids with their marker, sizes without. */
function read(bytes: Uint8Array, from = 0, to = bytes.length): { id: number; data: Uint8Array; at: number }[] {
  const out: { id: number; data: Uint8Array; at: number }[] = [];
  for (let i = from; i < to; ) {
    const at = i;
    const wide = (first: number) => Math.clz32(first) - 23;
    let n = wide(bytes[i]!);
    let id = 0;
    for (let k = 0; k < n; k++) id = id * 256 + bytes[i++]!;
    n = wide(bytes[i]!);
    let length = bytes[i++]! & (0xff >> n);
    for (let k = 1; k < n; k++) length = length * 256 + bytes[i++]!;
    out.push({ id, data: bytes.subarray(i, i + length), at });
    i += length;
  }
  return out;
}

describe("a film as WebM", () => {
  const frames: Coded[] = Array.from({ length: 400 }, (_, i) => ({ data: Uint8Array.of(i & 255, i >> 8), at: Math.round((i * 1e6) / 30), key: i % 60 === 0 }));
  const file = Uint8Array.from(webm({ codec: "V_VP9", width: 1_920, height: 1_080, rate: 30 }, frames).flatMap((part) => [...part]));
  const [head, segment, ...rest] = read(file);
  const parts = read(segment!.data);
  const num = (data: Uint8Array) => data.reduce((sum, b) => sum * 256 + b, 0);
  it("is one head and one segment, whole to the last byte", () => {
    expect([head!.id, segment!.id, rest.length]).toEqual([0x1a45dfa3, 0x18538067, 0]);
    expect(parts.map((p) => p.id).filter((id) => id !== 0x1f43b675)).toEqual([0x1549a966, 0x1654ae6b, 0x1c53bb6b]);
  });
  it("holds every frame once, in order, at its time", () => {
    const seen: { at: number; key: boolean; n: number }[] = [];
    for (const cluster of parts.filter((p) => p.id === 0x1f43b675)) {
      const inside = read(cluster.data);
      const from = num(inside[0]!.data);
      for (const b of inside.slice(1)) seen.push({ at: from + new DataView(b.data.buffer, b.data.byteOffset).getInt16(1), key: (b.data[3]! & 0x80) !== 0, n: b.data[4]! + 256 * b.data[5]! });
    }
    expect(seen).toEqual(frames.map((f, i) => ({ at: Math.round((i * 1_000) / 30), key: f.key, n: i })));
  });
  it("says where each cluster begins that can be shown by itself", () => {
    for (const point of read(parts.at(-1)!.data)) {
      const [time, place] = read(point.data);
      const at = num(read(place!.data)[1]!.data);
      const cluster = parts.find((p) => p.at === at)!;
      expect([cluster.id, num(read(cluster.data)[0]!.data)]).toEqual([0x1f43b675, num(time!.data)]);
    }
  });
  it("says its length: the last frame is shown as long as the others", () => {
    const duration = read(parts[0]!.data).find((e) => e.id === 0x4489)!.data;
    expect(new DataView(duration.buffer, duration.byteOffset).getFloat64(0)).toBeCloseTo(400_000 / 30, 1);
  });
});
