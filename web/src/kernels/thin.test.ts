/** Skeletons of shapes whose middle line is known. */
import { describe, expect, it } from "vitest";
import { apart } from "./frames";
import { eased, thin, trace, type Ink } from "./thin";

function shape(width: number, height: number, of: (x: number, y: number) => boolean): Ink {
  const ink = new Uint8Array(width * height);
  for (let y = 0; y < height; y++) for (let x = 0; x < width; x++) ink[y * width + x] = of(x, y) ? 1 : 0;
  return { width, height, ink };
}
const count = (i: Ink) => i.ink.reduce((a, b) => a + b, 0);
/** Parts that hang together, corners included. */
function parts({ width, height, ink }: Ink): number {
  const seen = new Uint8Array(ink.length);
  let n = 0;
  for (let i = 0; i < ink.length; i++) {
    if (!ink[i] || seen[i]) continue;
    n++;
    const open = [i];
    seen[i] = 1;
    for (let j = open.pop(); j !== undefined; j = open.pop())
      for (let dy = -1; dy <= 1; dy++) for (let dx = -1; dx <= 1; dx++) {
        const [x, y] = [(j % width) + dx, Math.floor(j / width) + dy];
        const k = y * width + x;
        if (x >= 0 && y >= 0 && x < width && y < height && ink[k] && !seen[k]) { seen[k] = 1; open.push(k); }
      }
  }
  return n;
}
const bar = shape(60, 15, (x, y) => x >= 4 && x < 56 && y >= 3 && y < 12);
const ring = shape(61, 61, (x, y) => Math.abs(Math.hypot(x - 30, y - 30) - 22) < 4);
const tee = shape(61, 61, (x, y) => (y >= 5 && y < 12 && x >= 5 && x < 56) || (x >= 27 && x < 34 && y >= 5 && y < 56));
const cross = shape(61, 61, (x, y) => Math.abs(y - 30) < 4 || Math.abs(x - 30) < 4);

describe("thinning", () => {
  it("leaves of a bar its middle line", () => {
    const out = thin(bar);
    for (let y = 0; y < 15; y++) for (let x = 10; x < 50; x++) expect([x, y, out.ink[y * 60 + x]]).toEqual([x, y, y === 7 ? 1 : 0]);
  });
  it("keeps what hangs together together, and adds nothing", () => {
    for (const i of [bar, ring, tee, cross]) {
      const out = thin(i);
      expect(parts(out)).toBe(parts(i));
      expect(out.ink.every((v, k) => !v || i.ink[k])).toBe(true);
      expect(count(out)).toBeLessThan(count(i) / 3);
    }
    expect(count(thin(shape(5, 5, () => false)))).toBe(0);
  });
  it("leaves of a ring one at its middle radius", () => {
    const out = thin(ring);
    out.ink.forEach((v, i) => v && expect(Math.abs(Math.hypot((i % 61) - 30, Math.floor(i / 61) - 30) - 22)).toBeLessThan(1.6));
  });
});

describe("tracing", () => {
  it("finds one open stroke in a bar, from end to end", () => {
    const [stroke, ...more] = trace(thin(bar), 6);
    expect(more).toEqual([]);
    expect(stroke!.closed).toBe(false);
    expect(apart(stroke!.points[0]!, stroke!.points[stroke!.points.length - 1]!)).toBeGreaterThan(38);
  });
  it("finds one closed stroke in a ring", () => {
    const strokes = trace(thin(ring), 6);
    expect(strokes).toHaveLength(1);
    expect(strokes[0]!.closed).toBe(true);
    const eased_ = eased(strokes[0]!, 0.9, 5)!;
    expect(eased_.closed).toBe(true);
    expect(eased_.points.length).toBeLessThan(40);
  });
  it("lets the straight stroke of a T pass, and the other one end at it", () => {
    const strokes = trace(thin(tee), 6);
    expect(strokes).toHaveLength(2);
    const [bar_, stem] = [...strokes].sort((a, b) => Math.abs(b.points[0]![0] - b.points[b.points.length - 1]![0]) - Math.abs(a.points[0]![0] - a.points[a.points.length - 1]![0]));
    expect(bar_!.meets).toEqual([false, false]);
    expect([...stem!.meets].sort()).toEqual([false, true]);
    // With its piece's room cut off it begins that far from the bar.
    const short = eased(stem!, 0.9, 8)!;
    const top = Math.min(...short.points.map((p) => p[1]));
    expect(top - 8).toBeGreaterThan(6.5);
  });
  it("lets one stroke of a cross pass whole, and parts the other", () => {
    const strokes = trace(thin(cross), 6);
    expect(strokes).toHaveLength(3);
    expect(strokes.filter((s) => s.meets[0] || s.meets[1])).toHaveLength(2);
  });
  it("leaves hairs out", () => {
    const hairy = shape(60, 20, (x, y) => y === 10 || (x === 30 && y > 6 && y <= 10));
    expect(trace(hairy, 6)).toHaveLength(1);
    expect(trace(hairy, 2)).toHaveLength(2);
  });
});
