/** The plan as the server last told it, and everything that changes it. */
import * as api from "../api/client";
import { listen } from "../api/live";
import type { Change } from "../api/generated/Change";
import type { ColourRow } from "../api/generated/ColourRow";
import type { Done } from "../api/generated/Done";
import type { FieldRow } from "../api/generated/FieldRow";
import type { Findings } from "../api/generated/Findings";
import type { ItemRow } from "../api/generated/ItemRow";
import type { News } from "../api/generated/News";
import type { State } from "../api/generated/State";
import type { StockReport } from "../api/generated/StockReport";
import { kept } from "../kernels/same";
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
/** Milliseconds between two looks at the plan while what has waited is being sent. */
const REST = 500;

const NONE: ReadonlySet<number> = new Set();

/** A change, nothing to change, or why it cannot be. */
type Made = Change | string | null;

/** A name by which plans are told apart: copies of a project have its number. */
const planName = ({ project, file }: State): string => `${project.slice(0, 16)}.${file}`;

class Plan {
  state = $state.raw<State | null>(null);
  stock = $state.raw<StockReport | null>(null);
  /** What is wrong with it, and of which change; told a little later than the plan. */
  private found = $state.raw<Findings | null>(null);
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

  readonly findings = $derived(this.found?.list ?? []);
  /** Nothing can be said yet of what is wrong. */
  readonly unchecked = $derived(this.found === null);
  /** The findings are of a plan before this one. */
  readonly checking = $derived((this.found?.change ?? -1) < (this.state?.saved.change ?? 0));
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
  private rest: ReturnType<typeof setTimeout> | undefined;
  /** The newest of the news that are heeded after a rest. */
  private last: Exclude<News, { is: "job" }> | null = null;

  /** Begins to listen; gives what ends it. */
  start(): () => void {
    void this.refresh();
    return listen({
      news: (news) => this.hear(news),
      // It is online once the plan was told: another one may have been opened in its place.
      up: () => void this.refresh(),
      down: () => this.offline(),
    });
  }

  /**
   * Fetches the plan anew, and what the server works out from it after that; calls that come meanwhile share one more fetch.
   * Is over when the plan is there: what is wrong with it takes the server longer, ways out of a shortage longer still, and
   * nobody is to wait for them.
   */
  async refresh(): Promise<void> {
    this.coming = this.fetchState();
    await this.coming;
    void this.fetchFound().then(() => this.fetchStock());
  }

  private coming: Promise<void> = Promise.resolve();

  /** Over once the plan that is being asked for is there, if one is. */
  get told(): Promise<void> {
    return this.coming;
  }

  /** Has the plan as it was after a change, or later: its news may have been quicker than the answer to who made it. */
  private async upTo(change: number): Promise<void> {
    await this.coming;
    if (!this.tells(change)) await this.refresh();
  }

  private tells(change: number): boolean {
    return (this.state?.saved.change ?? -1) >= change;
  }

  private readonly fetchState = shared(async () => {
    try {
      const asked = this.heard;
      // A telling of its own all the same: who waits for an answer asks again with it.
      const state = { ...kept(this.state, await api.getState())! };
      const name = planName(state);
      // The server has another plan by now: nothing that is shown is of it.
      if (this.state && planName(this.state) !== name) return location.reload();
      api.shows(state.project);
      this.state = state;
      outbox.tells(state.saved.change);
      // Fewer changes than it spoke of before: the server has another file by now.
      this.heard = state.saved.change < asked ? state.saved.change : Math.max(this.heard, state.saved.change);
      this.outside = false;
      this.refused = null;
      void outbox.open(name).then((left) => (left ? this.catchUp() : undefined));
      this.online();
    } catch (error) {
      this.missed(error);
    }
  });

  private readonly fetchFound = shared(async () => {
    try {
      this.found = kept(this.found, await api.getFindings());
    } catch (error) {
      this.missed(error);
    }
  });

  private readonly fetchStock = shared(async () => {
    try {
      this.stock = kept(this.stock, await api.getStock());
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
    if (!outbox.sends) return this.heed(news);
    // Each of many changes that had to wait makes news; the plan is shown now and then meanwhile, and at the end of them.
    this.last = news;
    this.rest ??= setTimeout(() => {
      this.rest = undefined;
      if (this.last) this.heed(this.last);
    }, REST);
  }

  private heed(news: Exclude<News, { is: "job" }>) {
    const before = this.heard;
    this.heard = Math.max(this.heard, news.saved.change);
    if (news.is === "changed" ? !this.tells(news.saved.change) : news.saved.change !== before) void this.refresh();
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
    const out = await outbox.flush({
      refused: (error) => toasts.trouble(t("kept.refused", { why: why(error) })),
      stands: (what) => toasts.trouble(t("kept.stands", { what })),
      old: (what) => toasts.trouble(t("kept.old", { what: what || t("kept.change") })),
    });
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
      await this.upTo(done.saved.change);
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
      const done = await this.out(change);
      await this.upTo(done.saved.change);
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
    const row = this.found?.list[index];
    if (!row?.mend) return;
    // The list may be of the plan before: what is still found the same is mended where it stands by now.
    if (this.checking) await this.fetchFound();
    const found = this.found!;
    const words = JSON.stringify(row);
    const now = JSON.stringify(found.list[index]) === words ? index : found.list.findIndex((f) => JSON.stringify(f) === words);
    if (now < 0) {
      toasts.trouble(t("refused.changed"));
      return;
    }
    const done = await this.send(() => api.mend(now + 1, found.change));
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
