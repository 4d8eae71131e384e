/** Feeds a field: the pieces that bring the fall to every lane, in the way that is chosen, or another course of its lanes. */
import type { Enter } from "../api/generated/Enter";
import type { FeedDraft } from "../api/generated/FeedDraft";
import type { FeedWayRow } from "../api/generated/FeedWayRow";
import type { FeedWays } from "../api/generated/FeedWays";
import type { ItemDraft } from "../api/generated/ItemDraft";
import type { Side } from "../api/generated/Side";
import type { WayDraft } from "../api/generated/WayDraft";
import { toOwn } from "../kernels/frames";
import { colourOf, item, nameOf } from "./drafts";
import { EMPTY, stay, type Ask, type Choice, type Env, type Sketch, type Spot, type Tool, type Trouble } from "./tool";

interface State {
  of: number | null;
  side: Side;
  /** The way that was chosen, by its name; null for the best. */
  way: string | null;
  enter: Enter;
  /** Its lanes were turned by the press before: now each edge is fed. */
  turned: boolean;
  trouble: Trouble;
}
const START: State = { of: null, side: "right", way: null, enter: "middle", turned: false, trouble: null };

export const wayName = (row: FeedWayRow): string => (row.means.is === "feed" ? row.means.way.is : row.means.course);
const told = (s: State, env: Env): FeedWays | null => (s.of === null ? null : (env.feeds?.(s.of, s.side) ?? null));
const chosen = (s: State, ways: FeedWays): FeedWayRow | null =>
  ways.ways.find((w) => (s.way === null ? w.works !== "no" && !(s.turned && w.means.is === "course") : wayName(w) === s.way)) ?? null;

/** What a way comes to: a feed at each edge where lanes begin, or the field with another course; null while something is not known. */
export function fed(s: State, env: Env): ItemDraft[] | null {
  const ways = told(s, env);
  const row = ways && chosen(s, ways);
  const field = s.of === null ? null : (env.drafts.get(s.of) ?? null);
  if (!ways || !row || field?.body.is !== "field") return null;
  if (row.means.is === "course") return [{ ...field, body: { ...field.body, course: row.means.course } }];
  const way: WayDraft = row.means.way.is === "brick" ? { is: "brick", enter: s.enter } : row.means.way;
  const body: FeedDraft & { is: "feed" } = { is: "feed", of: s.of!, way, kind: field.body.kind, colour: colourOf(env), pitch: ways.pitch };
  const one = (name: string, turned: number): ItemDraft => ({ ...item(nameOf(name, env), { x: field.x, y: field.y, heading: field.heading + turned }, body, env), section: field.section, surface: field.surface });
  const near = one(`${field.name} feed`, 0);
  // Lanes that fall both ways begin at both edges; the one at the last rank heads against the field.
  return field.body.course === "opposed" && field.body.lanes > 1 ? [near, one(`${field.name} feed, far edge`, 180)] : [near];
}

/** The field under a press, and from which side of it the line comes, seen along the fall. */
function pressed(spot: Spot, env: Env): Pick<State, "of" | "side"> | null {
  const row = env.plan.items.find((i) => i.id === spot.on?.item);
  if (row?.body.is !== "field") return null;
  const left = toOwn(row, spot.raw)[1] > ((row.body.lanes - 1) * row.body.pitch_across) / 2;
  return { of: row.id, side: left ? "left" : "right" };
}

export const feed: Tool<State> = {
  id: "feed",
  purpose: "fields",
  words: "tool.feed",
  about: "tool.feed.about",
  key: "D",
  icon: "M2 10H8M8 4V16M8 5H17M8 10H17M8 15H17M15 3 17 5 15 7",
  uses: ["colour"],
  start: () => START,
  busy: (s) => s.of !== null,
  on(s, press, env) {
    if (press.is === "down") {
      const at = pressed(press.spot, env);
      if (!at) return stay({ ...s, trouble: { words: "trouble.feed" } });
      return stay(at.of === s.of ? { ...s, side: at.side, trouble: null } : { ...START, ...at });
    }
    if (press.is === "finish" && s.of !== null) {
      const items = fed(s, env);
      const ways = told(s, env);
      const row = ways && chosen(s, ways);
      if (!items || !row) return stay({ ...s, trouble: { words: ways && !row ? "trouble.noway" : "trouble.wait" } });
      if (row.works === "no") return stay({ ...s, trouble: { words: "trouble.noway" } });
      const change = { do: "put" as const, items, label: env.say("did.feed", { name: env.drafts.get(s.of)?.name ?? "" }) };
      // Turned lanes feed nothing by themselves: the same field goes on to be fed.
      if (row.means.is === "course" && row.means.course === "opposed") return { state: { ...START, of: s.of, side: s.side, turned: true }, change, choose: env.chosen };
      return { state: START, change };
    }
    if (press.is === "back") return stay(START);
    if (press.is === "answer" && press.id === "way") return stay({ ...s, way: press.value, trouble: null });
    if (press.is === "answer" && press.id === "side") return stay({ ...s, side: press.value === "left" ? "left" : "right", trouble: null });
    if (press.is === "answer" && press.id === "enter") return stay({ ...s, enter: press.value as Enter });
    return stay(s);
  },
  // A field that is only chosen is no step.
  undo: () => null,
  sketch(s, env): Sketch {
    if (s.of === null) return { ...EMPTY, hint: "tool.feed.hint", trouble: s.trouble };
    const ways = told(s, env);
    const row = ways && chosen(s, ways);
    const asks: Ask[] = [{ is: "choice", id: "side", words: "tool.feed.side", value: s.side, choices: [{ value: "right", words: "side.right" }, { value: "left", words: "side.left" }] }];
    if (ways) asks.push({ is: "choice", id: "way", words: "tool.feed.way", told: true, value: row ? wayName(row) : "", choices: ways.ways.map(choice) });
    if (row && wayName(row) === "brick") asks.push({ is: "choice", id: "enter", words: "tool.feed.enter", value: s.enter, choices: (["middle", "right", "left"] as const).map((value) => ({ value, words: `enter.${value}` })) });
    const items = row && row.works !== "no" ? (fed(s, env) ?? []) : [];
    return { ...EMPTY, hint: !ways ? "trouble.wait" : s.turned ? "tool.feed.turned" : "tool.feed.next", items, asks, wants: [s.of], feeds: { field: s.of, side: s.side }, trouble: s.trouble, caution: "caution.feed" };
  },
};

/** How sure a way is, and how slow, in one line; figures come as such, to be written in the reader's language. */
function choice(row: FeedWayRow): Choice {
  const words = row.works === "no" ? "feedway.no" : row.slow ? "feedway.line" : "feedway.plain";
  return { value: wayName(row), words, values: { way: wayName(row), works: row.works, least: row.slow?.[0] ?? 0, most: row.slow?.[1] ?? 0, pieces: row.pieces }, more: { rows: row.said, english: row.why } };
}
