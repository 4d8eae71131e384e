/** Going through the history, one undo or redo after another, as one walk that can be stopped. */
import * as api from "../../api/client";
import { plan } from "../../state/plan.svelte";
import { tn, why } from "../../state/say.svelte";
import { toasts } from "../../state/toasts.svelte";

class Walk {
  /** How many steps the walk has; 0 when nobody walks. */
  all = $state(0);
  done = $state(0);
  private stopped = false;

  /** Takes so many steps back (`undo`) or on (`redo`); ends early where somebody else changed the plan meanwhile. */
  async go(way: "undo" | "redo", steps: number) {
    if (this.all > 0 || steps < 1) return;
    [this.all, this.done, this.stopped] = [steps, 0, false];
    let last = plan.heard;
    let trouble: string | null = null;
    let others = false;
    plan.busy += 1;
    try {
      while (this.done < steps && !this.stopped) {
        const done = await (way === "undo" ? api.undo() : api.redo());
        this.done += 1;
        // Numbers have no holes: another step came in between.
        others = done.saved.change !== last + 1;
        last = done.saved.change;
        if (others) break;
      }
    } catch (error) {
      trouble = why(error);
    } finally {
      plan.busy -= 1;
    }
    const went = this.done;
    await plan.refresh();
    this.all = 0;
    if (trouble) toasts.trouble(trouble);
    else if (others) toasts.plain("history.else");
    else toasts.say(tn("history.went", went));
  }

  stop() {
    this.stopped = true;
  }
}

export const walk = new Walk();
