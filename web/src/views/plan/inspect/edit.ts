/** What the forms of the inspector work on: one item or several alike, and the one way to change them. */
import type { BodyDraft } from "../../../api/generated/BodyDraft";
import type { ItemDraft } from "../../../api/generated/ItemDraft";
import type { Key } from "../../../i18n";
import { different, shareUnit, together } from "../../../kernels/mixed";
import { num, len, t } from "../../../state/say.svelte";
import type { Of } from "../../../tools/drafts";

export type Change = (draft: ItemDraft) => ItemDraft;
export interface Edit {
  drafts: readonly ItemDraft[];
  /** False where nothing may be changed. */
  can: boolean;
  /** Changes all of them in one step that is named after the field; gives why not, or null. */
  set: (change: Change, words: Key) => Promise<string | null>;
}

/** The body of an item, when it is of that sort. */
export function body<B extends BodyDraft["is"]>(draft: ItemDraft | undefined, is: B): Of<B> | undefined {
  return draft?.body.is === is ? (draft.body as Of<B>) : undefined;
}

/** Changes the body of items of that sort and leaves others alone. */
export const alter = <B extends BodyDraft["is"]>(is: B, change: (body: Of<B>) => Partial<Omit<Of<B>, "is">>): Change => (draft) => {
  const now = body(draft, is);
  return now ? { ...draft, body: { ...now, ...change(now) } as BodyDraft } : draft;
};

/** A list with one of its places changed. */
export const at = <T>(list: readonly T[], i: number, change: Partial<T>): T[] => list.map((one, j) => (i === j ? { ...one, ...change } : one));
/** Two figures as a pair, and not as any list. */
export const pair = (a: number, b: number): [number, number] => [a, b];
export const without = <T>(list: readonly T[], i: number): T[] => list.filter((_, j) => j !== i);

export const shownAs = (kind: "length" | "count" | "degrees", value: number, places: number): string =>
  kind === "length" ? len(value) : kind === "degrees" ? `${num(value, Number.isInteger(value) ? 0 : 1)}°` : num(value, Number.isInteger(value) ? 0 : places);

/** What several values are in words, "25 and 27 mm"; null when all are the same. */
export function mixedWords(values: readonly (number | undefined)[], kind: "length" | "count" | "degrees", places: number): string | null {
  const all = together(values);
  const as = (v: number) => shownAs(kind, v, places);
  if (all.is === "range") {
    const [low, high] = shareUnit([as(all.low), as(all.high)]);
    return t("many.range", { low: low!, high: high! });
  }
  if (all.is !== "some") return null;
  const words = shareUnit(all.values.map(as));
  return t("many.and", { a: words.slice(0, -1).join(", "), b: words[words.length - 1]! });
}

export const choicesOf = <T>(values: readonly (T | undefined)[]): T[] => different(values);
