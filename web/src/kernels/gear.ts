/** What is not a piece but is needed to build: limits, what a new thing begins with, and what the plan asks for. */
import type { FindingRow } from "../api/generated/FindingRow";
import type { GearDraft } from "../api/generated/GearDraft";
import type { GearRow } from "../api/generated/GearRow";
import type { GearWhat } from "../api/generated/GearWhat";

export const GEAR = ["comb", "plank", "support", "cord"] as const;
export type GearIs = (typeof GEAR)[number];

/** Pieces that a comb sets at a time; 20 at 15 mm make 30 cm, which one hand lifts straight. No source (common practice). */
export const TEETH = 20;

/** What a new thing begins with, mm: sizes as they are usual, to be changed to one's own; no source (common practice). */
export const FIRST_GEAR: { readonly [K in GearIs]: Extract<GearWhat, { is: K }> } = {
  comb: { is: "comb", pitch: 15, teeth: TEETH },
  plank: { is: "plank", length: 600, width: 60, thickness: 12 },
  support: { is: "support", height: 75 },
  cord: { is: "cord", length: 50_000 },
};

/** Least and most of each figure, mm, as the plan takes it. */
export const LIMITS = {
  pitch: [1, 1_000], teeth: [2, 1_000], length: [1, 100_000], width: [1, 100_000], thickness: [0.1, 1_000], height: [0.1, 100_000], cord: [1, 10_000_000],
  count: [0, 1_000_000_000],
} as const satisfies Record<string, readonly [number, number]>;

/** A comb sets a pitch that differs from its own by at most this, mm. */
export const SLACK = 0.05;

/** The draft of a new thing; a comb for a pitch where one is wanted. */
export function newGear(is: GearIs, pitch: number | null): GearWhat {
  if (is !== "comb" || pitch === null) return FIRST_GEAR[is];
  return { ...FIRST_GEAR.comb, pitch: Math.min(LIMITS.pitch[1], Math.max(LIMITS.pitch[0], pitch)) };
}

const sets = (row: GearRow, pitch: number) => row.what.is === "comb" && row.count > 0 && Math.abs(row.what.pitch - pitch) <= SLACK;

/** Combs for these pitches, one for each that no comb at hand sets. */
export function combsFor(pitches: readonly number[], have: readonly GearRow[], name: (what: GearWhat) => string): GearDraft[] {
  const wanted = [...new Set(pitches)].filter((pitch) => !have.some((row) => sets(row, pitch)));
  return wanted.map((pitch) => {
    const what = newGear("comb", pitch);
    return { name: name(what), what, count: 1, owner: "" };
  });
}

/** Pitches for which a comb is missing, smallest first, and the items that want it. */
export function missingCombs(findings: readonly FindingRow[], pitchOf: (item: number) => number | null): { pitch: number; items: number[] }[] {
  const found = new Map<number, number[]>();
  for (const f of findings) {
    const pitch = f.code === "comb-missing" && f.item !== null ? pitchOf(f.item) : null;
    if (pitch === null || pitch <= 0) continue;
    // Pitches that come from a gap and a thickness have noise in the last digits.
    const key = Math.round(pitch * 100) / 100;
    found.set(key, [...(found.get(key) ?? []), f.item!]);
  }
  return [...found].map(([pitch, items]) => ({ pitch, items })).sort((a, b) => a.pitch - b.pitch);
}

/** The gear of the stock: the list, one thing of it, or a form for a new one. */
export function gearAddress(to: { id?: number; add?: GearIs; pitch?: number } = {}): string {
  const query = new URLSearchParams({ part: "gear" });
  if (to.id !== undefined) query.set("gear", String(to.id));
  if (to.add !== undefined) query.set("add", to.add);
  if (to.pitch !== undefined) query.set("pitch", String(to.pitch));
  return `/stock?${query.toString()}`;
}
