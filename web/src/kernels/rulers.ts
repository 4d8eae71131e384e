/** The marks of a ruler along an edge of the floor. */

export interface Tick {
  /** mm from the datum. */
  at: number;
  /** True for a mark that carries its figure. */
  long: boolean;
}

/** Pixels that two figures are apart at the least, and two marks. */
const FIGURES = 64;
const MARKS = 6;
const INCH = 25.4;

/** From figure to figure and into how many parts that may be cut, the most first. */
function steps(imperial: boolean): { step: number; parts: readonly number[] }[] {
  if (!imperial) {
    return [0, 1, 2, 3, 4, 5, 6].flatMap((e) => [
      { step: 10 ** e, parts: [10, 5, 2] },
      { step: 2 * 10 ** e, parts: [10, 4, 2] },
      { step: 5 * 10 ** e, parts: [10, 5] },
    ]);
  }
  const small = [{ step: 1, parts: [8, 4, 2] }, { step: 2, parts: [8, 4, 2] }, { step: 3, parts: [12, 6, 3] }, { step: 6, parts: [12, 6, 2] }];
  const feet = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1_000, 2_000, 5_000].map((f) => ({ step: 12 * f, parts: f === 1 ? [12, 4, 2] : f % 5 === 0 ? [10, 5] : [4, 2] }));
  return [...small, ...feet].map((s) => ({ ...s, step: s.step * INCH }));
}

/** All marks from one end to the other, mm; `scale` is pixels a millimetre. */
export function ticks(from: number, to: number, scale: number, imperial: boolean): Tick[] {
  if (!(scale > 0) || !(to > from)) return [];
  const all = steps(imperial);
  const { step, parts } = all.find((s) => s.step * scale >= FIGURES) ?? all[all.length - 1]!;
  const cut = parts.find((n) => (step / n) * scale >= MARKS) ?? 1;
  const small = step / cut;
  const found: Tick[] = [];
  // Counted in whole marks, so that no error piles up.
  for (let i = Math.ceil(from / small - 1e-9) + 0; i * small <= to + 1e-9 && found.length < 4_000; i++) found.push({ at: i * small, long: i % cut === 0 });
  return found;
}
