/** A safety gap: pieces of a line that are left out while building, and put in at the end. */
import type { GapDraft } from "../api/generated/GapDraft";
import type { GapState } from "../api/generated/GapState";
import type { ItemDraft } from "../api/generated/ItemDraft";
import type { Pair } from "../kernels/floor";
import { off, toOwn } from "../kernels/frames";
import { EMPTY, stay, type Env, type Press, type Sketch, type Step, type Told, type Tool, type Trouble } from "./tool";

interface Place {
  item: number;
  /** Counted from the item's first piece: where it was pressed, and where it was dragged to. */
  from: number;
  to: number;
}
interface State {
  place: Place | null;
  /** It waits for the next press: it was set where nothing had been shown before, by a finger or by keys. */
  waits: boolean;
  held: boolean;
  /** Pressed on something that has no ranks. */
  trouble: Trouble;
}
const START: State = { place: null, waits: false, held: false, trouble: null };
const MOST = 10_000;
const SORTS = ["line", "fill", "field", "feed"];

/** The rank of a piece; null while nobody knows. Pieces of lines go lane by lane, those of a field are told by where they stand. */
export function rankOf(draft: ItemDraft, piece: number, env: Env): number | null {
  const stands = env.piece?.(draft.id!, piece);
  if (!stands) return null;
  const { body } = draft;
  if (body.is === "field") {
    const b = draft.built;
    const frame = { x: draft.x + (b?.east ?? 0), y: draft.y + (b?.north ?? 0), heading: draft.heading + (b?.turn ?? 0) };
    return Math.min(body.ranks - 1, Math.max(0, Math.round(toOwn(frame, stands.at)[0] / body.pitch_along)));
  }
  const lanes = body.is === "line" ? body.lanes : 1;
  return piece % Math.max(1, Math.round(stands.of / lanes));
}

const ranksOf = (draft: ItemDraft, piece: number, env: Env): number => {
  if (draft.body.is === "field") return draft.body.ranks;
  return Math.round((env.piece?.(draft.id!, piece)?.of ?? 0) / (draft.body.is === "line" ? draft.body.lanes : 1));
};

export interface Opened {
  draft: ItemDraft;
  /** The gap that is opened; null when one is closed. */
  gap: GapDraft | null;
  /** The number of the gap that is closed. */
  closes: number | null;
}

/** The item as it would be; null while it is not known whole. */
export function opened(place: Place, env: Env): Opened | null {
  const draft = env.drafts.get(place.item);
  const a = draft && rankOf(draft, place.from, env);
  const b = draft && rankOf(draft, place.to, env);
  if (!draft || a === null || a === undefined || b === null || b === undefined) return null;
  const there = draft.gaps.findIndex((g) => a >= g.first && a < g.first + g.count);
  if (there >= 0 && a === b) return { draft: { ...draft, gaps: draft.gaps.filter((_, i) => i !== there) }, gap: null, closes: there };
  const others = draft.gaps.filter((_, i) => i !== there);
  const dragged = a !== b;
  let first = dragged ? Math.min(a, b) : a;
  let end = dragged ? Math.max(a, b) + 1 : first + env.uses.gapCount;
  // It ends where the line does, and where the next gap begins.
  for (const g of others) {
    if (g.first > a) end = Math.min(end, g.first);
    else first = Math.max(first, g.first + g.count);
  }
  end = Math.max(first + 1, Math.min(end, ranksOf(draft, place.from, env)));
  const gap: GapDraft = { first, count: end - first, stopper: env.uses.gapStopper };
  return { draft: { ...draft, gaps: [...others, gap].sort((x, y) => x.first - y.first) }, gap, closes: null };
}

const thickness = (draft: ItemDraft, env: Env): number | null => ("kind" in draft.body ? (env.plan.kinds.find((k) => k.id === (draft.body as { kind: number }).kind)?.thickness ?? null) : null);

export const gap: Tool<State> = {
  id: "gap",
  purpose: "fall",
  words: "tool.gap",
  about: "tool.gap.about",
  key: "G",
  icon: "M2 4V16M5 4V16M15 4V16M18 4V16M8 7 12 13M12 7 8 13",
  uses: [],
  whole: true,
  start: () => START,
  busy: (s) => s.held || s.waits,
  on(s, press: Press, env): Step<State> {
    const end = (state: State): Step<State> => {
      const made = state.place && opened(state.place, env);
      if (!made) return stay({ ...state, held: false, waits: state.place !== null });
      // What is changed stays unchosen, so that the next gap can follow.
      return { state: START, change: { do: "put", items: [made.draft], label: env.say(made.gap ? "did.gap.open" : "did.gap.close", { name: made.draft.name }) }, choose: env.chosen };
    };
    const at = (p: Press): Place | null => {
      if (!("spot" in p) || p.spot.on?.piece == null) return null;
      const row = env.plan.items.find((i) => i.id === p.spot.on!.item);
      return row && SORTS.includes(row.sort) ? { item: row.id, from: p.spot.on.piece, to: p.spot.on.piece } : null;
    };
    if (press.is === "hover") return stay(s.waits || s.held ? s : { ...s, place: at(press), trouble: null });
    if (press.is === "down") {
      const place = at(press);
      if (!place) return stay({ ...START, trouble: { words: "trouble.gap" } });
      // Shown here, not elsewhere: keys may press far from where the pointer lies.
      const shown = s.place !== null && same(s.place, place, env);
      return s.waits && shown ? end(s) : stay({ place, held: true, waits: !shown, trouble: null });
    }
    if (press.is === "drag" && s.held && s.place) {
      const { on } = press.spot;
      return stay(on?.item === s.place.item && on.piece !== null ? { ...s, place: { ...s.place, to: on.piece } } : s);
    }
    if (press.is === "up" && s.held) return s.waits ? stay({ ...s, held: false }) : end(s);
    if (press.is === "finish" && s.place) return end(s);
    if (press.is === "back") return stay(START);
    if (press.is === "number") return { state: s.place ? { ...s, place: { ...s.place, to: s.place.from } } : s, uses: { gapCount: Math.round(press.value) } };
    if (press.is === "answer" && press.id === "stopper") return { state: s, uses: { gapStopper: press.value === "with" } };
    return stay(s);
  },
  sketch(s, env): Sketch {
    const made = s.place && opened(s.place, env);
    const row = s.place && env.plan.items.find((i) => i.id === s.place!.item);
    const t = made && thickness(made.draft, env);
    const pitch = row?.pitch[0] ?? 0;
    return {
      ...EMPTY,
      hint: made && !made.gap ? "tool.gap.close" : s.waits ? "tool.gap.again" : "tool.gap.hint",
      wants: s.place ? [s.place.item] : [],
      items: made ? [made.draft] : [],
      strokes: made?.gap && s.place ? ends(made.gap, s.place, made.draft, env) : [],
      numbers: [{ id: "count", words: "tool.gap.count", kind: "count", value: made?.gap?.count ?? env.uses.gapCount, min: 1, max: MOST }],
      asks: [{ is: "choice", id: "stopper", words: "tool.gap.stopper", value: env.uses.gapStopper ? "with" : "without", choices: [{ value: "without", words: "gap.plain" }, { value: "with", words: "gap.stopper" }] }],
      // From face to face on a straight: (k + 1) pitches less one thickness. What it holds is judged once it is set.
      tells: made && made.closes !== null ? held(env.gap?.(made.draft.id!, made.closes) ?? null) : made?.gap && t && pitch > 0 ? { words: "tool.gap.opens", lengths: { open: (made.gap.count + 1) * pitch - t }, values: { first: made.gap.first + 1, last: made.gap.first + made.gap.count } } : null,
      trouble: s.trouble,
      caution: env.uses.gapStopper ? "caution.stopper" : "caution.gap",
    };
  },
};

/** What an open gap does, as it was judged. */
const held = (g: GapState | null): Told =>
  g && { words: g.open === null ? `gapholds.${g.holds}` : `gapopen.${g.holds}`, ...(g.open === null ? {} : { lengths: { open: g.open } }) };

/** The same rank of the same item. */
function same(a: Place, b: Place, env: Env): boolean {
  const draft = env.drafts.get(a.item);
  if (!draft || a.item !== b.item) return false;
  return rankOf(draft, a.from, env) === rankOf(draft, b.from, env);
}

/** Half of such a stroke, mm. */
const HALF = 40;

/** Strokes across the lanes at the first and the last piece that is left out. */
function ends(gap: GapDraft, place: Place, draft: ItemDraft, env: Env): Sketch["strokes"] {
  const rank = rankOf(draft, place.from, env)!;
  const lane = draft.body.is === "field" ? null : place.from - rank;
  const strokes: { points: Pair[] }[] = [];
  for (const r of [gap.first, gap.first + gap.count - 1]) {
    const p = lane === null ? null : env.piece?.(place.item, lane + r);
    if (!p) continue;
    strokes.push({ points: [off(p.at, p.heading, 0, HALF), off(p.at, p.heading, 0, -HALF)] });
  }
  return strokes;
}
