/** Skeletons of shapes whose middle line is known. */
import { describe, expect, it } from "vitest";
import { apart } from "./frames";
import { skeleton, thin, type Ink } from "./thin";

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
    const { edges, rings, crossings } = skeleton(thin(bar), 6);
    expect([edges.length, rings.length, crossings]).toEqual([1, 0, 0]);
    const { points } = edges[0]!;
    expect(apart(points[0]!, points[points.length - 1]!)).toBeGreaterThan(38);
  });
  it("finds one ring in a ring", () => {
    const { edges, rings } = skeleton(thin(ring), 6);
    expect([edges.length, rings.length]).toEqual([0, 1]);
    expect(rings[0]![0]).toEqual(rings[0]![rings[0]!.length - 1]);
  });
  it("finds one crossing of three strokes in a T, near where its middle lines cross", () => {
    const { edges, places } = skeleton(thin(tee), 6);
    expect(edges).toHaveLength(3);
    const node = places[edges[0]!.a < edges[0]!.b ? edges[0]!.a : edges[0]!.b]!;
    expect(edges.every((e) => Math.min(e.a, e.b) === Math.min(edges[0]!.a, edges[0]!.b))).toBe(true);
    expect(apart(node, [30, 8])).toBeLessThan(4);
  });
  it("leaves hairs out, and tells of dots", () => {
    const hairy = shape(60, 20, (x, y) => y === 10 || (x === 30 && y > 6 && y <= 10));
    expect(skeleton(hairy, 6).edges).toHaveLength(2);
    expect(skeleton(hairy, 2).edges).toHaveLength(3);
    expect(skeleton(shape(5, 5, (x, y) => x === 2 && y === 3), 2).dots).toEqual([[2, 3]]);
  });
});
