/** Something that the server works out from the plan, asked for while a slip shows it. */
import { plan } from "./plan.svelte";
import { why } from "./say.svelte";

export class Told<T> {
  told = $state.raw<T | null>(null);
  /** Why nothing can be told of it. */
  refused = $state("");

  constructor(private readonly ask: () => Promise<T>) {}

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
