/** Times of steps, as short as they can be. */
import type { Language } from "./numbers";

/** `14:03` of today, `28 Nov, 14:03` before, with the year when it is another; empty for what is no time. */
export function when(utc: string, now: Date, language: Language, zone?: string): string {
  const at = new Date(utc);
  if (utc === "" || Number.isNaN(at.getTime())) return "";
  const locale = language === "de" ? "de-DE" : "en-GB";
  const show = (options: Intl.DateTimeFormatOptions, of = at) => new Intl.DateTimeFormat(locale, { ...options, ...(zone ? { timeZone: zone } : {}) }).format(of);
  const day: Intl.DateTimeFormatOptions = { year: "numeric", month: "short", day: "numeric" };
  const time: Intl.DateTimeFormatOptions = { hour: "2-digit", minute: "2-digit", hourCycle: "h23" };
  if (show(day) === show(day, now)) return show(time);
  const sameYear = show({ year: "numeric" }) === show({ year: "numeric" }, now);
  return show(sameYear ? { month: "short", day: "numeric", ...time } : { ...day, ...time });
}

/** Who took a step, from the journal's "planner" and "planner at 192.168.1.7"; null for another name. */
export function planner(who: string): { address: string } | null {
  const found = /^planner(?: at (\S+))?$/.exec(who);
  return found ? { address: found[1] ?? "" } : null;
}

/** Ages of steps, in days. */
const DAYS = { day: 1, week: 7, month: 30, all: 0 } as const;
export type Age = keyof typeof DAYS;
export const AGES = Object.keys(DAYS) as Age[];

/** The time before which steps are of an age; a minute ahead for all, whatever two clocks say. */
export const since = (age: Age, now: Date): Date => new Date(now.getTime() - DAYS[age] * 86_400_000 + (age === "all" ? 60_000 : 0));
