/** What a tool is: a pure machine from presses to drafts. The board feeds it and sends what it finishes. */
import type { Change } from "../api/generated/Change";
import type { GapState } from "../api/generated/GapState";
import type { FeedWays } from "../api/generated/FeedWays";
import type { SaidRow } from "../api/generated/SaidRow";
import type { Side } from "../api/generated/Side";
import type { ItemDraft } from "../api/generated/ItemDraft";
import type { State } from "../api/generated/State";
import type { TriedRow } from "../api/generated/TriedRow";
import type { Key, Values } from "../i18n";
import type { Pair } from "../kernels/floor";
import type { Snap } from "../kernels/snap";
import type { Ink } from "../kernels/thin";
import type { Uses } from "./uses";

/** Tools in the groups of the comb, each group a purpose. */
export const PURPOSES = ["pick", "hall", "lines", "fields", "fall", "marks"] as const;
export type Purpose = (typeof PURPOSES)[number];

/** What lies under a place. */
export interface Hit {
  item: number;
  /** The piece under it, counted from the item's first; null between pieces. */
  piece: number | null;
}

/** A place that was pressed. */
export interface Spot {
  /** Where it counts: snapped, or as pressed when nothing is near. mm. */
  at: Pair;
  /** Where the pointer is, mm. */
  raw: Pair;
  snap: Snap | null;
  on: Hit | null;
  /** More than one, or only right angles: whatever the tool does with Shift. */
  shift: boolean;
  /** A finger or a pen; what is near is farther away then. */
  touch: boolean;
}

export type Press =
  /** `down` and `up` of a click are at the same place; `drag` comes between them, `hover` without a button. */
  | { is: "down" | "drag" | "up" | "hover"; spot: Spot }
  /** Enter or a double click: done. */
  | { is: "finish" }
  /** Backspace: the last point goes. */
  | { is: "back" }
  /** A typed figure takes the place of what the pointer says, by the id of its number. */
  | { is: "number"; id: string; value: number }
  /** Typed words. */
  | { is: "words"; text: string }
  /** What was written or chosen for something that the sketch asks for. */
  | { is: "answer"; id: string; value: string }
  /** Delete: what the tool itself has chosen goes. */
  | { is: "take" }
  /** The next or the last of what can be chosen within an item, by keys; and it moves by so much, mm. */
  | { is: "step"; by: 1 | -1 }
  | { is: "nudge"; by: Pair }
  /** What the sketch just shown would take; only for tools that hear it. */
  | { is: "tried"; items: readonly TriedRow[] };

/** A piece that stands. */
export interface Standing {
  at: Pair;
  /** Direction of its fall, degrees. */
  heading: number;
  /** Pieces of its item. */
  of: number;
}

/** What tools see of the plan. */
export interface Env {
  plan: State;
  /** What the planner used last: kind, colour, pitch, lanes and so on. */
  uses: Uses;
  /** Pixels a millimetre. */
  scale: number;
  /** Whole items that were asked for by `wants`, by id. */
  drafts: ReadonlyMap<number, ItemDraft>;
  /** Ids of the chosen items. */
  chosen: readonly number[];
  /** What a place snaps to now; null while snapping is off. Items in `loose` are not met. */
  snap: (p: Pair) => Snap | null;
  /** Where a piece of an item stands, counted from the item's first; null while nobody knows. */
  piece?: (item: number, piece: number) => Standing | null;
  /** What a safety gap of an item does while it is open; null while nobody judged it. */
  gap?: (item: number, gap: number) => GapState | null;
  /** Ways to feed a field that were asked for by `feeds`; null until they were told. */
  feeds?: (field: number, side: Side) => FeedWays | null;
  /** Words in the language of the page: a change is named for the history as whoever makes it reads the page. */
  say: (key: Key, values?: Values) => string;
  /** Words as ink in the font at hand, one line of so many pixels height; null while there is no such font. */
  ink: (text: string, height: number) => Ink | null;
}

/** A figure that can be typed while drawing. */
export interface Typed {
  id: string;
  words: Key;
  kind: "length" | "degrees" | "count" | "turns";
  /** mm, degrees, or plain. */
  value: number;
  min: number;
  max: number;
  /** Nothing was typed yet, and nothing else says it: shown empty. */
  open?: boolean;
}

/** Something besides figures that a tool asks for. */
export type Ask =
  | { is: "text"; id: string; words: Key; value: string; /** Signs at the most. */ most: number; /** Several lines, and the caret at once. */ long?: boolean }
  | { is: "choice"; id: string; words: Key; value: string; choices: readonly Choice[]; /** One below the other, with what is known of each. */ told?: boolean };
export interface Choice {
  value: string;
  words: Key;
  values?: Values;
  /** More about it, in sentences of the engine. */
  more?: { rows: readonly SaidRow[]; english: string };
}

/** Why something cannot be made as it is drawn; null when it can. */
export type Trouble = { words: Key; values?: Values } | null;

export type Told = { words: Key; lengths?: Readonly<Record<string, number>>; counts?: Readonly<Record<string, number>>; values?: Values } | null;

/** What is shown while a tool is at work. */
export interface Sketch {
  /** Whole items as they would be: their pieces are shown and what is wrong with them is told. */
  items: readonly ItemDraft[];
  /** Strokes on the floor, mm; closed ones come back to their first point. */
  strokes: readonly { points: readonly Pair[]; closed?: boolean; faint?: boolean }[];
  /** Points that were set, mm. */
  points: readonly Pair[];
  /** Places where a point can be drawn out, mm; drawn smaller. */
  middles?: readonly Pair[];
  /** The point that is chosen among `points`. */
  chosen?: number | null;
  /** Figures that can be typed now; the first one takes what is typed. */
  numbers: readonly Typed[];
  /** What to do next, in words. */
  hint: Key;
  /** The same for whoever draws by keys, where that differs. */
  keys?: Key;
  /** The point that angles and lengths are counted from. */
  from: Pair | null;
  /** Items that have to be had whole before the tool can go on. */
  wants?: readonly number[];
  asks?: readonly Ask[];
  /** Why it cannot be made so. */
  trouble?: Trouble;
  /** One line about where this can hurt somebody. */
  caution?: Key | null;
  /** What is known besides, in words with figures: lengths in mm by the names of `lengths`. */
  tells?: Told;
  /** The same, short, for the label at the pointer; the slip says it too where nothing else is told. */
  label?: Told;
  /** The field and the side whose ways of feeding have to be had. */
  feeds?: { field: number; side: Side } | null;
  /** Asks for words: a note, a text. */
  words?: string | null;
  /** Items that are left out of what is snapped to: those that move. */
  loose?: readonly number[];
}

/** What comes of a press: the tool goes on in `state`; with `change` something is sent. */
export interface Step<S> {
  state: S;
  change?: Change;
  /** Sent next, with the ids of what the change added. */
  then?: (items: readonly number[]) => Change;
  /** Chosen next; without it, what the change added. */
  choose?: readonly number[];
  /** Figures that the next one begins with. */
  uses?: Partial<Uses>;
}

export interface Tool<S = unknown> {
  id: string;
  purpose: Purpose;
  words: Key;
  /** What it makes, in one line. */
  about: Key;
  key: string;
  /** An outline in a box of 20 by 20. */
  icon: string;
  /** Which figures of `uses` it takes, for its slip. */
  uses: readonly (keyof Uses)[];
  start: () => S;
  on: (state: S, press: Press, env: Env) => Step<S>;
  sketch: (state: S, env: Env) => Sketch;
  /** True while there is something to lose by Escape. */
  busy: (state: S) => boolean;
  /** Its changes carry much more than what was changed, so that each has to be made of the plan as the last one left it. */
  whole?: true;
  /** True while Delete takes away something that the tool itself has chosen. */
  takes?: (state: S, env: Env) => boolean;
  /** One step back of what is being drawn, null when nothing is; without it, Backspace's as long as there is something to lose. */
  undo?: (state: S, env: Env) => S | null;
  /** What comes of it when another tool is taken in the middle; null when it is too little to stand, and is given up. */
  keeps?: (state: S, env: Env) => Step<S> | null;
  /** True when it wants to be told what its sketch would take. */
  hears?: boolean;
  /** True when a drag that begins here moves the view. */
  lets?: (state: S, spot: Spot, env: Env) => boolean;
}

/** Pixels that the second press of a double click may lie beside the first; fingers meet less well. */
const AGAIN = { pointer: 7, finger: 24 } as const;
/** Whether a press is the second one of a double click, or as good as it: by where the pointer is, whatever either one snapped to. */
export const again = (before: Pair | null, spot: Spot, env: Env): boolean =>
  before !== null && Math.hypot(spot.raw[0] - before[0], spot.raw[1] - before[1]) * env.scale < AGAIN[spot.touch ? "finger" : "pointer"];

export const stay = <S>(state: S): Step<S> => ({ state });
export const EMPTY: Sketch = { items: [], strokes: [], points: [], numbers: [], hint: "tool.pick.hint", from: null };
