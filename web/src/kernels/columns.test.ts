import { describe, expect, it } from "vitest";
import { itemOf, NEVER, readPieces, readTimes, readTouch } from "./columns";
import { lean, motion, spans } from "./topple";

/** Bytes laid one after the other, little end first, as the tables beside the server's writers say. */
function laid(magic: string, numbers: number[], ...columns: ["f32" | "u32" | "u16" | "u8", number[]][]): ArrayBuffer {
  const width = { f32: 4, u32: 4, u16: 2, u8: 1 };
  const out = new DataView(new ArrayBuffer(16 + columns.reduce((sum, [kind, values]) => sum + width[kind] * values.length, 0)));
  [...magic].forEach((sign, i) => out.setUint8(i, sign.charCodeAt(0)));
  numbers.forEach((n, i) => out.setUint32(4 + 4 * i, n, true));
  let at = 16;
  for (const [kind, values] of columns)
    for (const value of values) {
      if (kind === "f32") out.setFloat32(at, value, true);
      else if (kind === "u32") out.setUint32(at, value, true);
      else if (kind === "u16") out.setUint16(at, value, true);
      else out.setUint8(at, value);
      at += width[kind];
    }
  return out.buffer;
}

/** Two items of two pieces and one of one, in one lane 15 mm apart. */
const PIECES = laid("HAL1", [7, 5, 3], ["u32", [4, 0, 6, 2, 9, 4]],
  ["f32", [0, 15, 30, 45, 60]], ["f32", [1, 2, 3, 4, 5]], ["f32", [24, 24, 24, 24, 24]], ["f32", [0, 0.5, 1, 1.5, 2]],
  ["u16", [11, 12, 13, 14, 15]], ["u16", [1, 1, 2, 2, 2]], ["u8", [0, 1, 2, 0, 1]]);
const TIMES = laid("FAL1", [7, 5, 60_000], ["u32", [0, 15_000, 60_000, 40_000, NEVER]], ["u32", [NEVER, 0, 3, 0, NEVER]], ["u8", [0, 0, 1, 0, 0]]);

describe("the columns of the server", () => {
  it("has each column of the pieces at its place", () => {
    const p = readPieces(PIECES);
    expect([p.change, p.n]).toEqual([7, 5]);
    expect(p.items).toEqual([{ id: 4, first: 0, count: 2 }, { id: 6, first: 2, count: 2 }, { id: 9, first: 4, count: 1 }]);
    expect([p.x, p.y, p.z, p.yaw].map((c) => c[1])).toEqual([15, 2, 24, 0.5]);
    expect([p.colour, p.kind, p.pose].map((c) => [...c])).toEqual([[11, 12, 13, 14, 15], [1, 1, 2, 2, 2], [0, 1, 2, 0, 1]]);
  });
  it("has each column of the times and of the touches at its place", () => {
    const t = readTimes(TIMES);
    expect([t.change, t.n, t.last, [...t.hit], [...t.from], [...t.way]]).toEqual([7, 5, 60_000, [0, 15_000, 60_000, 40_000, NEVER], [NEVER, 0, 3, 0, NEVER], [0, 0, 1, 0, 0]]);
    const touch = readTouch(laid("TCH1", [7, 2, 1], ["u32", [5, 4]], ["u32", [1, 2]], ["u32", [6, 7]]));
    expect([touch.exact, [...touch.forward], [...touch.back], [...touch.most]]).toEqual([true, [5, 4], [1, 2], [6, 7]]);
    expect(readTouch(laid("TCH1", [7, 0, 0])).exact).toBe(false);
  });
  it("refuses bytes of another kind and bytes that are too few", () => {
    expect(() => readPieces(TIMES)).toThrow("HAL1");
    expect(() => readTimes(new ArrayBuffer(3))).toThrow("FAL1");
  });
  it("knows the item of every piece and of none beyond", () => {
    const p = readPieces(PIECES);
    expect([0, 1, 2, 3, 4, 5].map((n) => itemOf(p, n))).toEqual([4, 4, 6, 6, 9, null]);
  });
});

describe("how each piece falls", () => {
  const [pieces, times] = [readPieces(PIECES), readTimes(TIMES)];
  it("leaves items that nothing reaches out of the spans", () => {
    expect(spans(pieces, times)).toEqual([{ id: 4, from: 0, to: 0.015 }, { id: 6, from: 0.04, to: 0.06 }]);
  });
  it("rests on what it strikes first, falls back where the server says so, and stands when nothing hits it", () => {
    const { rest } = motion(pieces, times, () => ({ thickness: 7.5, height: 48 }));
    // Piece 0 strikes 1 before 3, 15 mm ahead; that one is turned by 0.5 rad and tips so much less in its direction.
    expect(rest[0]!).toBeCloseTo(lean(48, 15, { thickness: 7.5, height: 48, tipped: rest[1]! * Math.cos(0.5), up: 0 }), 6);
    // 2 strikes nothing: it comes to lie flat, backwards.
    expect(rest[2]!).toBeCloseTo(-Math.PI / 2, 6);
    expect(rest[4]!).toBe(0);
  });
});
