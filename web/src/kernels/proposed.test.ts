import { describe, expect, it } from "vitest";
import type { ItemDraft } from "../api/generated/ItemDraft";
import { isSet, taken, withProposals } from "./proposed";

const item = (id: number, gaps: ItemDraft["gaps"]) => ({ id, gaps }) as ItemDraft;
const gap = (first: number, count: number, stopper = false) => ({ first, count, stopper });

describe("proposed gaps", () => {
  it("are known as set by their ranks, and as in the way of another gap where they meet", () => {
    const gaps = [gap(10, 3), gap(40, 2, true)];
    expect([gap(10, 3), gap(40, 2), gap(10, 2), gap(13, 3)].map((p) => isSet(gaps, p))).toEqual([true, true, false, false]);
    expect([gap(10, 3), gap(12, 3), gap(8, 3), gap(7, 3), gap(13, 3)].map((p) => taken(gaps, p))).toEqual([false, true, true, false, false]);
  });
  it("come into their items in order of rank, beside those that are there, and into no others", () => {
    const drafts = [item(1, [gap(20, 3)]), item(2, []), item(3, [gap(5, 3)])];
    const proposals = [{ item: 1, ...gap(50, 3) }, { item: 1, ...gap(4, 2, true) }, { item: 1, ...gap(21, 3) }, { item: 3, ...gap(5, 3) }, { item: 9, ...gap(1, 1) }];
    const made = withProposals(drafts, proposals);
    expect(made.map((d) => [d.id, d.gaps])).toEqual([[1, [gap(4, 2, true), gap(20, 3), gap(50, 3)]]]);
    expect(drafts[0]!.gaps).toEqual([gap(20, 3)]);
  });
});
