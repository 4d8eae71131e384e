/** Addresses of the pages. */
import type { ReadUnit } from "../api/generated/ReadUnit";
import { GEAR, type GearIs } from "./gear";
import { isFigure, isTopic, type FigureId, type Topic } from "./help";

/** How a field is read: as drawn or mirrored, from which side of the hall the builder sits, by lane or by rank. */
export interface Reading {
  side: "drawn" | "mirrored";
  from: "north" | "east" | "south" | "west";
  unit: ReadUnit;
}

/** The gear of the stock: one thing of it, or a form for a new one, a comb for a pitch in mm. */
export interface GearRoute {
  id: number | null;
  add: GearIs | null;
  pitch: number | null;
}

export type Route =
  | { view: "picture"; item: number | null }
  | { view: "plan"; at: readonly [number, number] | null; finding: number | null }
  | { view: "fall" }
  | { view: "stock"; colour: number | null; gear: GearRoute | null }
  | { view: "sheets" }
  | { view: "history" }
  | { view: "help"; topic: Topic; at: FigureId | null }
  | { view: "read-choose" }
  | ({ view: "read"; item: number; unitNumber: number; call: number } & Reading)
  | { view: "join" };

export const AS_DRAWN: Reading = { side: "drawn", from: "south", unit: "lane" };

const oneOf = <T extends string>(value: string | null, all: readonly T[], usual: T): T =>
  all.find((v) => v === value) ?? usual;

/** Reads `side`, `from` and `unit` from a query. */
export function readingOf(query: URLSearchParams): Reading {
  return {
    side: oneOf(query.get("side"), ["drawn", "mirrored"], AS_DRAWN.side),
    from: oneOf(query.get("from"), ["north", "east", "south", "west"], AS_DRAWN.from),
    unit: oneOf(query.get("unit"), ["lane", "rank"], AS_DRAWN.unit),
  };
}

/** The query that `readingOf` reads. */
export function readingQuery(r: Reading): string {
  return new URLSearchParams({ side: r.side, from: r.from, unit: r.unit }).toString();
}

function gearOf(q: URLSearchParams): GearRoute {
  const [id, pitch] = [q.get("gear") ?? "", q.get("pitch") ?? ""];
  return { id: /^\d{1,10}$/.test(id) ? Number(id) : null, add: GEAR.find((is) => is === q.get("add")) ?? null, pitch: /^\d{1,4}(\.\d{1,3})?$/.test(pitch) ? Number(pitch) : null };
}

/** The page at an address; the picture when it is not known. */
export function parseRoute(path: string, query: string): Route {
  const parts = path.split("/").filter(Boolean);
  const number = (i: number) => (/^\d{1,9}$/.test(parts[i] ?? "") ? Number(parts[i]) : null);
  const q = new URLSearchParams(query);
  if (parts[0] === "stock") {
    const colour = q.get("colour") ?? "";
    return { view: "stock", colour: /^\d{1,5}$/.test(colour) ? Number(colour) : null, gear: q.get("part") === "gear" ? gearOf(q) : null };
  }
  if (parts[0] === "plan") {
    const at = /^(-?\d{1,9}),(-?\d{1,9})$/.exec(q.get("at") ?? "");
    const finding = q.get("finding") ?? "";
    return { view: "plan", at: at ? [Number(at[1]), Number(at[2])] : null, finding: /^\d{1,6}$/.test(finding) ? Number(finding) : null };
  }
  if (parts[0] === "fall") return { view: "fall" };
  if (parts[0] === "sheets") return { view: "sheets" };
  if (parts[0] === "history") return { view: "history" };
  if (parts[0] === "help") {
    const at = q.get("at");
    return { view: "help", topic: isTopic(parts[1]) ? parts[1] : "first", at: isFigure(at) ? at : null };
  }
  if (parts[0] === "join") return { view: "join" };
  if (parts[0] === "read") {
    const item = number(1);
    if (item === null) return { view: "read-choose" };
    const call = Math.max(0, Number(q.get("call") ?? 1) - 1 || 0);
    return { view: "read", item, unitNumber: Math.max(1, number(2) ?? 1), call, ...readingOf(q) };
  }
  return { view: "picture", item: parts[0] === "picture" ? number(1) : null };
}

/** The address of a lane, and of a call in it (from 0). */
export function readAddress(item: number, unitNumber: number, call: number, r: Reading): string {
  return `/read/${item}/${unitNumber}?${readingQuery(r)}${call > 0 ? `&call=${call + 1}` : ""}`;
}
