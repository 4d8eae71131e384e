/** Many falls with chance: the job that tries them, and what the last one showed. */
import * as api from "../api/client";
import type { FallOdds } from "../api/generated/FallOdds";
import type { Job } from "../api/generated/Job";
import { Watch } from "./watch.svelte";

class Odds extends Watch {
  told = $state.raw<FallOdds | null>(null);

  tryOut(runs: number, seed: number) {
    return this.begin(() => api.startOdds({ runs, seed }));
  }

  hear(job: Job) {
    if (this.follow(job) && job.odds) this.told = job.odds;
  }
}

export const odds = new Odds();
