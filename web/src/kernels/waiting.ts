/** What changes leave of items while the plan does not tell of it yet: kept in this browser, or under way. Pure. */
import type { Change } from "../api/generated/Change";
import type { ItemDraft } from "../api/generated/ItemDraft";
import type { ItemRow } from "../api/generated/ItemRow";
import { along } from "./paths";
import { around, taken, type Pair } from "./floor";
import { off, round, toHall, turn } from "./frames";
import { corners } from "./pick";

/** One item as a change leaves it. */
export interface Left {
  /** Null for a new one. */
  id: number | null;
  name: string;
  /** The item as the plan would tell of it; null when it is gone, and for a new one. */
  row: ItemRow | null;
  /** The item, whole, where the change says it whole. */
  draft: ItemDraft | null;
  /** Its outline on the floor plan, mm; empty when it is gone. */
  strokes: readonly { points: readonly Pair[]; closed: boolean }[];
}

/** Half the side of what is shown of an item that takes no floor, mm. */
const SMALL = 60;
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
  return box ? corners(box).map(([x, y]) => [x, y]) : [];
};

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

/** What a change leaves of the items of a plan, as far as the change itself says it. */
export function left(change: Change, rows: ReadonlyMap<number, ItemRow>): Left[] {
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
        const was = d.id === null ? null : (rows.get(d.id) ?? null);
        if (d.id !== null && !was) return [];
        return [{ id: d.id, name: d.name, row: was && put(d, was), draft: d, strokes: strokesOf(d) }];
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

/** Of each item what the last change leaves of it; new items all. */
export function last(all: readonly Left[]): Left[] {
  const known = new Map<number, Left>();
  for (const one of all) if (one.id !== null) known.set(one.id, one);
  return [...all.filter((one) => one.id === null), ...known.values()];
}

/** The items of a plan with what changes leave of them. */
export function withLeft(rows: readonly ItemRow[], all: readonly Left[]): ItemRow[] {
  const known = new Map(all.map((one) => [one.id, one]));
  return rows.flatMap((row) => {
    const one = known.get(row.id);
    return one ? (one.row ?? []) : row;
  });
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
