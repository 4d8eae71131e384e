import { describe, expect, it } from "vitest";
import { NEVER, type FallTimes, type HallPieces } from "./columns";
import { contactAngle, duration, EASE, lean, motion, orderOf, restAngle } from "./topple";

const [THICK, HIGH] = [7.5, 48];
const upright = { thickness: THICK, height: HIGH, tipped: 0, up: 0 };
const degrees = (radians: number) => (radians * 180) / Math.PI;

describe("a piece that leans", () => {
  // Closed form: sin = gap / height; the hinge of the next stands a gap and a thickness away.
  it.each([1.5, 7.5, 20, 40])("touches what stands %d mm away with its top edge", (gap) => {
    expect(lean(HIGH, gap + THICK, upright)).toBeCloseTo(Math.asin(gap / HIGH), 12);
  });
  // Closed form: faces lie on one another where cos = thickness / pitch.
  it.each([9, 12, 15, 20, 30, 45])("lies flush on one that lies flush, at a pitch of %d mm", (pitch) => {
    expect(lean(HIGH, pitch, { ...upright, tipped: Math.acos(THICK / pitch) })).toBeCloseTo(Math.acos(THICK / pitch), 9);
  });
  // Closed form: the upper edge of a flat piece lies a pitch ahead and a thickness up.
  it("lies on the edge of one that lies flat", () => expect(lean(HIGH, 15, { ...upright, tipped: Math.PI / 2 })).toBeCloseTo(Math.atan2(15, THICK), 12));
  it("lies flat before one that it does not reach", () => expect(lean(HIGH, 60, upright)).toBeCloseTo(Math.PI / 2, 12));
  it("leans on a lower one and a higher one as far as they are lower or higher", () => {
    // A low block is met by the face, at its upper edge.
    expect(lean(HIGH, 15, { ...upright, height: 20 })).toBeCloseTo(Math.atan2(7.5, 20), 12);
    expect(lean(HIGH, 15, { ...upright, height: 20, up: 5 })).toBeCloseTo(Math.atan2(7.5, 25), 12);
  });
  // In a steady wave each piece leans on the next, so that its angle one delay later is `lean` of its angle now: the curve that is
  // drawn must stay near this one. 5 degrees are half a millimetre at 6 mm above the floor and 4 mm at the top, for some hundredths of a second.
  it.each([9, 12, 15, 20, 30])("moves like a train of pieces in touch, at a pitch of %d mm", (pitch) => {
    const rest = restAngle(THICK, pitch);
    const takes = duration(rest, contactAngle(HIGH, pitch - THICK), 0.02);
    let touching = 0;
    for (let k = 0; k < 60; k++) {
      const drawn = rest * (1 - (1 - Math.min(1, (k * 0.02) / takes)) ** EASE);
      expect(Math.abs(degrees(drawn - touching))).toBeLessThan(5);
      touching = lean(HIGH, pitch, { ...upright, tipped: touching });
    }
  });
});

/** Pieces in one lane along the x axis. */
function row(xs: number[], hits: number[], froms: number[], ways: number[] = []): [HallPieces, FallTimes] {
  const n = xs.length;
  const all = (value: number) => new Float32Array(n).fill(value);
  return [
    { change: 1, n, items: [], x: Float32Array.from(xs), y: all(0), z: all(24), yaw: all(0), colour: new Uint16Array(n), kind: new Uint16Array(n), pose: new Uint8Array(n) },
    { change: 1, n, last: 0, hit: Uint32Array.from(hits), from: Uint32Array.from(froms), way: Uint8Array.from({ length: n }, (_, i) => ways[i] ?? 0) },
  ];
}
const size = () => ({ thickness: THICK, height: HIGH });

describe("how a row comes to rest", () => {
  it("ends flat, then on an edge, and is flush farther back", () => {
    const n = 30;
    const [pieces, times] = row(Array.from({ length: n }, (_, i) => 15 * i), Array.from({ length: n }, (_, i) => 15_000 * i), Array.from({ length: n }, (_, i) => (i ? i - 1 : NEVER)));
    const { rest } = motion(pieces, times, size);
    expect(rest[n - 1]!).toBeCloseTo(Math.PI / 2, 6);
    expect(rest[n - 2]!).toBeCloseTo(Math.atan2(15, THICK), 6);
    expect(degrees(rest[0]!)).toBeCloseTo(60, 2);
    // No piece lies in the next one: its front face passes at or before the lower back edge of that one.
    for (let i = 0; i < n - 1; i++) {
      const b = rest[i + 1]!;
      const [x, z] = [15 - THICK * Math.cos(b), THICK * Math.sin(b)];
      expect(Math.atan2(x, z) - rest[i]!).toBeGreaterThan(-1e-5);
    }
  });
  it("leans on what stays standing in its way, and falls the other way where the server says so", () => {
    const [pieces, times] = row([0, 20, -20], [0, NEVER, 20_000], [NEVER, NEVER, 0], [0, 0, 1]);
    const near = (x: number) => (x > 10 ? 1 : null);
    const { rest } = motion(pieces, times, size, undefined, near);
    // Piece 2 falls back, away from piece 0; piece 0 has struck it with its back and meets it no more going forward.
    expect(rest[2]!).toBeCloseTo(-Math.PI / 2, 6);
    expect(rest[1]!).toBe(0);
    const alone = motion(...row([0, 20], [0, NEVER], [NEVER, NEVER]), size, undefined, near);
    expect(alone.rest[0]!).toBeCloseTo(Math.asin(12.5 / HIGH), 6);
  });
  it("sorts by time, and pieces hit at once by number, also beyond 2^31 µs", () => {
    expect([...orderOf(Uint32Array.of(5, NEVER, 3, 5, 4_000_000_000, 0))]).toEqual([5, 2, 0, 3, 4]);
  });
});
