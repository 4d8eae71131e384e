/** Something that the server works out from the plan, asked for while a slip shows it. */
import type { Change } from "../api/generated/Change";
import { plan } from "./plan.svelte";
import { t, why } from "./say.svelte";

export class Told<T> {
  told = $state.raw<T | null>(null);
  /** Why nothing can be told of it. */
  refused = $state("");

  constructor(private readonly ask: () => Promise<T>) {}

  /** Changes the row at a place as it is when its turn comes; gives null, or why it was not taken. */
  alter<R>(rows: (told: T) => readonly R[], place: number, change: (row: R) => Change): Promise<string | null> {
    const shown = this.told ? rows(this.told).length : 0;
    return plan.alter(async () => {
      const told = await this.ask().catch(() => this.told);
      const now = told ? rows(told) : [];
      const row = now[place];
      // Rows have no name of their own: with fewer or more of them than were shown it may be another one.
      return row === undefined || now.length !== shown ? t("refused.changed") : change(row);
    });
  }

  /** Asks, again whenever the plan goes on; called by the slip as it opens. */
  keep() {
    $effect(() => {
      if (plan.state === null) return;
      let gone = false;
      this.ask().then(
        (told) => {
          if (!gone) [this.told, this.refused] = [told, ""];
        },
        (error: unknown) => {
          if (!gone) this.refused = why(error);
        },
      );
      return () => (gone = true);
    });
  }
}
