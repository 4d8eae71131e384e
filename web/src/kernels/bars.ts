/** Heights of stock bars. */

export interface Bar {
  /** Share of what is owned that is needed, 0 to 1. */
  fill: number;
  /** Share over what is owned, 0 to 1; 0 when nothing is short. */
  over: number;
}

/** Needed against usable: the bar's full height is what may be used, the overhang what is short. */
export function stockBar(needed: number, usable: number): Bar {
  if (needed <= usable) return { fill: usable > 0 ? needed / usable : 0, over: 0 };
  const over = usable > 0 ? (needed - usable) / usable : 1;
  // A shortage of one piece must still be seen.
  return { fill: 1, over: Math.min(1, Math.max(0.2, over)) };
}

export interface Row {
  /** Right end of the fill, as a share of the row's width. */
  needed: number;
  /** Place of the upright that marks what may be used. */
  usable: number;
}

/** A row of the stock table, scaled so that the largest figure of all rows fills it. */
export function stockRow(needed: number, usable: number, largest: number): Row {
  const share = (v: number) => (largest > 0 ? Math.min(1, Math.max(0, v / largest)) : 0);
  return { needed: share(needed), usable: share(usable) };
}
