/** What stands so far: ids of items as addresses list them, and sections as lists of ticks. */

/** Ids as ranges, `3,7-9`; the same ids give the same words in any order. */
export function ranges(ids: Iterable<number>): string {
  const sorted = [...new Set(ids)].sort((a, b) => a - b);
  const found: [number, number][] = [];
  for (const id of sorted) {
    const last = found.at(-1);
    if (last && last[1] + 1 === id) last[1] = id;
    else found.push([id, id]);
  }
  return found.map(([a, b]) => (a === b ? `${a}` : `${a}-${b}`)).join(",");
}

/** Reads what `ranges` wrote; anything else gives no ids. */
export function fromRanges(text: string | null): number[] {
  const found: number[] = [];
  for (const part of (text ?? "").split(",")) {
    const ends = /^(\d{1,9})(?:-(\d{1,9}))?$/.exec(part);
    if (!ends) return [];
    const [first, last] = [Number(ends[1]), Number(ends[2] ?? ends[1])];
    if (last < first || found.length + last - first > MOST) return [];
    for (let id = first; id <= last; id++) found.push(id);
  }
  return found;
}

/** Ids that are kept at most; what a browser kept is not to be trusted to be short. */
const MOST = 100_000;

export interface Part {
  id: number;
  section: string;
}

/** Items by section, in the order in which each first appears. */
export function bySection<T extends Part>(items: readonly T[]): { section: string; items: T[] }[] {
  const found = new Map<string, T[]>();
  for (const item of items) {
    const inside = found.get(item.section);
    if (inside) inside.push(item);
    else found.set(item.section, [item]);
  }
  return [...found].map(([section, items]) => ({ section, items }));
}

type Spot = readonly [number, number];

/** The middle of a safety gap between its strokes, mm; null for one that the item has no pieces for. */
export function gapPlace(gap: { strokes: readonly (readonly [Spot, Spot])[] } | undefined): [number, number] | null {
  const ends = (gap?.strokes ?? []).flat();
  if (ends.length === 0) return null;
  const mean = (axis: 0 | 1) => ends.reduce((sum, p) => sum + p[axis], 0) / ends.length;
  return [mean(0), mean(1)];
}

/** What to do about a gap that may not hold: the key of its words; nothing when it holds. */
export function gapAdvice(gap: { holds: "surely" | "unsure" | "not"; block: "none" | "fixed" | "loose"; needed: number | null }): "needed" | "stop" | "closer" | "loose" | null {
  if (gap.holds === "surely") return null;
  if (gap.block === "fixed") return "closer";
  if (gap.block === "loose") return "loose";
  return gap.needed === null ? "stop" : "needed";
}

/** The gravest first, else in their order. */
export function gravest<T extends { holds: "surely" | "unsure" | "not" }>(gaps: readonly T[]): T[] {
  const rank = { not: 0, unsure: 1, surely: 2 };
  return [...gaps].sort((a, b) => rank[a.holds] - rank[b.holds]);
}
