/** The fall as the server works it out, for slips that stand beside the plan: fetched once the plan is quiet. */
import { untrack } from "svelte";
import * as api from "../api/client";
import type { FallReport } from "../api/generated/FallReport";
import { NEVER, itemOf, type FallTimes, type HallPieces } from "../kernels/columns";
import { hall } from "./hall.svelte";
import { plan } from "./plan.svelte";

/** Milliseconds without a change before the fall is asked for: it is dear in a large plan. */
const QUIET = 500;
/** Pieces of a plan up to which the times of all of them are fetched. */
const ALL = 2_000_000;

/** How one item falls. */
export interface ItemFall {
  /** First and last piece, s; null when none falls. */
  from: number | null;
  to: number | null;
  stands: number;
  /** The items that strike it first from outside, in the order in which they do. */
  by: number[];
}

/** How an item falls by the columns of all pieces. */
export function itemFall(pieces: HallPieces, times: FallTimes, id: number): ItemFall | null {
  const row = pieces.items.find((i) => i.id === id);
  if (!row || row.count === 0 || times.n !== pieces.n) return null;
  let [from, to, stands] = [Infinity, -Infinity, 0];
  const struck = new Map<number, number>();
  for (let p = row.first; p < row.first + row.count; p++) {
    const at = times.hit[p]!;
    if (at === NEVER) {
      stands++;
      continue;
    }
    from = Math.min(from, at);
    to = Math.max(to, at);
    const by = times.from[p]!;
    if (by === NEVER || (by >= row.first && by < row.first + row.count)) continue;
    const other = itemOf(pieces, by);
    if (other !== null && at < (struck.get(other) ?? Infinity)) struck.set(other, at);
  }
  const by = [...struck].sort((a, b) => a[1] - b[1]).map(([item]) => item);
  return { from: from === Infinity ? null : from / 1e6, to: to === -Infinity ? null : to / 1e6, stands, by };
}

class Course {
  report = $state.raw<FallReport | null>(null);
  times = $state.raw<FallTimes | null>(null);
  /** True while the report is of the plan as it is now. */
  readonly fresh = $derived(this.report !== null && this.report.change >= plan.heard);
  private timer: ReturnType<typeof setTimeout> | undefined;
  private busy = false;

  /** Keeps the fall at hand while a view is open; `times` says whether those of all pieces are wanted. */
  keep(times: () => boolean) {
    $effect(() => {
      const heard = plan.heard;
      const wanted = times() && (plan.state?.cost.pieces ?? 0) <= ALL;
      if (!plan.state || !plan.planner) return;
      untrack(() => {
        clearTimeout(this.timer);
        if (this.old(heard, wanted)) this.timer = setTimeout(() => void this.fetch(wanted), QUIET);
      });
      return () => clearTimeout(this.timer);
    });
  }

  private old(heard: number, times: boolean): boolean {
    return (this.report?.change ?? -1) < heard || (times && (this.times?.change ?? -1) < heard);
  }

  private async fetch(times: boolean) {
    if (this.busy) {
      this.timer = setTimeout(() => void this.fetch(times), QUIET);
      return;
    }
    this.busy = true;
    try {
      if ((this.report?.change ?? -1) < plan.heard) this.report = await api.getReport();
      if (times && (this.times?.change ?? -1) < plan.heard) this.times = await api.getTimes();
    } catch {
      // The fall is shown when it can be had; the plan itself says when there is no connection.
    } finally {
      this.busy = false;
    }
  }

  /** How an item falls; null while that is not known of these pieces. */
  of(id: number): ItemFall | null {
    const [pieces, times] = [hall.pieces, this.times];
    return pieces && times && pieces.change === times.change ? itemFall(pieces, times, id) : null;
  }
}

export const course = new Course();
