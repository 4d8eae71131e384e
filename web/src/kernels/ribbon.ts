/** A lane as a ribbon of runs, and a call as pieces in fives and tens. */
import type { Call } from "../api/generated/Call";

export interface Run {
  /** Index of its first call. */
  first: number;
  /** How many calls it is cut into. */
  calls: number;
  colour: number;
  count: number;
  /** Place of its first piece, from 1. */
  from: number;
}

/** Joins calls of one colour that follow each other without a gap. */
export function runs(calls: readonly Call[]): Run[] {
  const out: Run[] = [];
  calls.forEach((call, i) => {
    const last = out[out.length - 1];
    if (last && last.colour === call.colour && last.from + last.count === call.from) {
      last.calls += 1;
      last.count += call.count;
    } else {
      out.push({ first: i, calls: 1, colour: call.colour, count: call.count, from: call.from });
    }
  });
  return out;
}

export interface Strip {
  /** Share of the ribbon where it begins, 0 to 1. */
  at: number;
  /** Its share of the ribbon. */
  width: number;
  run: Run;
  /** True when `code` has room. */
  lettered: boolean;
}

/** Where each run lies on a ribbon of `px`; a letter needs 12 px, and 8 more for each further sign. */
export function strips(all: readonly Run[], places: number, px: number, signs: (colour: number) => number): Strip[] {
  return all.map((run) => {
    const width = places > 0 ? run.count / places : 0;
    const need = 12 + 8 * (signs(run.colour) - 1);
    return { at: places > 0 ? (run.from - 1) / places : 0, width, run, lettered: width * px >= need };
  });
}

/** Marks below the ribbon: every ten, or a wider round step so that marks stay 40 px apart. */
export function marks(places: number, px: number): number[] {
  const step = [10, 20, 50, 100, 200, 500, 1000].find((s) => places <= 0 || (s / places) * px >= 40) ?? 2000;
  const out: number[] = [];
  for (let v = step; v <= places; v += step) out.push(v);
  return out;
}

/** A count as groups of up to five, two to a ten: 22 is [5, 5], [5, 5], [2]. */
export function tens(count: number): number[][] {
  const out: number[][] = [];
  for (let left = count; left > 0; left -= 10) {
    const ten = Math.min(left, 10);
    out.push(ten > 5 ? [5, ten - 5] : [ten]);
  }
  return out;
}

/** Runs as text with its sum: "C 22  K 6  C 3 = 31". */
export function asText(all: readonly Run[], code: (colour: number) => string): string {
  const sum = all.reduce((n, run) => n + (run.colour === 0 ? 0 : run.count), 0);
  return all.map((run) => `${code(run.colour)} ${run.count}`).join("  ") + ` = ${sum}`;
}
