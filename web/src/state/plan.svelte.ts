/** The plan as the server last told it, and everything that changes it. */
import * as api from "../api/client";
import { listen } from "../api/live";
import type { Change } from "../api/generated/Change";
import type { ColourRow } from "../api/generated/ColourRow";
import type { Done } from "../api/generated/Done";
import type { FieldRow } from "../api/generated/FieldRow";
import type { ItemRow } from "../api/generated/ItemRow";
import type { News } from "../api/generated/News";
import type { State } from "../api/generated/State";
import type { StockReport } from "../api/generated/StockReport";
import { shared } from "../kernels/shared";
import { elsewhere, last, left, withLeft } from "../kernels/waiting";
import { gaps } from "./gaps.svelte";
import { jobs } from "./jobs.svelte";
import { odds } from "./odds.svelte";
import { outbox } from "./outbox.svelte";
import { listed, t, tell, why } from "./say.svelte";
import { toasts } from "./toasts.svelte";

export type FieldItem = Omit<ItemRow, "body"> & { body: FieldRow };

/** Milliseconds until the plan is asked for again without a connection; the socket usually is back before. */
const RETRY = 5000;

const NONE: ReadonlySet<number> = new Set();

/** A change, nothing to change, or why it cannot be. */
type Made = Change | string | null;

class Plan {
  state = $state.raw<State | null>(null);
  stock = $state.raw<StockReport | null>(null);
  /** Local time "12:44" since when the server does not answer. */
  offlineSince = $state<string | null>(null);
  /** The server wants the code first. */
  outside = $state(false);
  /** Why the plan could not be had, in the server's words. */
  refused = $state<string | null>(null);
  /** A change is on its way. */
  busy = $state(0);
  /** Highest change number that the server spoke of; 0 before the first. */
  heard = $state(0);

  readonly colours = $derived(new Map((this.state?.colours ?? []).map((c) => [c.id, c])));
  /** The plan with what changes leave of its items while it does not tell of them yet. */
  readonly now = $derived.by((): State | null => {
    const { state } = this;
    return state && outbox.leaves.length ? { ...state, items: withLeft(state.items, last(outbox.leaves)) } : state;
  });
  /** Items that a change takes away or moves while the plan does not tell of it yet, and new ones. */
  readonly drafts = $derived(last(outbox.leaves));
  /** Items of which no piece stands where it was told, as what waits for the connection says. */
  readonly elsewhere = $derived<ReadonlySet<number>>(this.state && outbox.kept.length ? elsewhere(this.state.items, outbox.kept) : NONE);
  readonly items = $derived(new Map((this.now?.items ?? []).map((i) => [i.id, i])));
  readonly fields = $derived((this.state?.items ?? []).filter((i): i is ItemRow & FieldItem => i.body.is === "field"));
  readonly planner = $derived(this.state?.role === "planner");
  /** What undo would take back and redo bring again, in the reader's language; null when there is nothing. */
  readonly undoes = $derived(outbox.count > 0 ? (outbox.words[outbox.count - 1] || t("kept.change")) : this.state?.undo ? tell(this.state.undo_said, this.state.undo) : null);
  readonly redoes = $derived(outbox.redoes !== null ? outbox.redoes || t("kept.change") : this.state?.redo ? tell(this.state.redo_said, this.state.redo) : null);
  readonly canWrite = $derived(this.planner && (this.state?.saved.writable ?? false));

  private retry: ReturnType<typeof setTimeout> | undefined;

  /** Begins to listen; gives what ends it. */
  start(): () => void {
    void this.refresh();
    return listen({
      news: (news) => this.hear(news),
      up: () => {
        this.online();
        void this.refresh();
      },
      down: () => this.offline(),
    });
  }

  /** Fetches plan and stock anew; calls that come meanwhile share one more fetch. */
  async refresh(): Promise<void> {
    await this.fetchState();
    // Ways out of a shortage take the server longer than all the rest, and nobody is to wait for them.
    await this.fetchStock();
  }

  private readonly fetchState = shared(async () => {
    try {
      const state = await api.getState();
      this.state = state;
      outbox.tells(state.saved.change);
      this.heard = Math.max(this.heard, state.saved.change);
      this.outside = false;
      this.refused = null;
      outbox.open(state.file);
      this.online();
    } catch (error) {
      this.missed(error);
    }
  });

  private readonly fetchStock = shared(async () => {
    try {
      this.stock = await api.getStock();
    } catch (error) {
      this.missed(error);
    }
  });

  private missed(error: unknown) {
    if (error instanceof api.Refusal) {
      if (error.status === 401) this.outside = true;
      else this.refused = why(error);
    } else {
      this.offline();
    }
  }

  private hear(news: News) {
    if (news.is === "job") {
      if (news.job.kind === "odds") odds.hear(news.job);
      else if (news.job.kind === "gaps") gaps.hear(news.job);
      else jobs.hear(news.job);
      return;
    }
    const before = this.heard;
    this.heard = Math.max(this.heard, news.saved.change);
    if (news.is === "changed" || news.saved.change !== before) void this.refresh();
  }

  private online() {
    this.offlineSince = null;
    void this.catchUp();
  }

  private offline() {
    this.offlineSince ??= new Date().toTimeString().slice(0, 5);
    clearTimeout(this.retry);
    this.retry = setTimeout(() => void this.refresh(), RETRY);
  }

  /** Sends one change; gives null, after saying why, when it was not taken. */
  do(change: Change): Promise<Done | null> {
    return this.send(() => this.out(change));
  }

  private out(change: Change): Promise<Done> {
    return outbox.send(change, this.wordsOf(change), left(change, this.items, outbox.number));
  }

  /** What a change does, in words, as far as this page knows them. */
  private wordsOf(change: Change): string {
    const names = (ids: readonly number[]) => listed(ids.map((id) => this.itemName(id)));
    switch (change.do) {
      case "put":
        return change.label;
      case "take":
        return t("doing.remove", { names: names(change.items) });
      case "remove":
        return t("doing.remove", { names: names([change.item]) });
      case "place":
        return t(this.itemName(change.item) === change.name ? "doing.move" : "doing.name", { names: change.name, old: this.itemName(change.item), name: change.name });
      case "arrange": {
        const { is } = change.how;
        return is === "move" || is === "turn" || is === "mirror" || is === "copy" || is === "group" || is === "ungroup" || is === "lock" || is === "unlock"
          ? t(`doing.${is}`, { names: names(change.items) })
          : t("kept.change");
      }
      default:
        return t("kept.change");
    }
  }

  /** Sends what was kept while there was no connection. */
  private async catchUp() {
    if (!outbox.waits) return;
    const out = await outbox.flush((error) => toasts.trouble(t("kept.refused", { why: why(error) })), (what) => toasts.trouble(t("kept.stands", { what })));
    if (out === null) return;
    // What is still there found no connection again; it is tried anew before long.
    if (outbox.waits) this.offline();
    if (out > 0) toasts.plain("kept.sent", { n: out });
    await this.refresh();
  }

  /** Sends anything that ends in a new state of the plan. */
  async send(call: () => Promise<Done>): Promise<Done | null> {
    this.busy += 1;
    try {
      const done = await call();
      await this.refresh();
      return done;
    } catch (error) {
      if (error instanceof api.Refusal) toasts.trouble(error.trouble.code === "changed" ? t("refused.changed") : why(error));
      else this.missed(error);
      return null;
    } finally {
      this.busy -= 1;
    }
  }

  /** Sends a change for a field that says itself why it was not taken: null when it was, else the sentence. */
  async ask(change: Change): Promise<string | null> {
    this.busy += 1;
    try {
      await this.out(change);
      await this.refresh();
      return null;
    } catch (error) {
      if (error instanceof api.Refusal) return error.trouble.code === "changed" ? t("refused.changed") : why(error);
      // It is kept and goes out later; the plan says so.
      this.missed(error);
      return null;
    } finally {
      this.busy -= 1;
    }
  }

  private turn: Promise<unknown> = Promise.resolve();

  /**
   * Changes what is sent whole (items, gear, a wish), made of it as it is when its turn comes: figures that are typed one after
   * the other must not take back each other. Nothing is sent where nothing is made, or only why not. Gives null, or why it
   * was not taken.
   */
  alter(make: () => Made | Promise<Made>): Promise<string | null> {
    const next = this.turn.then(async () => {
      const made = await make();
      return typeof made === "string" ? made : made && this.ask(made);
    });
    this.turn = next.catch(() => null);
    return next;
  }

  /** Says why a change was not taken that was made where there is no place for that; gives whether it was. */
  async altered(change: Promise<string | null>): Promise<boolean> {
    const refused = await change;
    if (refused !== null) toasts.trouble(refused);
    return refused === null;
  }

  /** Mends a finding by its place in the list; the server refuses when the list is of another plan by now. */
  async mend(index: number) {
    const [row, of] = [this.state?.findings[index], this.state?.found];
    if (!row?.mend || of === undefined) return;
    const done = await this.send(() => api.mend(index + 1, of));
    if (done) toasts.plain("mended", { place: tell(row.said.place, row.place) }, true);
    // What was shown is of no use any more.
    else await this.refresh();
  }

  /** Takes back what was done last: here what waits for the connection, else what the plan has. */
  async undo() {
    if (outbox.count > 0) {
      let back = outbox.takeBack();
      if (!back) {
        // It is on its way: it comes in and is undone there, or waits again and is taken back here.
        await outbox.idle();
        back = outbox.takeBack();
      }
      if (back) {
        toasts.plain(back.maybe ? "kept.undone.maybe" : "kept.undone", { what: back.words || t("kept.change") });
        return;
      }
      await this.refresh();
    }
    if (!this.state?.undo) return;
    outbox.forget();
    const done = await this.send(api.undo);
    if (done) toasts.plain("undone", { what: tell(done.label_said, done.label) });
  }

  async redo() {
    const again = outbox.bringBack();
    if (again !== null) {
      toasts.plain("redone", { what: again || t("kept.change") });
      await this.catchUp();
      return;
    }
    if (!this.state?.redo) return;
    const done = await this.send(api.redo);
    if (done) toasts.plain("redone", { what: tell(done.label_said, done.label) });
  }

  field(id: number | null): FieldItem | null {
    return this.fields.find((f) => f.id === id) ?? null;
  }

  /** The name of an item; empty when there is none. */
  itemName(id: number | null): string {
    return (id === null ? null : this.items.get(id)?.name) ?? "";
  }

  colour(id: number): ColourRow | null {
    return this.colours.get(id) ?? null;
  }
}

export const plan = new Plan();
