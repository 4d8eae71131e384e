/** How much of the plan this viewer takes as standing: kept in this browser for each project file, never part of the plan. */
import { fromRanges, ranges } from "../kernels/built";
import { keep, kept } from "./kept";
import { plan } from "./plan.svelte";

class Built {
  /** True while the pieces of safety gaps are left out, as during the building. */
  gapsOpen = $state(kept("gaps") !== "closed");
  private file: string | null = null;
  private missing = $state.raw<ReadonlySet<number>>(new Set());

  /** Items that can stand. */
  readonly items = $derived((plan.state?.items ?? []).filter((i) => i.pieces > 0));
  readonly standing = $derived(this.items.filter((i) => !this.missing.has(i.id)));
  /** As the server's address wants it; of ids that the plan does not have nothing is said. */
  readonly query = $derived.by(() => {
    const without = ranges(this.items.filter((i) => this.missing.has(i.id)).map((i) => i.id));
    return `gaps=${this.gapsOpen ? "open" : "closed"}${without && `&without=${without}`}`;
  });

  /** Takes what was kept for the plan's file; called as a view begins. */
  start() {
    $effect(() => {
      const file = plan.state?.file ?? null;
      if (file === null || file === this.file) return;
      this.file = file;
      this.missing = new Set(fromRanges(kept(`unbuilt.${file}`)));
    });
  }

  stands = (id: number): boolean => !this.missing.has(id);

  setGaps(open: boolean) {
    this.gapsOpen = open;
    keep("gaps", open ? "open" : "closed");
  }

  /** Lets items stand or not. */
  set(ids: readonly number[], stand: boolean) {
    const missing = new Set(this.missing);
    for (const id of ids)
      if (stand) missing.delete(id);
      else missing.add(id);
    this.missing = missing;
    keep(`unbuilt.${this.file ?? ""}`, ranges(missing));
  }
}

export const built = new Built();
