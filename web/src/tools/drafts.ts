/** New items with what was used last. */
import type { BodyDraft } from "../api/generated/BodyDraft";
import type { FieldDraft } from "../api/generated/FieldDraft";
import type { ItemDraft } from "../api/generated/ItemDraft";
import type { LegDraft } from "../api/generated/LegDraft";
import type { LineDraft } from "../api/generated/LineDraft";
import type { PatternDraft } from "../api/generated/PatternDraft";
import { round, turn, type Frame } from "../kernels/frames";
import type { Env, Told, Typed } from "./tool";

export type Of<B extends BodyDraft["is"]> = Extract<BodyDraft, { is: B }>;
/** An item whose sort is known. */
export type DraftOf<B extends BodyDraft["is"]> = Omit<ItemDraft, "body"> & { body: Of<B> };

/** Lengths that the plan takes, mm. */
export const FAR = 1_000_000;

export const kindOf = (env: Env): number => env.plan.kinds.find((k) => k.id === env.uses.kind)?.id ?? env.plan.kinds[0]?.id ?? 0;
export const colourOf = (env: Env): number => env.plan.colours.find((c) => c.id === env.uses.colour)?.id ?? env.plan.colours[0]?.id ?? 0;
export const patternOf = (env: Env): PatternDraft => env.uses.pattern ?? { is: "plain", colour: colourOf(env) };

/** A name that no item has: the word and the next number. */
export function nameOf(word: string, env: Env): string {
  const taken = new Set(env.plan.items.map((i) => i.name));
  if (!taken.has(word)) return word;
  for (let n = 2; ; n++) if (!taken.has(`${word} ${n}`)) return `${word} ${n}`;
}

export function item<B extends BodyDraft>(name: string, frame: Frame, body: B, env: Env): Omit<ItemDraft, "body"> & { body: B } {
  return {
    id: null, name, section: env.uses.section, surface: env.uses.on, x: round(frame.x), y: round(frame.y), heading: turn(frame.heading),
    built: null, gaps: [], locked: false, group: null, body, cells_from: null,
  };
}

/** A line along a path. */
export function lineBody(path: LegDraft[], env: Env, links: Pick<LineDraft, "from" | "to"> = { from: null, to: null }): Of<"line"> {
  const { lanes, across, spacing, spacedBy, placed } = env.uses;
  return {
    is: "line", kind: kindOf(env), lanes, pitch_across: across, spacing: { by: spacedBy, mm: spacing }, placed, path, ...links,
    colours: patternOf(env), bridges: [],
  };
}

/** What a match aims for before anybody says otherwise: the program's own beginning. */
export const WISH: FieldDraft["wish"] = {
  goal: "seen", seen_as: "laid", seen_from: 20_000, eye_height: 1600, eye_bearing: 180, fewer_changes: 0, weight: 1, allowed: null,
};

/** An empty field of so many lanes and ranks. */
export function fieldBody(lanes: number, ranks: number, env: Env): Of<"field"> {
  return {
    is: "field", kind: kindOf(env), lanes, ranks, pitch_along: env.uses.fieldAlong, pitch_across: env.uses.fieldAcross, stagger: 0,
    course: "together", fall: "right", picture: null, fit: "fill", contrast: 0, crop: null, wish: WISH,
  };
}

/** How much a field holds, and how close. */
export const fieldLabel = (f: Pick<FieldDraft, "lanes" | "ranks" | "pitch_along" | "pitch_across">): Told => ({
  words: "field.label", lengths: { along: f.pitch_along, across: f.pitch_across }, counts: { n: f.ranks * f.lanes },
});

/** Typed sides of a field: mm along the fall and across it, or ranks and lanes. */
export type Size = Partial<Record<"width" | "depth" | "ranks" | "lanes", number>>;
const SAME = { width: "ranks", ranks: "width", depth: "lanes", lanes: "depth" } as const;
export const isSize = (id: string): id is keyof Size => id in SAME;
/** With one more figure; a length and a count of the same side say the same thing, and the last word counts. */
export const sized = (typed: Size, id: keyof Size, value: number): Size => {
  const now = { ...typed, [id]: value };
  delete now[SAME[id]];
  return now;
};
/** Lanes and ranks that one field takes at the most. */
export const MOST_CELLS = 2000;
/** The sides of a field as figures to be typed. */
export function sizeNumbers(f: Pick<FieldDraft, "lanes" | "ranks" | "pitch_along" | "pitch_across">, typed: Size): Record<keyof Size, Typed> {
  return {
    width: { id: "width", words: "tool.width", kind: "length", value: typed.width ?? f.ranks * f.pitch_along, min: 1, max: FAR },
    depth: { id: "depth", words: "tool.depth", kind: "length", value: typed.depth ?? f.lanes * f.pitch_across, min: 1, max: FAR },
    ranks: { id: "ranks", words: "ranks", kind: "count", value: f.ranks, min: 1, max: MOST_CELLS },
    lanes: { id: "lanes", words: "lanes", kind: "count", value: f.lanes, min: 1, max: MOST_CELLS },
  };
}
