/** Safety gaps that are proposed: what is wished of them, the job that looks for them, and what it found. */
import * as api from "../api/client";
import type { GapsAsk } from "../api/generated/GapsAsk";
import type { Job } from "../api/generated/Job";
import type { ProposedGaps } from "../api/generated/ProposedGaps";
import { Watch } from "./watch.svelte";

/** What is worth its work, at most so many gaps, or as few as keep a fall small. */
export type GapsAim = "worth" | "gaps" | "pieces";

class Gaps extends Watch {
  told = $state.raw<ProposedGaps | null>(null);
  aim = $state<GapsAim>("worth");
  /** Gaps, for the aim of that name, and pieces. */
  most = $state(5);
  pieces = $state(500);

  /** To how many pieces the last search was to keep a fall. */
  limit = $state<number | null>(null);

  propose() {
    this.limit = this.aim === "pieces" ? this.pieces : null;
    const asked: GapsAsk = { gaps: this.aim === "gaps" ? this.most : null, pieces: this.aim === "pieces" ? this.pieces : null };
    return this.begin(() => api.startGaps(asked));
  }

  hear(job: Job) {
    if (this.follow(job) && job.gaps) this.told = job.gaps;
  }
}

export const gaps = new Gaps();
