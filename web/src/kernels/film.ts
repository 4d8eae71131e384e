/** Films and stills: sizes, times of the frames, names of the files, and how much room a second takes. */

export interface PictureSize {
  width: number;
  height: number;
}
export const SIZES: Record<"hd" | "full" | "four", PictureSize> = {
  hd: { width: 1_280, height: 720 },
  full: { width: 1_920, height: 1_080 },
  four: { width: 3_840, height: 2_160 },
};
export type SizeName = keyof typeof SIZES | "screen";

/** Encoders take even sides only. */
export const even = ({ width, height }: PictureSize): PictureSize => ({ width: Math.max(2, width - (width % 2)), height: Math.max(2, height - (height % 2)) });

export interface Shot {
  /** From and to which time of the fall, s. */
  from: number;
  to: number;
  /** Seconds of the fall in a second of the film. */
  speed: number;
  /** Frames a second. */
  rate: number;
}

/** Frames from the first to the last time, both shown; 0 where there is nothing to show. */
export function frameCount({ from, to, speed, rate }: Shot): number {
  if (!(to >= from) || !(speed > 0) || !(rate > 0)) return 0;
  return Math.floor(((to - from) / speed) * rate + 1e-6) + 1;
}
/** What time of the fall a frame shows, s. Each from its own number, so that nothing adds up. */
export const frameTime = (shot: Shot, frame: number): number => Math.min(shot.to, shot.from + (frame * shot.speed) / shot.rate);
/** When a frame is shown in the film, whole µs. */
export const shownAt = (shot: Shot, frame: number): number => Math.round((frame * 1e6) / shot.rate);

/** "from-spring-to-sea_0-12.3.png": letters and figures of any script, nothing that a disk would mind. */
export function fileName(plan: string, seconds: number, ending: string): string {
  const plain = plan.normalize("NFC").toLowerCase().replace(/[^\p{L}\p{N}]+/gu, "-").replace(/^-+|-+$/g, "").slice(0, 60);
  const tenths = Math.max(0, Math.floor(seconds * 10 + 1e-6));
  const [m, s] = [Math.floor(tenths / 600), (tenths % 600) / 10];
  return `${plain || "fall"}_${m}-${s.toFixed(1).padStart(4, "0")}.${ending}`;
}

/** Bits a second for pictures with many small edges: about a seventh of a bit a pixel, by eye; no source. */
export const bitRate = ({ width, height }: PictureSize, rate: number): number => Math.round(Math.min(80e6, Math.max(1e6, width * height * rate * 0.14)));
