/** Lengths as people type and read them. The plan's unit is the millimetre. */
import { figure, GAP, type Language } from "./numbers";

export type System = "metric" | "imperial";

const MM: Record<string, number> = {
  mm: 1,
  cm: 10,
  m: 1000,
  km: 1_000_000,
  in: 25.4,
  '"': 25.4,
  "″": 25.4,
  ft: 304.8,
  "'": 304.8,
  "′": 304.8,
  yd: 914.4,
};

/** A sign; a fraction, alone or behind a whole figure, or a decimal figure; a unit. */
const TERM = /^([+-]?)\s*(?:(?:(\d+)\s+)?(\d+)\/(\d+)|(\d+(?:[.,]\d+)?|[.,]\d+))\s*(mm|cm|km|m|in|ft|yd|"|″|'|′)?\s*/;

/**
 * Reads "15", "2.4 m", "2,4m", "8ft 2in", `8' 2"`, "1/2in", `5 1/4"`, "3m+20cm". A figure without a unit is in `unit` millimetres.
 * Gives null for anything else.
 */
export function parseLength(text: string, unit = 1): number | null {
  let rest = text.replace(/[\u00a0\u202f]/g, " ").replace(/\u2212/g, "-").trim().toLowerCase();
  // Spaces between thousands: "7 390".
  rest = rest.replace(/(\d) (?=\d{3}(?!\d))/g, "$1");
  if (rest === "") return null;
  let sum = 0;
  while (rest !== "") {
    const term = TERM.exec(rest);
    if (!term) return null;
    const [, sign, whole, over, under, decimal, name] = term;
    // Nothing over nothing is no length, and ends as none below.
    const value = decimal === undefined ? Number(whole ?? 0) + Number(over) / Number(under) : Number(decimal.replace(",", "."));
    sum += (sign === "-" ? -1 : 1) * value * (name ? (MM[name] ?? 1) : unit);
    rest = rest.slice(term[0].length);
    // "2.4.1" and "5 2" say nothing clear.
    if (!name && rest !== "" && !/^[+-]/.test(rest)) return null;
  }
  return Number.isFinite(sum) ? sum : null;
}

/** Reads a plain number: "0.35", "0,35", "12 000". */
export function parseNumber(text: string): number | null {
  const clean = text.replace(/[\s\u00a0\u202f]/g, "").replace(",", ".").replace("\u2212", "-");
  if (!/^[+-]?(\d+\.?\d*|\.\d+)$/.test(clean)) return null;
  return Number(clean);
}

/** Up to `places` decimals, without noughts at the end. */
export function trimmed(value: number, places: number, language: Language): string {
  const text = figure(value, language, places);
  return places > 0 ? text.replace(/([.,]\d*?)0+$/, "$1").replace(/[.,]$/, "") : text;
}

/** Millimetres for reading: "15 mm", "2.40 m"; "0.59 in", "8 ft 2.5 in". */
export function length(mm: number, system: System, language: Language): string {
  if (system === "metric") {
    if (Math.abs(mm) < 1000) return trimmed(mm, 1, language) + GAP + "mm";
    return figure(mm / 1000, language, 2) + GAP + "m";
  }
  const inches = mm / 25.4;
  if (Math.abs(inches) < 12) return trimmed(inches, 2, language) + GAP + "in";
  const tenths = Math.round(inches * 10);
  const feet = Math.trunc(tenths / 120);
  const left = Math.abs(tenths - feet * 120) / 10;
  return `${figure(feet, language)}${GAP}ft` + (left ? `${GAP}${trimmed(left, 1, language)}${GAP}in` : "");
}

/**
 * Millimetres as they were measured, where a tenth of one counts: "15.25 mm", "12 345 mm"; "0.6 in", "0.012 in",
 * "40 ft 6 in". Never turned to metres, which would round it.
 */
export function exact(mm: number, system: System, language: Language): string {
  if (system === "metric") return trimmed(mm, 2, language) + GAP + "mm";
  return Math.abs(mm) < 25.4 ? trimmed(mm / 25.4, 3, language) + GAP + "in" : length(mm, system, language);
}

/**
 * What was taped in a hall, where a millimetre counts however long it is: "18 003 mm", "0.3 mm"; "59 ft 0.78 in",
 * "0.012 in". A hundredth of an inch is a quarter of a millimetre.
 */
export function taped(mm: number, system: System, language: Language): string {
  if (system === "metric") return trimmed(mm, 1, language) + GAP + "mm";
  const hundredths = Math.round((mm / 25.4) * 100);
  if (Math.abs(hundredths) < 1200) return exact(mm, system, language);
  const feet = Math.trunc(hundredths / 1200);
  const left = Math.abs(hundredths - feet * 1200) / 100;
  return `${figure(feet, language)}${GAP}ft` + (left ? `${GAP}${trimmed(left, 2, language)}${GAP}in` : "");
}

/** A long way in whole metres or feet: "1 200 m", "3 937 ft". */
export function way(mm: number, system: System, language: Language): string {
  return system === "metric" ? figure(mm / 1000, language) + GAP + "m" : figure(mm / 304.8, language) + GAP + "ft";
}

/** Width and height in one: "4.32 × 2.60 m". */
export function size(ends: readonly [number, number], system: System, language: Language): string {
  if (system === "metric" && ends[0] >= 1000 && ends[1] >= 1000) {
    return `${figure(ends[0] / 1000, language, 2)} × ${figure(ends[1] / 1000, language, 2)}${GAP}m`;
  }
  return `${length(ends[0], system, language)} × ${length(ends[1], system, language)}`;
}
