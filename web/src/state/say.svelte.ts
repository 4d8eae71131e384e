/** Words and figures in the language and units of this browser; read in markup they follow every switch. */
import { fill, WORDS, type Key, type Values } from "../i18n";
import { port, said, sentences } from "../i18n/said";
import { brief, IN_WORDS } from "../kernels/brief";
import * as numbers from "../kernels/numbers";
import * as units from "../kernels/units";
import { Refusal } from "../api/client";
import type { SaidRow } from "../api/generated/SaidRow";
import type { Trouble } from "../api/generated/Trouble";
import type { Told } from "../tools/tool";
import { prefs } from "./prefs.svelte";

export const t = (key: Key, values?: Values): string => fill(WORDS[prefs.language][key], values);
/** One of two keys by number: `key.one` for exactly one, else `key.many`; `{n}` is the figure. */
export const tn = (base: string, n: number, values: Values = {}): string =>
  t(`${base}.${n === 1 ? "one" : "many"}` as Key, { n: num(n), ...values });
/** Names one after the other; of many the first three, and how many more there are. */
export function listed(names: readonly string[]): string {
  const first = names.slice(0, 3).map((name) => brief(name, IN_WORDS)).join(", ");
  return names.length > 3 ? t("did.more", { names: first, n: num(names.length - 3) }) : first;
}
export const num = (value: number, places = 0): string => numbers.figure(value, prefs.language, places);
export const range = (ends: readonly [number, number], places = 0): string => numbers.range(ends, prefs.language, places);
/** "31 to 47", with a decimal below ten unless `places` says how many; one figure when both ends round to the same. */
export function between([least, most]: readonly [number, number], places?: number): string {
  const [low, high] = [least, most].map((v) => num(v, places ?? (v < 10 ? 1 : 0)));
  return low === high ? low! : t("many.range", { low: low!, high: high! });
}
/** "1:05.3" from seconds. */
export const clock = (seconds: number): string => numbers.clock(seconds, prefs.language);
/** The same of a time that was worked out, to the nearest tenth. */
export const reckoned = (seconds: number): string => numbers.reckoned(seconds, prefs.language);
/** Two of them; one where both are the same. */
export const clocks = (ends: readonly [number, number]): string => numbers.clocks(ends, prefs.language);
export const hours = (ends: readonly [number, number]): string => numbers.hours(ends, prefs.language);
export const bytes = (n: number): string => numbers.bytes(n, prefs.language);
export const mass = (kilograms: number): string => numbers.mass(kilograms, prefs.language);
export const percent = (share: number, places = 0): string => numbers.percent(share, prefs.language, places);
export const change = (value: number, places = 0): string => numbers.change(value, prefs.language, places);
export const len = (mm: number): string => units.length(mm, prefs.system, prefs.language);
/** A length that was taped, to the millimetre. */
export const tapedLen = (mm: number): string => units.taped(mm, prefs.system, prefs.language);
export const dims = (ends: readonly [number, number]): string => units.size(ends, prefs.system, prefs.language);
/** What a tool tells, with its figures. */
export const toldWords = (told: Told): string => {
  if (!told) return "";
  const say = (of: Readonly<Record<string, number>> | undefined, as: (n: number) => string) => Object.fromEntries(Object.entries(of ?? {}).map(([k, n]) => [k, as(n)]));
  return t(told.words, { ...told.values, ...say(told.lengths, len), ...say(told.counts, num) });
};
/** A port as the plan names it, in the reader's words where it is one of those that every item of its sort has. */
export const portName = (name: string): string => port(name, prefs.language);
/** What the engine says; its own English where this page does not know the words, and what somebody wrote as it is. */
export const tell = (row: SaidRow | null, english: string): string => (row && said(row, prefs)) ?? english;
/** Why something was not done, as the server says it. */
export const told = (trouble: Trouble): string => tell(trouble.said, trouble.message);
/** The same of whatever was thrown. */
export const why = (error: unknown): string =>
  error instanceof Refusal ? told(error.trouble) : error instanceof Error ? error.message : String(error);
export const tellAll = (rows: readonly SaidRow[], english: string): string => sentences(rows, prefs) ?? english;
