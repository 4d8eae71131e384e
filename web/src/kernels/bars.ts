/** Heights of stock bars. */

export interface Bar {
  /** Share of what is owned that is needed, 0 to 1. */
  fill: number;
  /** Share over what is owned, 0 to 1; 0 when nothing is short. */
  over: number;
}

/** How many pieces are short: what is laid, or what the pictures would take freely, beyond what may be used. */
export function shortBy(row: { needed: number; wanted: number; usable: number }): number {
  return Math.max(0, Math.max(row.needed, row.wanted) - row.usable);
}

/** How a colour stands: short as it is laid; enough as it is laid, and short for what the pictures would take freely; or enough for both. */
export function stands(row: { needed: number; wanted: number; usable: number }): { is: "short" | "wish" | "enough"; left: number; short: number } {
  const left = Math.max(0, row.usable - row.needed);
  const short = shortBy(row);
  return { is: row.needed > row.usable ? "short" : short > 0 ? "wish" : "enough", left, short: row.needed > row.usable ? row.needed - row.usable : short };
}

/** Needed against usable: the bar's full height is what may be used, the overhang what is short. */
export function stockBar(row: { needed: number; wanted: number; usable: number }): Bar {
  const { needed, usable } = row;
  const fill = usable > 0 ? Math.min(1, needed / usable) : needed > 0 ? 1 : 0;
  const short = shortBy(row);
  if (short === 0) return { fill, over: 0 };
  // A shortage of one piece must still be seen.
  return { fill, over: Math.min(1, Math.max(0.2, usable > 0 ? short / usable : 1)) };
}

export interface Row {
  /** Right end of the fill, as a share of the row's width. */
  needed: number;
  /** Right end of what the pictures would take. */
  wanted: number;
  /** Place of the upright that marks what may be used. */
  usable: number;
}

/** A row of the stock table, scaled so that the largest figure of all rows fills it. */
export function stockRow(row: { needed: number; wanted: number; usable: number }, largest: number): Row {
  const share = (v: number) => (largest > 0 ? Math.min(1, Math.max(0, v / largest)) : 0);
  return { needed: share(row.needed), wanted: share(Math.max(row.needed, row.wanted)), usable: share(row.usable) };
}

/** Findings about what the stock has: they are looked into there. */
export const SHORT: ReadonlySet<string> = new Set(["stock-short", "stock-surplus", "pictures-short"]);
