/** A picture of many pieces that is kept while the view moves: what it has to show, and whether it still serves. */
import type { Box, Size, View } from "./floor";

export interface Kept {
  /** What it shows, mm. */
  box: Box;
  /** Samples a millimetre. */
  samples: number;
}
/** A kept picture is at most so many samples wide and high: 64 MB. */
export const MOST = 4096;
/** A picture of another scale serves while the view moves, up to so many times larger or smaller. */
const STRETCH = 2;
/** Shown beyond each side of the view, as a share of it. */
const BEYOND = 0.25;

const windowOf = (v: View, s: Size, beyond = 0): Box => {
  const [w, h] = [((0.5 + beyond) * s.width) / v.scale, ((0.5 + beyond) * s.height) / v.scale];
  return { x0: v.x - w, y0: v.y - h, x1: v.x + w, y1: v.y + h };
};
const meet = (a: Box, b: Box): Box => ({ x0: Math.max(a.x0, b.x0), y0: Math.max(a.y0, b.y0), x1: Math.min(a.x1, b.x1), y1: Math.min(a.y1, b.y1) });

/** The picture to keep for a view of what lies within `all`: a little more than is seen, so that moving finds it there; null when nothing of it is seen. */
export function toKeep(view: View, size: Size, all: Box, samples: number): Kept | null {
  const rim = 2 / samples;
  const box = meet(windowOf(view, size, BEYOND), { x0: all.x0 - rim, y0: all.y0 - rim, x1: all.x1 + rim, y1: all.y1 + rim });
  const [w, h] = [box.x1 - box.x0, box.y1 - box.y0];
  if (!(w > 0 && h > 0)) return null;
  const fine = Math.min(samples, (MOST - 1) / w, (MOST - 1) / h);
  // Whole samples of the floor, so that one of the picture is one of the view, and every picture of a view has the same ones.
  const [down, up] = [(mm: number) => Math.floor(mm * fine + 1e-6) / fine, (mm: number) => Math.ceil(mm * fine - 1e-6) / fine];
  return { box: { x0: down(box.x0), y0: down(box.y0), x1: up(box.x1), y1: up(box.y1) }, samples: fine };
}

/** Whether a kept picture shows all that a view needs of what lies within `all`, finely enough for a view that moves. */
export function serves(kept: Kept, view: View, size: Size, all: Box, samples: number): boolean {
  const need = meet(windowOf(view, size), all);
  const { box } = kept;
  const all_in = need.x0 >= need.x1 || need.y0 >= need.y1 || (need.x0 >= box.x0 && need.y0 >= box.y0 && need.x1 <= box.x1 && need.y1 <= box.y1);
  return all_in && samples <= STRETCH * kept.samples && kept.samples <= STRETCH * samples;
}

/** Whether it is as fine as a view that rests wants it; a picture at its widest is as fine as it can be. */
export const isFine = (kept: Kept, samples: number): boolean =>
  kept.samples === samples || (kept.samples < samples && Math.max(kept.box.x1 - kept.box.x0, kept.box.y1 - kept.box.y0) * kept.samples >= MOST - 1);

/**
 * Where a view finds itself in a kept picture: the picture's share at its lower left corner, and how much of it the view is
 * wide and high. On whole samples when the scale is that of the picture, so that a moved picture is as sharp as a new one.
 */
export function shareOf(kept: Kept, view: View, size: Size, samples: number): [x: number, y: number, w: number, h: number] {
  const { box } = kept;
  const seen = windowOf(view, size);
  const snap = (mm: number) => (kept.samples === samples ? Math.round(mm * samples) / samples : mm);
  const [w, h] = [box.x1 - box.x0, box.y1 - box.y0];
  return [snap(seen.x0 - box.x0) / w, snap(seen.y0 - box.y0) / h, (seen.x1 - seen.x0) / w, (seen.y1 - seen.y0) / h];
}
