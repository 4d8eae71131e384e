/** Safety gaps that are proposed: which of them an item has already, and how it looks with them. */
import type { ItemDraft } from "../api/generated/ItemDraft";

/** A run of ranks of an item, from 0. */
export interface Ranks {
  first: number;
  count: number;
}
export interface Proposal extends Ranks {
  item: number;
  stopper: boolean;
}

const end = (r: Ranks): number => r.first + r.count;
export const isSet = (gaps: readonly Ranks[], p: Ranks): boolean => gaps.some((g) => g.first === p.first && g.count === p.count);
/** Another gap lies where this one would. */
export const taken = (gaps: readonly Ranks[], p: Ranks): boolean => !isSet(gaps, p) && gaps.some((g) => g.first < end(p) && p.first < end(g));
export const toSet = <P extends Ranks>(gaps: readonly Ranks[], proposals: readonly P[]): P[] => proposals.filter((p) => !isSet(gaps, p) && !taken(gaps, p));

/** Items with those of the gaps that are theirs and can be set, in order of rank; items that stay as they are are left out. */
export function withProposals(drafts: readonly ItemDraft[], proposals: readonly Proposal[]): ItemDraft[] {
  return drafts.flatMap((draft) => {
    const mine = toSet(draft.gaps, proposals.filter((p) => p.item === draft.id));
    if (mine.length === 0) return [];
    const gaps = [...draft.gaps, ...mine.map(({ first, count, stopper }) => ({ first, count, stopper }))].sort((a, b) => a.first - b.first);
    return [{ ...draft, gaps }];
  });
}
