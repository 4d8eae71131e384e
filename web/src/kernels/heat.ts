/** Classes of what a touch takes; the same limits as the server's. */

/** The least number of pieces of each class. */
export const CLASSES = [1, 10, 100, 1_000, 10_000] as const;

/** The class of a count, from 0. */
export function heatClass(count: number): number {
  let at = 0;
  while (at + 1 < CLASSES.length && count >= CLASSES[at + 1]!) at++;
  return at;
}

/** The worst place of each group of pieces (of an item), worst first; the first of equals. */
export function worst(counts: Uint32Array, groups: readonly { first: number; count: number }[]): { piece: number; count: number }[] {
  const found = groups.flatMap(({ first, count }) => {
    let best = first;
    for (let p = first; p < first + count; p++) if (counts[p]! > counts[best]!) best = p;
    return count > 0 && counts[best]! > 0 ? [{ piece: best, count: counts[best]! }] : [];
  });
  return found.sort((a, b) => b.count - a.count || a.piece - b.piece);
}
