/** Steps back and on: first those of what is being drawn, then those of the plan. */
import { board } from "./board.svelte";
import { plan } from "./plan.svelte";
import { router } from "./router.svelte";
import { t } from "./say.svelte";

class Steps {
  /** Something is drawn on the floor that is looked at. */
  private readonly draws = $derived(router.route.view === "plan" && plan.canWrite);
  /** What a step back takes back and a step on brings again, in words; null when there is nothing. */
  readonly undoes = $derived(this.draws && board.begun ? t("undo.begun") : plan.undoes);
  readonly redoes = $derived(this.draws && board.again ? t("undo.begun") : plan.redoes);

  undo() {
    if (this.draws && board.undo()) return;
    board.forget();
    void plan.undo();
  }

  redo() {
    if (this.draws && board.redo()) return;
    void plan.redo();
  }
}

export const steps = new Steps();
