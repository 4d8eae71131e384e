import { describe, expect, it } from "vitest";
import { NEVER, type FallTimes, type HallPieces } from "./columns";
import { board, gradeOf, heights, inHall, LEVEL, slopesOf, squareTo, type Triple } from "./slopes";
import { motion } from "./topple";

// Sine, cosine and tangent of 8°, from a table.
const [SIN, COS, TAN] = [0.139173, 0.990268, 0.140541];
const RAMP = { id: 3, height: 0, slope: 8, uphill: 0, outline: [[0, 0], [2_000, 0], [2_000, 300], [0, 300]] as [number, number][] };
const SIZE = { thickness: 7.5, height: 48 };
const near = (got: Triple, want: Triple) => got.forEach((v, i) => expect(v).toBeCloseTo(want[i]!, 2));

/** Pieces of one item each, whose feet stand at these places. */
function hall(feet: readonly Triple[], yaw: number, hit: readonly number[]): [HallPieces, FallTimes] {
  const n = feet.length;
  const column = (of: (p: Triple) => number) => Float32Array.from(feet, of);
  return [
    {
      change: 1, n, items: feet.map((_, i) => ({ id: i + 1, first: i, count: 1 })), x: column((p) => p[0]), y: column((p) => p[1]), z: column((p) => p[2] + 24), yaw: column(() => yaw),
      colour: new Uint16Array(n), kind: new Uint16Array(n), pose: new Uint8Array(n),
    },
    { change: 1, n, last: 0, hit: Uint32Array.from(hit), from: Uint32Array.from({ length: n }, (_, i) => (i === 0 || hit[i] === NEVER ? NEVER : i - 1)), way: new Uint8Array(n) },
  ];
}

describe("a plank of 2 m that rises by 8° to the east", () => {
  it("has its corners where trigonometry puts them, and a thickness square to itself", () => {
    const { above, beneath } = board(RAMP, 18);
    // 2 000 mm · tangent of 8°; downwards 18 mm, square to the plank.
    near(above[0]!, [0, 0, 0]);
    near(above[2]!, [2_000, 300, 281.08]);
    near(beneath[0]!, [18 * SIN, 0, -18 * COS]);
    near(beneath[2]!, [2_000 + 18 * SIN, 300, 281.08 - 18 * COS]);
  });
  it("is as high as it is said at its lowest corner, whatever way it rises", () => {
    const north = heights({ ...RAMP, height: 100, uphill: 90, outline: [[0, 1_000], [500, 1_000], [500, 3_000], [0, 3_000]] });
    expect(north(250, 1_000)).toBeCloseTo(100, 6);
    expect(north(250, 3_000)).toBeCloseTo(100 + 2_000 * TAN, 2);
    const west = heights({ ...RAMP, uphill: 180 });
    expect([west(2_000, 0), west(0, 150)].map((z) => Math.round(100 * z))).toEqual([0, 28_108]);
    expect(heights({ ...RAMP, slope: 0, height: 75 })(9, 9)).toBe(75);
  });
});

describe("a piece on it", () => {
  const foot: Triple = [500, 150, 500 * TAN];
  it("stands square to it", () => {
    const stands = squareTo(gradeOf(RAMP), 1, 0);
    // The front edge at the foot, and above it the front edge at the top: 48 mm square to the plank, so it leans back to the west.
    near(inHall(stands, foot, [3.75, 12, 0]), [500 + 3.75 * COS, 162, 70.27 + 3.75 * SIN]);
    near(inHall(stands, foot, [3.75, 12, 48]), [500 + 3.75 * COS - 48 * SIN, 162, 70.27 + 3.75 * SIN + 48 * COS]);
  });
  it("that faces across it leans to its side, and one that faces askew keeps its direction from above", () => {
    const across = squareTo(gradeOf(RAMP), 0, 1);
    near(across.ahead, [0, 1, 0]);
    near(across.left, [-COS, 0, -SIN]);
    const askew = squareTo(gradeOf(RAMP), Math.SQRT1_2, Math.SQRT1_2);
    expect(Math.atan2(askew.ahead[1], askew.ahead[0])).toBeCloseTo(Math.PI / 4, 9);
    for (const [a, b] of [[askew.ahead, askew.left], [askew.ahead, askew.up], [askew.left, askew.up]] as const) expect(a[0] * b[0] + a[1] * b[1] + a[2] * b[2]).toBeCloseTo(0, 9);
  });
  it("stands upright where the surface is level", () => {
    const { ahead, left, up } = squareTo(LEVEL, 0.6, 0.8);
    near(ahead, [0.6, 0.8, 0]);
    near(left, [-0.8, 0.6, 0]);
    near(up, [0, 0, 1]);
  });
});

describe("pieces that fall on slopes", () => {
  const all = (feet: readonly Triple[]) => feet.map((_, i) => ({ id: i + 1, surface: 3 }));
  it("come to rest leaning as on the level, uphill and downhill", () => {
    const hits = Array.from({ length: 20 }, (_, i) => 12_000 * i);
    const level = hall(hits.map((_, i) => [15 * i, 150, 0]), 0, hits);
    const want = motion(...level, () => SIZE);
    for (const uphill of [0, 180]) {
      // 15 mm apart along the slope.
      const at = heights({ ...RAMP, uphill });
      const feet = hits.map((_, i): Triple => [500 + 15 * COS * i, 150, at(500 + 15 * COS * i, 150)]);
      const [pieces, times] = hall(feet, 0, hits);
      const got = motion(pieces, times, () => SIZE, undefined, undefined, slopesOf(pieces, all(feet), [{ ...RAMP, uphill }]));
      for (let p = 0; p < 20; p++) {
        expect(got.rest[p]!, `piece ${p}, uphill ${uphill}`).toBeCloseTo(want.rest[p]!, 3);
        expect(got.takes[p]!).toBeCloseTo(want.takes[p]!, 3);
      }
    }
  });
  it("lean on the first piece of a ramp, which is tilted towards them", () => {
    // The ramp begins 10 mm ahead of the foot, the piece on it stands 40 mm up the plan.
    const feet: Triple[] = [[0, 0, 0], [50, 0, 40 * TAN]];
    const [pieces, times] = hall(feet, 0, [0, NEVER]);
    const ramp = { ...RAMP, outline: RAMP.outline.map(([x, y]): [number, number] => [x + 10, y - 150]) };
    const slopes = slopesOf(pieces, [{ id: 1, surface: 0 }, { id: 2, surface: 3 }], [ramp]);
    const { rest } = motion(pieces, times, () => SIZE, undefined, () => 1, slopes);
    // The back face meets the floor 43.25 mm ahead of the edge over which the first one tips; 48 sin(a + 8°) = 43.25 cos 8°.
    const back = 50 - 3.75 * COS + (40 * TAN - 3.75 * SIN) * TAN - 3.75;
    expect(back).toBeCloseTo(43.253, 2);
    expect((rest[0]! * 180) / Math.PI).toBeCloseTo(55.17, 1);
  });
  it("lie with their top edge on the floor where a ramp ends", () => {
    const [pieces, times] = hall([[10, 150, 10 * TAN]], Math.PI, [0]);
    const slopes = slopesOf(pieces, [{ id: 1, surface: 3 }], [RAMP])!;
    const angle = motion(pieces, times, () => SIZE, undefined, undefined, slopes).rest[0]!;
    const tip = inHall(squareTo(gradeOf(RAMP), -1, 0), [10, 150, 10 * TAN], [3.75 + 48 * Math.sin(angle), 0, 48 * Math.cos(angle)]);
    expect(tip[2]).toBeCloseTo(0, 3);
    // Uphill there is nothing below.
    const up = hall([[10, 150, 10 * TAN]], 0, [0]);
    expect(motion(...up, () => SIZE, undefined, undefined, slopes).rest[0]!).toBeCloseTo(Math.PI / 2, 6);
  });
  it("are told by few slopes, and none where nothing stands on one", () => {
    const [pieces] = hall([[0, 0, 0], [1, 0, 0], [2, 0, 0]], 0, [0, 0, 0]);
    const items = [{ id: 1, surface: 0 }, { id: 2, surface: 3 }, { id: 3, surface: 4 }];
    const slopes = slopesOf(pieces, items, [RAMP, { ...RAMP, id: 4, height: 90 }])!;
    expect([slopes.grades.length, ...slopes.of]).toEqual([2, 0, 1, 1]);
    expect(slopesOf(pieces, items, [{ ...RAMP, slope: 0 }])).toBeNull();
    expect(slopesOf(pieces, items.map((i) => ({ ...i, surface: 0 })), [RAMP])).toBeNull();
  });
});
