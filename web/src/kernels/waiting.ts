/** What changes leave of items while the plan does not tell of it yet: kept in this browser, or under way. Pure. */
import type { BodyDraft } from "../api/generated/BodyDraft";
import type { Change } from "../api/generated/Change";
import type { ItemDraft } from "../api/generated/ItemDraft";
import type { ItemRow } from "../api/generated/ItemRow";
import type { LinkDraft } from "../api/generated/LinkDraft";
import { along } from "./paths";
import { around, taken, type Pair } from "./floor";
import { off, round, toHall, turn } from "./frames";
import { corners } from "./pick";

/** One item as a change leaves it. */
export interface Left {
  /** Below 0 for a new one: a number of this page's own, until the plan gives it one. */
  id: number;
  name: string;
  /** The item as the plan would tell of it; null when it is gone. */
  row: ItemRow | null;
  /** The item, whole, where the change says it whole. */
  draft: ItemDraft | null;
  /** Its outline on the floor plan, mm; empty when it is gone. */
  strokes: readonly { points: readonly Pair[]; closed: boolean }[];
}

/** For so many changes the server knows under which keys they were made. */
export const KNOWN = 4096;
/** Half the side of what is shown of an item that takes no floor, mm. */
const SMALL = 60;
/** Half the width of a usual piece, mm. */
const HALF = 12;
/** A path is shown by points so far apart, mm. */
const STEP = 40;

const rect = (d: ItemDraft, x0: number, y0: number, x1: number, y1: number): Pair[] =>
  ([[x0, y0], [x1, y0], [x1, y1], [x0, y1]] as const).map((p) => toHall(d, p));

/** The outline of an item that nobody has laid out yet. */
export function strokesOf(d: ItemDraft): Left["strokes"] {
  const { body } = d;
  switch (body.is) {
    case "field":
      return [{ points: rect(d, -body.pitch_along / 2, -body.pitch_across / 2, (body.ranks - 0.5) * body.pitch_along, (body.lanes - 0.5) * body.pitch_across), closed: true }];
    case "line":
      return [{ points: along(d, body.path, STEP), closed: false }];
    case "fill":
      return [{ points: body.outline.map((p) => toHall(d, p)), closed: true }];
    case "placeholder":
      return [{ points: rect(d, 0, 0, body.length, body.width), closed: true }];
    case "dimension":
      return [{ points: [[d.x, d.y], toHall(d, body.to)], closed: false }];
    default:
      return [{ points: rect(d, -SMALL, -SMALL, SMALL, SMALL), closed: true }];
  }
}

const outlineOf = (strokes: Left["strokes"]): [number, number][] => {
  const box = around(strokes.flatMap((s) => s.points));
  if (!box) return [];
  // A stroke has no width of its own; what stands along it has.
  const more = strokes.some((s) => !s.closed) ? HALF : 0;
  return corners({ x0: box.x0 - more, y0: box.y0 - more, x1: box.x1 + more, y1: box.y1 + more }).map(([x, y]) => [x, y]);
};

/** What this page can tell of a new item that no plan has laid out yet. */
function fresh(d: ItemDraft, id: number): ItemRow {
  const { name, surface, x, y, heading, locked, group, body } = d;
  const sign = body.is === "note" || body.is === "dimension" || body.is === "camera";
  const small = body.is === "start" || body.is === "stopper" || body.is === "feed";
  return {
    id, name, section: "", surface, locked, group, pieces: 0, x, y, heading, hours: [0, 0], sort: body.is, outline: sign || small ? [] : outlineOf(strokesOf(d)),
    pitch: [0, 0], ports: [], gaps: [], body: sign ? body : { is: "plain" },
  };
}

/** What the plan would tell of an item that is put whole. */
function put(d: ItemDraft, was: ItemRow): ItemRow {
  const { name, x, y, heading, surface, locked, group, body } = d;
  const told = { ...was, name, x, y, heading, surface, locked, group };
  const outline = was.outline.length ? outlineOf(strokesOf(d)) : [];
  if (body.is === "note" || body.is === "dimension" || body.is === "camera") return { ...told, body };
  // Where the fall enters and leaves is known again when the plan tells.
  if (body.is === "field" && was.body.is === "field") {
    const { lanes, ranks, pitch_along, pitch_across, stagger, fall } = body;
    return { ...told, outline, ports: [], body: { ...was.body, lanes, ranks, pitch_along, pitch_across, stagger, fall } };
  }
  return body.is === "start" || body.is === "stopper" || body.is === "feed" ? moved(was, told) : { ...told, outline, ports: [] };
}

/** An item at another place, with what belongs to it. */
function moved(was: ItemRow, to: Pick<ItemRow, "x" | "y" | "heading">): ItemRow {
  const by = to.heading - was.heading;
  const go = (p: Pair): [number, number] => off([to.x, to.y], by, p[0] - was.x, p[1] - was.y);
  return { ...was, ...to, outline: was.outline.map(go), ports: was.ports.map((p) => ({ ...p, at: go(p.at), heading: turn(p.heading + by) })) };
}

const strokesAt = (row: ItemRow): Left["strokes"] => {
  const [first, ...more] = taken(row);
  return [{ points: more.length ? [first!, ...more] : corners({ x0: row.x - SMALL, y0: row.y - SMALL, x1: row.x + SMALL, y1: row.y + SMALL }), closed: true }];
};

/** What a change leaves of the items of a plan, as far as the change itself says it. `number` gives each new item one that no other has, below 0. */
export function left(change: Change, rows: ReadonlyMap<number, ItemRow>, number: () => number): Left[] {
  const each = (ids: readonly number[], as: (row: ItemRow) => ItemRow | null, shown = true): Left[] =>
    ids.flatMap((id) => {
      const was = rows.get(id);
      if (!was) return [];
      const row = as(was);
      return [{ id, name: was.name, row, draft: null, strokes: row && shown ? strokesAt(row) : [] }];
    });
  switch (change.do) {
    case "put":
      return change.items.flatMap((d): Left[] => {
        if (d.id === null) {
          const id = number();
          return [{ id, name: d.name, row: fresh(d, id), draft: { ...d, id }, strokes: strokesOf(d) }];
        }
        const was = rows.get(d.id);
        return was ? [{ id: d.id, name: d.name, row: put(d, was), draft: d, strokes: strokesOf(d) }] : [];
      });
    case "take":
      return each(change.items, () => null);
    case "remove":
      return each([change.item], () => null);
    case "place":
      return each([change.item], (was) => ({ ...moved(was, { x: change.x, y: change.y, heading: change.heading }), name: change.name }));
    case "arrange": {
      const { how } = change;
      if (how.is === "move") return each(change.items, (was) => moved(was, { x: round(was.x + how.by[0]), y: round(was.y + how.by[1]), heading: was.heading }));
      if (how.is === "turn")
        return each(change.items, (was) => {
          const [x, y] = off(how.about, how.by, was.x - how.about[0], was.y - how.about[1]);
          return moved(was, { x: round(x), y: round(y), heading: turn(was.heading + how.by) });
        });
      if (how.is === "lock" || how.is === "unlock") return each(change.items, (was) => ({ ...was, locked: how.is === "lock" }), false);
      return [];
    }
    default:
      return [];
  }
}

/** Of each item what the last change leaves of it. */
export const last = (all: readonly Left[]): Left[] => [...new Map(all.map((one) => [one.id, one])).values()];

/** The items of a plan with what changes leave of them; new ones come last. */
export function withLeft(rows: readonly ItemRow[], all: readonly Left[]): ItemRow[] {
  const known = new Map(all.map((one) => [one.id, one]));
  const told = rows.flatMap((row) => {
    const one = known.get(row.id);
    return one ? (one.row ?? []) : row;
  });
  return [...told, ...all.flatMap((one) => (one.id < 0 && one.row ? [one.row] : []))];
}

/** Items of a plan that changes take away, put elsewhere or make anew: no piece of theirs stands where the plan tells of it. */
export function elsewhere(rows: readonly ItemRow[], all: readonly Left[]): Set<number> {
  const known = new Map(rows.map((row) => [row.id, row]));
  return new Set(
    last(all).flatMap(({ id, row, draft }) => {
      const was = known.get(id);
      return was && (!row || draft || row.x !== was.x || row.y !== was.y || row.heading !== was.heading) ? [id] : [];
    }),
  );
}

/** A change with the ids of items in it renamed. */
function named(change: Change, id: (id: number) => number): Change {
  const link = (to: LinkDraft | null): LinkDraft | null => (to && !to.sent ? { ...to, item: id(to.item) } : to);
  const body = (b: BodyDraft): BodyDraft => (b.is === "line" ? { ...b, from: link(b.from), to: link(b.to) } : b.is === "feed" ? { ...b, of: id(b.of) } : b);
  if (change.do === "put")
    return { ...change, items: change.items.map((d) => ({ ...d, id: d.id === null ? null : id(d.id), cells_from: d.cells_from === null ? null : id(d.cells_from), body: body(d.body) })) };
  if (change.do === "take" || change.do === "arrange") return { ...change, items: change.items.map(id) };
  return "item" in change ? { ...change, item: id(change.item) } : change;
}

/** A change with the ids that the plan gave in place of those of this page; the same one when it names none of them. */
export function withIds(change: Change, given: ReadonlyMap<number, number>): Change {
  if (!given.size) return change;
  let any = false;
  const renamed = named(change, (id) => {
    const now = given.get(id);
    any ||= now !== undefined;
    return now ?? id;
  });
  return any ? renamed : change;
}

/** What a change leaves, with the ids that the plan gave; the same when it leaves none of them. */
export function leftWithIds(all: readonly Left[], given: ReadonlyMap<number, number>): readonly Left[] {
  if (!all.some((one) => given.has(one.id))) return all;
  return all.map((one) => {
    const id = given.get(one.id);
    return id === undefined ? one : { ...one, id, row: one.row && { ...one.row, id }, draft: one.draft && { ...one.draft, id } };
  });
}

/** True for a change of an item that the plan does not have: it was refused, or never came through. */
export function orphan(change: Change): boolean {
  let found = false;
  named(change, (id) => {
    found ||= id < 0;
    return id;
  });
  return found;
}

/** An item, whole, as changes leave it; undefined when it is gone, or when nobody told of it. */
export function draftLeft(id: number, told: ItemDraft | undefined, all: readonly Left[]): ItemDraft | undefined {
  let now = told;
  for (const one of all) {
    if (one.id !== id) continue;
    if (one.draft) now = one.draft;
    else if (!one.row) now = undefined;
    else if (now) {
      const { name, x, y, heading, locked, group } = one.row;
      now = { ...now, name, x, y, heading, locked, group };
    }
  }
  return now;
}
