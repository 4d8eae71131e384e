/** One value of several things, or the different ones that they have. */

/** Different values in the order in which they appear; what has none is left out. */
export function different<T>(values: readonly (T | null | undefined)[]): T[] {
  return [...new Set(values.filter((v): v is T => v !== null && v !== undefined))];
}

export type Together =
  /** Nothing has it. */
  | { is: "none" }
  | { is: "same"; value: number }
  /** The different ones, rising: two or three are told, of more the least and the most. */
  | { is: "some"; values: number[] }
  | { is: "range"; low: number; high: number };

export function together(values: readonly (number | null | undefined)[]): Together {
  const found = different(values).sort((a, b) => a - b);
  if (found.length === 0) return { is: "none" };
  if (found.length === 1) return { is: "same", value: found[0]! };
  if (found.length <= 3) return { is: "some", values: found };
  return { is: "range", low: found[0]!, high: found[found.length - 1]! };
}

/** "25", "27 mm" with a common unit: it is told once, at the end. Words without a blank have none. */
export function shareUnit(words: readonly string[]): string[] {
  const cut = words.map((w) => /^(.*?)([\s\u00a0\u202f][^\d\s\u00a0\u202f]+)$/.exec(w));
  const unit = cut[0]?.[2];
  if (unit === undefined || cut.some((c) => c?.[2] !== unit)) return [...words];
  return cut.map((c, i) => (i === cut.length - 1 ? c![0] : c![1]!));
}
