/** Where the pieces stand, how they fall and what a touch takes, as the server last told; fetched when a view wants it. */
import { untrack } from "svelte";
import * as api from "../api/client";
import type { GapStates } from "../api/generated/GapStates";
import type { FallReport } from "../api/generated/FallReport";
import type { FallTimes, HallPieces, TouchCounts } from "../kernels/columns";
import { finder } from "../kernels/floor";
import { built } from "./built.svelte";
import { plan } from "./plan.svelte";
import { why } from "./say.svelte";

export type Part = "pieces" | "times" | "report" | "touch" | "gaps";

/** Rounds until all parts are of one change; somebody who draws all the time is waited for no longer. */
const ROUNDS = 4;

class Hall {
  pieces = $state.raw<HallPieces | null>(null);
  times = $state.raw<FallTimes | null>(null);
  report = $state.raw<FallReport | null>(null);
  touch = $state.raw<TouchCounts | null>(null);
  gaps = $state.raw<GapStates | null>(null);
  /** What stood by the choice that `touch` was counted for. */
  private counted = $state("");
  busy = $state(false);
  refused = $state<string | null>(null);

  /** The fall of these very pieces; null while times and pieces are of different changes. */
  readonly fall = $derived(this.fitting(this.times));
  /** What a touch of these very pieces takes; null like the fall. */
  readonly losses = $derived(this.fitting(this.touch));
  /** True while the losses are those of another choice of what stands. */
  readonly counting = $derived(!this.losses || this.counted !== built.query);
  readonly finder = $derived(this.pieces ? finder(this.pieces.x, this.pieces.y) : null);
  /** The change that the fall belongs to, when the plan has gone on since. */
  readonly stale = $derived(this.times && this.times.change < plan.heard ? this.times.change : null);

  private wanted: Part[] = [];

  private fitting<T extends { n: number }>(columns: T | null): T | null {
    return columns && columns.n === this.pieces?.n ? columns : null;
  }

  /** Has what a view needs at hand while it is open, and again whenever the plan goes on; called as the view begins. */
  keep(parts: () => Part[]) {
    $effect(() => {
      void plan.heard;
      const wanted = parts();
      if (wanted.includes("touch")) void built.query;
      if (plan.state) untrack(() => void this.want(wanted));
    });
  }

  /** Fetches what is not of the present change. */
  private async want(parts: Part[]) {
    this.wanted = parts;
    if (this.busy) return;
    this.busy = true;
    try {
      let query = built.query;
      for (let round = 0; round < ROUNDS; round++) {
        const old = this.wanted.filter((part) => (this[part]?.change ?? -1) < plan.heard || this[part]?.change !== this.pieces?.change || (part === "touch" && this.counted !== built.query));
        if (old.length === 0) break;
        await Promise.all(old.map((part) => this.fetch(part)));
        // Another choice of what stands is somebody's wish, not the plan's unrest.
        if (query !== built.query) [round, query] = [-1, built.query];
      }
      this.refused = null;
    } catch (error) {
      this.refused = why(error);
    } finally {
      this.busy = false;
    }
  }

  private async fetch(part: Part) {
    if (part === "pieces") {
      const pieces = await api.getPieces();
      // Asked for at once with the plan and shown after it: drawing many pieces holds up everything else.
      await plan.told;
      this.pieces = pieces;
    } else if (part === "times") this.times = await api.getTimes();
    else if (part === "report") this.report = await api.getReport();
    else if (part === "gaps") this.gaps = await api.getGaps();
    else {
      const query = built.query;
      this.touch = await api.getTouch(query);
      this.counted = query;
    }
  }
}

export const hall = new Hall();

/** Asking the browser for a style is dear, and a frame asks hundreds of times. */
const roles = new Map<string, string>();

/** The value of a colour role, as this look has it. */
export function role(name: string): string {
  const root = document.documentElement;
  const key = `${root.dataset.look} ${name}`;
  const known = roles.get(key);
  if (known !== undefined) return known;
  const value = getComputedStyle(root).getPropertyValue(`--${name}`).trim();
  // Empty while the styles are not there yet.
  if (value) roles.set(key, value);
  return value;
}
