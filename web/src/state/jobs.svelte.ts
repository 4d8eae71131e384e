/** Matches that run, and the variants they left to look at. */
import * as api from "../api/client";
import type { Job } from "../api/generated/Job";
import type { MatchAsk } from "../api/generated/MatchAsk";
import type { Variant } from "../api/generated/Variant";
import { told } from "./say.svelte";
import { toasts } from "./toasts.svelte";
import { Watch } from "./watch.svelte";

/** So many variants of a field are kept side by side. */
const SIDE_BY_SIDE = 3;

export interface Offer {
  letter: string;
  variant: Variant;
}

class Jobs extends Watch {
  offers = $state.raw<Offer[]>([]);

  /** Variants that concern a field, in the order of their letters. */
  of(item: number): Offer[] {
    return this.offers.filter((offer) => offer.variant.items.includes(item));
  }

  private after = new Map<number, (trouble: string | null) => void>();

  /** Starts a match; `then` hears how it ended, and says it itself when something was in the way. */
  match(wanted: MatchAsk, then?: (trouble: string | null) => void) {
    return this.begin(async () => {
      const job = await api.startMatch(wanted);
      if (then) this.after.set(job.id, then);
      return job;
    }, then);
  }

  hear(job: Job) {
    if (!this.running && job.over && this.offers.some((o) => o.variant.id === job.variant?.id)) return;
    if (this.running && this.running.id !== job.id && job.over === false && job.id < this.running.id) return;
    this.heard();
    if (!job.over) {
      this.running = job;
      this.askLater(job);
      return;
    }
    if (this.running?.id === job.id) this.running = null;
    const then = this.after.get(job.id);
    this.after.delete(job.id);
    if (then && !job.stopped) then(job.trouble && told(job.trouble));
    else if (job.trouble) toasts.trouble(told(job.trouble));
    if (job.variant && !job.variant.laid) this.offer(job.variant);
  }

  private offer(variant: Variant) {
    if (this.offers.some((o) => o.variant.id === variant.id)) return;
    const mine = this.offers.filter((o) => o.variant.items.some((i) => variant.items.includes(i)));
    const oldest = mine.length >= SIDE_BY_SIDE ? mine[0] : undefined;
    if (oldest) this.drop(oldest);
    const taken = mine.filter((o) => o !== oldest).map((o) => o.letter);
    const letter = ["A", "B", "C"].find((l) => !taken.includes(l)) ?? "A";
    this.offers = [...this.offers, { letter, variant }];
  }

  drop(offer: Offer) {
    this.offers = this.offers.filter((o) => o !== offer);
    void api.dropVariant(offer.variant.id).catch(() => undefined);
  }

  /** Marks a variant as the one that lies. */
  laid(offer: Offer) {
    this.offers = this.offers.map((o) =>
      o.variant.items.some((i) => offer.variant.items.includes(i))
        ? { ...o, variant: { ...o.variant, laid: o === offer } }
        : o,
    );
  }
}

export const jobs = new Jobs();
