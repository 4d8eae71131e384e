/** Many falls with chance: the job that tries them, and what the last one showed. */
import * as api from "../api/client";
import type { FallOdds } from "../api/generated/FallOdds";
import type { Job } from "../api/generated/Job";
import { t } from "./say.svelte";
import { toasts } from "./toasts.svelte";

const LOOK_AGAIN = 1000;

class Odds {
  running = $state.raw<Job | null>(null);
  told = $state.raw<FallOdds | null>(null);
  private timer: ReturnType<typeof setTimeout> | undefined;
  private ended = 0;

  async tryOut(runs: number, seed: number) {
    try {
      this.hear(await api.startOdds({ runs, seed }));
    } catch (error) {
      toasts.trouble(error instanceof Error ? error.message : String(error));
    }
  }

  /** The job moved on; the socket tells, and as it may be away the page asks too. */
  hear(job: Job) {
    if (job.id <= this.ended || (this.running && job.id < this.running.id)) return;
    clearTimeout(this.timer);
    if (!job.over) {
      // Answers and news may cross: what is done stays done.
      if (this.running?.id !== job.id || job.share >= this.running.share) this.running = job;
      this.timer = setTimeout(() => void this.ask(job.id), LOOK_AGAIN);
      return;
    }
    this.ended = job.id;
    this.running = null;
    if (job.trouble) toasts.trouble(job.trouble.code === "changed" ? t("refused.changed") : job.trouble.message);
    if (job.odds) this.told = job.odds;
  }

  private async ask(id: number) {
    try {
      this.hear(await api.getJob(id));
    } catch (error) {
      if (error instanceof api.Refusal) this.running = null;
      else this.timer = setTimeout(() => void this.ask(id), LOOK_AGAIN * 2);
    }
  }

  async stop() {
    if (this.running) await api.stopJob(this.running.id).catch(() => undefined);
  }
}

export const odds = new Odds();
