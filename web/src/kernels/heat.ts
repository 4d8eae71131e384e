/** Classes of what a touch takes; the same limits as the server's. */

/** The least number of pieces of each class. */
export const CLASSES = [1, 10, 100, 1_000, 10_000] as const;

/** The class of a count, from 0. */
export function heatClass(count: number): number {
  let at = 0;
  while (at + 1 < CLASSES.length && count >= CLASSES[at + 1]!) at++;
  return at;
}

/** The worst places, each at least so far from those before it, so that one long line is not named ten times. */
export function worst(counts: Uint32Array, x: Float32Array, y: Float32Array, most: number, apart: number): { piece: number; count: number }[] {
  const order = Array.from(counts.keys()).filter((p) => counts[p]! > 0).sort((a, b) => counts[b]! - counts[a]! || a - b);
  const found: { piece: number; count: number }[] = [];
  for (const piece of order) {
    if (found.length >= most) break;
    if (found.every((f) => Math.hypot(x[f.piece]! - x[piece]!, y[f.piece]! - y[piece]!) >= apart)) found.push({ piece, count: counts[piece]! });
  }
  return found;
}
