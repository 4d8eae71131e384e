/** Finding the ring distance that gives a number of pieces, by few trials. */

/** A trial: a ring distance and the pieces that it took. */
export interface Shot {
  ring: number;
  pieces: number;
}
/** Trials at the most for one aim. */
export const SHOTS = 8;

/** The ring distance to try next; null when what was tried is as near as it gets. Pieces go about as one over the ring. */
export function nextRing(shots: readonly Shot[], want: number, least: number, most: number): number | null {
  const last = shots[shots.length - 1];
  if (!last || shots.length >= SHOTS) return null;
  if (shots.some((s) => s.pieces === want)) return null;
  const fits = (ring: number) => Math.round(Math.min(most, Math.max(least, ring)) * 100) / 100;
  // The nearest trial that took too many, and the nearest that took too few.
  const many = shots.filter((s) => s.pieces > want).reduce<Shot | null>((a, s) => (!a || s.ring > a.ring ? s : a), null);
  const few = shots.filter((s) => s.pieces < want).reduce<Shot | null>((a, s) => (!a || s.ring < a.ring ? s : a), null);
  let ring: number;
  if (many && few && few.pieces > 0 && few.ring > many.ring) {
    // Between the two, one over the ring in proportion; away from the ends, since rounding makes steps.
    const share = (want - few.pieces) / (many.pieces - few.pieces);
    ring = 1 / (1 / few.ring + Math.min(0.9, Math.max(0.1, share)) * (1 / many.ring - 1 / few.ring));
  } else ring = last.pieces > 0 ? (last.ring * last.pieces) / want : last.ring / 2;
  const next = fits(ring);
  return shots.some((s) => s.ring === next) ? null : next;
}

/** The trial that came nearest. */
export const nearestShot = (shots: readonly Shot[], want: number): Shot | null =>
  shots.reduce<Shot | null>((a, s) => (!a || Math.abs(s.pieces - want) < Math.abs(a.pieces - want) ? s : a), null);
