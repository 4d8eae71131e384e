/** Many falls with chance: the job that tries them, and what the last one showed. */
import * as api from "../api/client";
import type { FallOdds } from "../api/generated/FallOdds";
import type { Job } from "../api/generated/Job";
import { t } from "./say.svelte";
import { toasts } from "./toasts.svelte";
import { Watch } from "./watch.svelte";

class Odds extends Watch {
  told = $state.raw<FallOdds | null>(null);
  private ended = 0;

  tryOut(runs: number, seed: number) {
    return this.begin(() => api.startOdds({ runs, seed }));
  }

  hear(job: Job) {
    if (job.id <= this.ended || (this.running && job.id < this.running.id)) return;
    this.heard();
    if (!job.over) {
      // Answers and news may cross: what is done stays done.
      if (this.running?.id !== job.id || job.share >= this.running.share) this.running = job;
      this.askLater(job);
      return;
    }
    this.ended = job.id;
    this.running = null;
    if (job.trouble) toasts.trouble(job.trouble.code === "changed" ? t("refused.changed") : job.trouble.message);
    if (job.odds) this.told = job.odds;
  }
}

export const odds = new Odds();
