/** What just happened, in a strip at the foot; it stays while it is pointed at or focused. */
import type { Key, Values } from "../i18n";
import { t } from "./say.svelte";

export interface Toast {
  id: number;
  text: string;
  grave: boolean;
  undo: boolean;
}

const STAYS = 8000;

class Toasts {
  all = $state<Toast[]>([]);
  private next = 1;
  private timers = new Map<number, ReturnType<typeof setTimeout>>();

  plain(key: Key, values?: Values, undo = false) {
    this.add(t(key, values), false, undo);
  }

  /** The same in words that are there already. */
  say(text: string, undo = false) {
    this.add(text, false, undo);
  }

  trouble(text: string) {
    this.add(text, true, false);
  }

  private add(text: string, grave: boolean, undo: boolean) {
    const toast = { id: this.next++, text, grave, undo };
    this.all = [...this.all.slice(-2), toast];
    this.leaveSoon(toast.id);
  }

  leaveSoon(id: number) {
    this.hold(id);
    this.timers.set(id, setTimeout(() => this.drop(id), STAYS));
  }

  hold(id: number) {
    clearTimeout(this.timers.get(id));
  }

  drop(id: number) {
    this.hold(id);
    this.timers.delete(id);
    this.all = this.all.filter((toast) => toast.id !== id);
  }
}

export const toasts = new Toasts();
