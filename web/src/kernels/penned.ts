/** Letters drawn by a pen of known width along known lines, for tests. */
import type { Pair } from "./floor";
import { medial } from "./medial";
import type { Ink } from "./thin";

/** Millimetres a pixel; pixels of the pen and of the sheet. */
export const MM = 5;
export const PEN = 13;
export const HIGH = 120;

/** Part of an ellipse, degrees counter-clockwise from the right, y upwards. */
const round = (x: number, y: number, rx: number, ry: number, from: number, to: number): Pair[] =>
  Array.from({ length: 49 }, (_, i) => (from + ((to - from) * i) / 48) * (Math.PI / 180)).map((a) => [x + rx * Math.cos(a), y + ry * Math.sin(a)]);
/** Strokes of the pen, pixels, y upwards from the lower edge: between 8 and 112. */
export const [L, R, B, T, M] = [20, 80, 8, 112, 60];
export const PENNED: Record<string, Pair[][]> = {
  I: [[[50, B], [50, T]]],
  L: [[[L, T], [L, B], [R, B]]],
  T: [[[L, T], [R, T]], [[50, T], [50, B]]],
  O: [round(50, M, 36, 52, 0, 360)],
  A: [[[12, B], [50, T], [88, B]], [[26, 46], [74, 46]]],
  S: [[...round(50, 86, 26, 26, 40, 270), ...round(50, 34, 26, 26, 90, -140)]],
  B: [[[L, B], [L, T], [50, T], ...round(50, 86, 26, 26, 90, -90), [L, M]], [[50, M], ...round(50, 34, 26, 26, 90, -90), [L, B]]],
  R: [[[L, B], [L, T], [50, T], ...round(50, 86, 26, 26, 90, -90), [L, M]], [[45, M], [R, B]]],
  "8": [round(50, 86, 24, 26, 0, 360), round(50, 34, 30, 26, 0, 360)],
};
export function penned(strokes: readonly Pair[][]): Ink {
  const ink = new Uint8Array(100 * HIGH);
  for (let y = 0; y < HIGH; y++)
    for (let x = 0; x < 100; x++) {
      const on = strokes.some((s) => s.some((b, i) => {
        const a = s[Math.max(0, i - 1)]!;
        const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
        const t = Math.min(1, Math.max(0, ((x - a[0]) * dx + (HIGH - 1 - y - a[1]) * dy) / (dx * dx + dy * dy || 1)));
        return Math.hypot(x - a[0] - t * dx, HIGH - 1 - y - a[1] - t * dy) < PEN / 2;
      }));
      if (on) ink[y * 100 + x] = 1;
    }
  return { width: 100, height: HIGH, ink };
}
export const of = (letter: string) => medial(penned(PENNED[letter]!), MM);
/** A stroke of the pen in millimetres, as `medial` gives it. */
export const inMm = (p: Pair): Pair => [(p[0] + 0.5) * MM, (p[1] + 0.5) * MM];
