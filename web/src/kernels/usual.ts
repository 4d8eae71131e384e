/** A stock list to begin with: one usual kind of piece in ten plain colours. */
import type { Language } from "./numbers";

/**
 * Codes are letters that nobody takes for a figure on paper (no I, O, Q, Z; no B, G, S either), and no two that sound
 * alike when they are called. Colours are our own choice of plain ones; no two get confused, also not in hall light
 * or by builders who do not see all colours, as a test of the engine says.
 */
const COLOURS: readonly (readonly [code: string, hex: string, names: Readonly<Record<Language, string>>])[] = [
  ["W", "#f2f0e8", { en: "White", de: "Weiß" }],
  ["K", "#251c17", { en: "Black", de: "Schwarz" }],
  ["R", "#c23830", { en: "Red", de: "Rot" }],
  ["Y", "#facf25", { en: "Yellow", de: "Gelb" }],
  ["A", "#ea8d24", { en: "Amber", de: "Bernstein" }],
  ["L", "#668056", { en: "Leaf", de: "Laub" }],
  ["T", "#3f848e", { en: "Teal", de: "Petrol" }],
  ["N", "#153f74", { en: "Navy", de: "Marine" }],
  ["V", "#7a4fa3", { en: "Violet", de: "Violett" }],
  ["P", "#e59ab5", { en: "Pink", de: "Rosa" }],
];

/** As a list that the stock takes; `each` pieces of every colour. */
export const usualStock = (language: Language, each: number): string =>
  ["name,code,hex,count", ...COLOURS.map(([code, hex, names]) => `${names[language]},${code},${hex},${Math.max(0, Math.round(each))}`)].join("\n") + "\n";
