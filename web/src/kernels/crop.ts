/** The part of a picture that is shown: shares from the left, top, right and bottom edge, as the plan keeps them. */

export type Crop = readonly [left: number, top: number, right: number, bottom: number];

/** Least part that is shown, as a share. */
const LEAST = 0.01;

/** The part between two corners, kept within the picture; null when it is too small to be meant. */
export function cropOf(a: readonly [number, number], b: readonly [number, number]): Crop | null {
  const within = (v: number) => Math.min(1, Math.max(0, Math.round(v * 1000) / 1000));
  const crop: Crop = [within(Math.min(a[0], b[0])), within(Math.min(a[1], b[1])), within(Math.max(a[0], b[0])), within(Math.max(a[1], b[1]))];
  return crop[2] - crop[0] >= LEAST && crop[3] - crop[1] >= LEAST ? crop : null;
}

/** Sets one edge; it never passes the one across from it. */
export function cropped(crop: Crop, edge: number, to: number): Crop {
  const across = crop[(edge + 2) % 4]!;
  const kept = edge < 2 ? Math.min(to, across - LEAST) : Math.max(to, across + LEAST);
  const out: [number, number, number, number] = [...crop];
  out[edge] = Math.min(1, Math.max(0, kept));
  return out;
}

/** The largest part around the same middle whose width is `aspect` times its height, both as shares. */
export function shaped(crop: Crop, aspect: number): Crop {
  const [w, h] = [crop[2] - crop[0], crop[3] - crop[1]];
  const [wide, high] = w > h * aspect ? [h * aspect, h] : [w, w / aspect];
  const [x, y] = [(crop[0] + crop[2]) / 2, (crop[1] + crop[3]) / 2];
  return [x - wide / 2, y - high / 2, x + wide / 2, y + high / 2];
}
