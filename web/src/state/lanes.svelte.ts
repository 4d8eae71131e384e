/** Lanes to read, fetched ahead so that a lost connection does not stop a builder. */
import { getReadLane, getReadPlan, Refusal } from "../api/client";
import type { ReadLane } from "../api/generated/ReadLane";
import type { ReadPlan } from "../api/generated/ReadPlan";
import { readingQuery, type Reading } from "../kernels/route";
import { sameCalls } from "../kernels/reading";
import { why } from "./say.svelte";

/** So many lanes are fetched ahead. */
const AHEAD = 12;

/** One field read in one way. */
export class Lanes {
  plan = $state.raw<ReadPlan | null>(null);
  trouble = $state<string | null>(null);
  /** Numbers of lanes that differ from what was shown before. */
  changed = $state.raw<ReadonlySet<number>>(new Set());
  private held = $state.raw<ReadonlyMap<number, ReadLane>>(new Map());
  /** The change that each held lane was made from. */
  private from = new Map<number, number>();
  private asking = new Set<number>();

  constructor(
    readonly item: number,
    readonly reading: Reading,
  ) {}

  lane(n: number): ReadLane | null {
    return this.held.get(n) ?? null;
  }

  is(item: number, reading: Reading): boolean {
    return item === this.item && readingQuery(reading) === readingQuery(this.reading);
  }

  /** Fetches what is missing or older than `change`: the lane itself first, then those ahead and the one before. */
  async want(n: number, change: number): Promise<void> {
    try {
      if (!this.plan || this.plan.change < change) this.plan = await getReadPlan(this.item, this.reading);
      const last = this.plan.units;
      await this.fetch(n);
      for (let k = n + 1; k <= Math.min(n + AHEAD, last); k++) await this.fetch(k);
      if (n > 1) await this.fetch(n - 1);
    } catch (error) {
      // Without a connection whatever is held is read on.
      this.trouble = error instanceof Refusal ? why(error) : null;
    }
  }

  private async fetch(n: number) {
    const change = this.plan?.change ?? 0;
    if (this.asking.has(n) || (this.held.has(n) && (this.from.get(n) ?? -1) >= change)) return;
    this.asking.add(n);
    try {
      const lane = await getReadLane(this.item, n, this.reading);
      const before = this.held.get(n);
      if (before && !sameCalls(before.calls, lane.calls)) this.changed = new Set(this.changed).add(n);
      this.held = new Map(this.held).set(n, lane);
      this.from.set(n, change);
      this.trouble = null;
    } finally {
      this.asking.delete(n);
    }
  }

  /** The builder has seen that the lane changed. */
  noted(n: number) {
    const left = new Set(this.changed);
    left.delete(n);
    this.changed = left;
  }
}
