/** The hall as measured, for its slip and for the floor: names for new marks, how far off things lie, what is said of a tape. */
import type { MarkFit } from "../api/generated/MarkFit";
import type { TapedHall } from "../api/generated/TapedHall";
import type { TapeFit } from "../api/generated/TapeFit";
import type { Pair } from "./floor";

/** What lies closer than this to its drawing is as drawn, mm: less is not read off a tape. */
export const AS_DRAWN = 0.5;
/** Findings that the tapes make. */
export const TAPE_CODES: readonly string[] = ["tape-misfit", "mark-loose", "hall-off"];

/** The next name that no mark has: A to Z, then AA, AB and so on. */
export function nextMark(names: Iterable<string>): string {
  const taken = new Set(names);
  for (let n = 0; ; n++) {
    const name = letters(n);
    if (!taken.has(name)) return name;
  }
}
/** 0 is A, 25 is Z, 26 is AA. */
function letters(n: number): string {
  const last = String.fromCharCode(65 + (n % 26));
  return n < 26 ? last : letters(Math.floor(n / 26) - 1) + last;
}

/** How far the tapes have a mark from its drawing, east and north in mm; null while nobody knows, and where it is as drawn. */
export function offOf(mark: MarkFit): Pair | null {
  if (!mark.fitted || mark.loose) return null;
  const off: Pair = [mark.fitted[0] - mark.at[0], mark.fitted[1] - mark.at[1]];
  return Math.hypot(...off) > AS_DRAWN ? off : null;
}

/** What is said of a tape: that it clashes, that it fits, or that nothing checks it. */
export type Verdict = "untrue" | "doubted" | "fits" | "unchecked";
export function verdict(tape: TapeFit, spare: number): Verdict {
  if (tape.is !== "fine") return tape.is;
  return tape.misfit === null || spare === 0 ? "unchecked" : "fits";
}

/** Which of many tapes are listed, in their order: those that clash, then those that were added last. */
export function listed(tapes: readonly TapeFit[], most: number): number[] {
  const all = tapes.map((_, i) => i);
  if (tapes.length <= most) return all;
  const clash = (i: number) => tapes[i]!.is !== "fine";
  return [...all.filter(clash), ...all.filter((i) => !clash(i)).reverse()].slice(0, most).sort((a, b) => a - b);
}

/** A tape on the floor: from its one mark to the other, where they were drawn; null when one is not there. */
export function strokeOf(told: TapedHall, tape: TapeFit): [Pair, Pair] | null {
  const at = (name: string) => told.marks.find((m) => m.name === name)?.at;
  const [a, b] = [at(tape.from), at(tape.to)];
  return a && b ? [a, b] : null;
}

/** The mark nearest to a place, no farther than so much. */
export function markNear<M extends { at: Pair }>(marks: readonly M[], p: Pair, within: number): M | null {
  let [best, least] = [null as M | null, within];
  for (const mark of marks) {
    const far = Math.hypot(mark.at[0] - p[0], mark.at[1] - p[1]);
    if (far <= least) [best, least] = [mark, far];
  }
  return best;
}

type Box = readonly [number, number, number, number];
/** Where along a stroke words may lie, in the order in which that is tried. */
const ALONG = [1 / 2, 1 / 3, 2 / 3, 1 / 4, 3 / 4, 1 / 6, 5 / 6] as const;
/**
 * Where the middle of words of so much width and height lies on a stroke, so that they lie on none of the boxes that are
 * taken, and the box that they take; null when there is no room.
 */
export function wordsOn([a, b]: readonly [Pair, Pair], width: number, height: number, taken: readonly Box[]): { at: Pair; box: Box } | null {
  for (const t of ALONG) {
    const [x, y] = [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
    const box: Box = [x - width / 2, y - height / 2, x + width / 2, y + height / 2];
    if (!taken.some(([x0, y0, x1, y1]) => box[0] < x1 && box[2] > x0 && box[1] < y1 && box[3] > y0)) return { at: [x, y], box };
  }
  return null;
}
