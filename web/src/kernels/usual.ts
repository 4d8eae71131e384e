/** A stock list to begin with: one usual kind of piece in ten plain colours. */
import type { Language } from "./numbers";

/**
 * Codes are letters that nobody takes for a figure on paper (no I, O, Q, Z; no B, G, S either), and no two that sound
 * alike when they are called. Colours are our own choice of plain, well separated ones; no source.
 */
const COLOURS: readonly (readonly [code: string, hex: string, names: Readonly<Record<Language, string>>])[] = [
  ["W", "#f2f0e8", { en: "White", de: "Weiß" }],
  ["K", "#22231f", { en: "Black", de: "Schwarz" }],
  ["R", "#c2342b", { en: "Red", de: "Rot" }],
  ["Y", "#f0c530", { en: "Yellow", de: "Gelb" }],
  ["A", "#e08a2c", { en: "Amber", de: "Bernstein" }],
  ["L", "#4f9a43", { en: "Leaf", de: "Laub" }],
  ["T", "#1f8f8a", { en: "Teal", de: "Petrol" }],
  ["N", "#27427f", { en: "Navy", de: "Marine" }],
  ["V", "#7a4fa3", { en: "Violet", de: "Violett" }],
  ["P", "#e59ab5", { en: "Pink", de: "Rosa" }],
];

/** As a list that the stock takes; `each` pieces of every colour. */
export const usualStock = (language: Language, each: number): string =>
  ["name,code,hex,count", ...COLOURS.map(([code, hex, names]) => `${names[language]},${code},${hex},${Math.max(0, Math.round(each))}`)].join("\n") + "\n";
