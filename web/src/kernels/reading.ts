/** Steps through the calls of a lane. */
import type { Call } from "../api/generated/Call";

export interface Place {
  /** Lane or rank, from 1. */
  unit: number;
  /** Call from 0; equal to the number of calls when the lane is done. */
  call: number;
}

/** The next call, or the end of the lane, or the next lane; null at the very end. */
export function next(at: Place, calls: number, units: number): Place | null {
  if (at.call < calls) return { unit: at.unit, call: at.call + 1 };
  return at.unit < units ? { unit: at.unit + 1, call: 0 } : null;
}

/** One call back; from the first call of a lane to the end of the lane before; null at the very beginning. */
export function back(at: Place, callsBefore: (unit: number) => number | null): Place | null {
  if (at.call > 0) return { unit: at.unit, call: at.call - 1 };
  if (at.unit <= 1) return null;
  return { unit: at.unit - 1, call: callsBefore(at.unit - 1) ?? 0 };
}

/** What a key asks for. */
export function step(key: string): "next" | "back" | null {
  if (key === " " || key === "ArrowRight" || key === "Enter" || key === "PageDown") return "next";
  return key === "ArrowLeft" || key === "PageUp" ? "back" : null;
}

export function sameCalls(a: readonly Call[], b: readonly Call[]): boolean {
  return a.length === b.length && a.every((call, i) => call.colour === b[i]!.colour && call.count === b[i]!.count);
}
