/** The words of the page: one file per language, every key in both, checked by a test. */
import de from "./de.json";
import en from "./en.json";
import type { Language } from "../kernels/numbers";

export type { Language };
export type Key = keyof typeof en;
export type Values = Record<string, string | number>;

export const WORDS: Record<Language, Record<Key, string>> = { en, de };

/** Sets what is between braces: "{n} lanes" with n = 3 gives "3 lanes". */
export function fill(text: string, values: Values = {}): string {
  return text.replace(/\{(\w+)\}/g, (whole, name: string) => (name in values ? String(values[name]) : whole));
}

