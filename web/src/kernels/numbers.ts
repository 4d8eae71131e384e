/** Figures as people read them: thousands apart by a thin space that does not break, decimals by language. */

/** Narrow space that does not break: keeps "118 640" on one line. */
export const THIN = "\u202f";
/** Space between a figure and its unit; does not break either. */
export const GAP = "\u00a0";

/** Forbids a break where a dash would allow one. */
const JOIN = "\u2060";

export type Language = "en" | "de";

/** A whole number or one with `places` decimals: "118 640", "2.5" (en), "2,5" (de). */
export function figure(value: number, language: Language, places = 0): string {
  const fixed = Math.abs(value).toFixed(places);
  const [whole = "0", rest] = fixed.split(".");
  const grouped = whole.replace(/\B(?=(\d{3})+$)/g, THIN);
  const sign = value < 0 && Number(fixed) !== 0 ? "\u2212" : "";
  return sign + grouped + (rest ? (language === "de" ? "," : ".") + rest : "");
}

/** A range: "31 – 47"; one figure when both ends round to the same. */
export function range(ends: readonly [number, number], language: Language, places = 0): string {
  const low = figure(ends[0], language, places);
  const high = figure(ends[1], language, places);
  return low === high ? low : `${low}${GAP}–${JOIN}${GAP}${high}`;
}

/** "1:05.3" (en), "1:05,3" (de) from seconds. */
export function clock(seconds: number, language: Language): string {
  const tenths = Math.max(0, Math.floor(seconds * 10 + 1e-6));
  const [m, s] = [Math.floor(tenths / 600), (tenths % 600) / 10];
  return `${m}:${figure(s, language, 1).padStart(4, "0")}`;
}

/** The same to the nearest tenth, for times that were worked out: the clock shows the tenths that have passed. */
export const reckoned = (seconds: number, language: Language): string => clock(Math.round(seconds * 10) / 10, language);

/** "0:31.0 – 0:47.5" of times that were worked out; one where both ends show the same. */
export function clocks(ends: readonly [number, number], language: Language): string {
  const [low, high] = [reckoned(ends[0], language), reckoned(ends[1], language)];
  return low === high ? low : `${low}${GAP}–${JOIN}${GAP}${high}`;
}

/** Hours: whole from ten on, else one decimal. */
export function hours(ends: readonly [number, number], language: Language): string {
  return range(ends, language, ends[1] > 0 && ends[1] < 10 ? 1 : 0);
}

/** Mass in kilograms: "8.4 kg", "840 kg", "1.01 t". */
export function mass(kilograms: number, language: Language): string {
  if (kilograms >= 1000) return figure(kilograms / 1000, language, 2) + GAP + "t";
  return figure(kilograms, language, kilograms > 0 && kilograms < 10 ? 1 : 0) + GAP + "kg";
}

/** A share of one as per cent. */
export function percent(share: number, language: Language, places = 0): string {
  return figure(share * 100, language, places) + GAP + "%";
}

/** With its sign, for changes: "+0.6", "−9". */
export function change(value: number, language: Language, places = 0): string {
  const text = figure(value, language, places);
  return Number(value.toFixed(places)) > 0 ? "+" + text : text;
}

/** "3.1 MB", "812 kB": thousands of bytes, as disks count. */
export function bytes(n: number, language: Language): string {
  const [of, unit] = n < 1e6 ? [1e3, "kB"] : [1e6, "MB"];
  return `${figure(n / of, language, n / of < 10 ? 1 : 0)}\u00a0${unit}`;
}
