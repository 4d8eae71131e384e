/** A job that runs, followed to its end: the socket tells how it stands, and as it may be away the page asks too. */
import * as api from "../api/client";
import type { Job } from "../api/generated/Job";
import { t, told, why } from "./say.svelte";
import { toasts } from "./toasts.svelte";

const LOOK_AGAIN = 1000;

export abstract class Watch {
  running = $state.raw<Job | null>(null);
  private timer: ReturnType<typeof setTimeout> | undefined;

  /** A job moved on. */
  abstract hear(job: Job): void;

  /** `failed` hears why it could not begin, and says it itself. */
  protected async begin(call: () => Promise<Job>, failed: (because: string) => void = (because) => toasts.trouble(because)) {
    try {
      this.hear(await call());
    } catch (error) {
      failed(why(error));
    }
  }

  /** Asks how the job stands unless it is heard of before. */
  protected askLater(job: Job) {
    this.askIn(job.id, LOOK_AGAIN);
  }

  protected heard() {
    clearTimeout(this.timer);
  }

  private askIn(id: number, wait: number) {
    this.timer = setTimeout(() => void this.ask(id), wait);
  }

  private async ask(id: number) {
    try {
      this.hear(await api.getJob(id));
    } catch (error) {
      if (error instanceof api.Refusal) this.running = null;
      else this.askIn(id, LOOK_AGAIN * 2);
    }
  }

  /** The highest number of a job that ended. */
  private ended = 0;

  /** For kinds of which the last one counts: follows a job; true once, when it is over. */
  protected follow(job: Job): boolean {
    if (job.id <= this.ended || (this.running && job.id < this.running.id)) return false;
    this.heard();
    if (!job.over) {
      // Answers and news may cross: what is done stays done.
      if (this.running?.id !== job.id || job.share >= this.running.share) this.running = job;
      this.askLater(job);
      return false;
    }
    this.ended = job.id;
    this.running = null;
    if (job.trouble) toasts.trouble(job.trouble.code === "changed" ? t("refused.changed") : told(job.trouble));
    return true;
  }

  async stop() {
    if (this.running) await api.stopJob(this.running.id).catch(() => undefined);
  }
}
