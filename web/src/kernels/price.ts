/** Figures that compare one way of laying a field with another. */

/** Middle of a range. */
export function middle(ends: readonly [number, number]): number {
  return (ends[0] + ends[1]) / 2;
}

/** Switches one id of a list of allowed ids; `null` stands for all of them, on both sides. */
export function toggled(allowed: readonly number[] | null, id: number, all: readonly number[]): number[] | null {
  const now = new Set(allowed ?? all);
  if (!now.delete(id)) now.add(id);
  // A picture needs at least one colour.
  if (now.size === 0) return allowed ? [...allowed] : null;
  return all.every((a) => now.has(a)) ? null : all.filter((a) => now.has(a));
}
