/** Ink on a piece colour: whichever of two contrasts more, also when the dark hall dims the colour. */

/** The ink that stands for white in the dark hall. */
export const LAMP = "#e6d8b6";
/** Share of its value that a swatch keeps in the dark hall. */
export const DIM = 0.84;

type Rgb = [number, number, number];

/** "#rrggbb" as three values of 0 to 255; black for anything else. */
export function rgb(hex: string): Rgb {
  const m = /^#([0-9a-f]{6})$/i.exec(hex);
  const n = m ? parseInt(m[1]!, 16) : 0;
  return [n >> 16, (n >> 8) & 255, n & 255];
}

/** "#rrggbb" as one number 0xrrggbb, with a share of its value. */
export function packed(hex: string, share = 1): number {
  const [r, g, b] = rgb(hex).map((v) => Math.round(v * share)) as Rgb;
  return (r << 16) | (g << 8) | b;
}

/** Relative luminance, WCAG 2.2 definition. */
export function luminance(c: Rgb): number {
  const [r, g, b] = c.map((v) => {
    const s = v / 255;
    return s <= 0.04045 ? s / 12.92 : ((s + 0.055) / 1.055) ** 2.4;
  }) as Rgb;
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

/** Contrast of two luminances, WCAG 2.2: 1 to 21. */
export function contrast(a: number, b: number): number {
  return (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
}

/** The ink for a code on `hex`. */
export function ink(hex: string, hall: boolean): string {
  const ground = luminance(rgb(hex).map((v) => v * (hall ? DIM : 1)) as Rgb);
  const pale = hall ? LAMP : "#ffffff";
  return contrast(luminance(rgb(pale)), ground) > contrast(0, ground) ? pale : "#000000";
}
