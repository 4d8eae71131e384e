/** The query that asks for lane sheets. */
import type { Reading } from "./route";
import type { Language } from "./numbers";

export interface SheetWish extends Reading {
  /** Chosen fields; null for all. */
  fields: number[] | null;
  lang: Language;
  paper: "a4" | "a3" | "letter";
  grey: boolean;
  /** How far a builder reaches across the lanes, mm. */
  reach: number;
}

export function sheetsQuery(wish: SheetWish, fields: readonly number[]): string {
  const pairs = [
    ["fields", fields.join(",")],
    ["lang", wish.lang],
    ["side", wish.side],
    ["from", wish.from],
    ["unit", wish.unit],
    ["paper", wish.paper],
    ["grey", wish.grey ? "1" : "0"],
    ["reach", String(Math.round(wish.reach))],
  ];
  return pairs.map(([key, value]) => `${key}=${value}`).join("&");
}
