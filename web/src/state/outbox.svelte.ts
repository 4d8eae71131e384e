/** Changes that the plan does not tell of yet: those that wait for the connection, kept in this browser and sent again in their order, each counting once, and those under way, kept until their answer is there. */
import * as api from "../api/client";
import type { Change } from "../api/generated/Change";
import type { Done } from "../api/generated/Done";
import { KNOWN, leftWithIds, orphan, withIds, type Left } from "../kernels/waiting";
import { newKey, Shelf, type Shelved } from "./shelf";

/** A change that waits, or is under way. */
interface Waiting extends Shelved {
  /** What it leaves of the items of the plan. */
  leaves: readonly Left[];
  /** The number that it has in the plan; null until that is known. */
  number: number | null;
  /** Its place on the shelf. */
  place: string;
}

/** What is told while changes are sent that have waited. */
interface Telling {
  refused(error: api.Refusal): void;
  /** It was taken back and stands all the same. */
  stands(words: string): void;
  /** So much was changed since it was sent that nobody knows whether it came through. */
  old(words: string): void;
}

/** One that waits, with the ids that the plan gave; the same one when it names none of them. */
function named(w: Waiting, ids: ReadonlyMap<number, number>): Waiting {
  const [change, leaves] = [withIds(w.change, ids), leftWithIds(w.leaves, ids)];
  return change === w.change && leaves === w.leaves ? w : { ...w, change, leaves };
}

class Outbox {
  private all = $state.raw<readonly Waiting[]>([]);
  /** Sent, and not told by the plan yet. */
  private under = $state.raw<readonly Waiting[]>([]);
  private shelf: Shelf | null = null;
  /** Places of those that the browser did not take: they last as long as this window. */
  private loose = $state.raw<ReadonlySet<string>>(new Set());
  /** How many changes last only as long as this window. */
  readonly onlyHere = $derived(this.loose.size);
  private going: Promise<unknown> | null = null;
  /** The newest change that the plan tells of. */
  private told = 0;

  private readonly stand = $derived(this.all.filter((w) => !w.back));
  /** How many wait for the connection. */
  readonly count = $derived(this.stand.length);
  /** Something is to be sent, be it only to be taken back there. */
  readonly waits = $derived(this.all.length > 0);
  /** What those leave that wait for the connection. */
  readonly kept = $derived(this.stand.flatMap((w) => w.leaves));
  /** What all of them leave, also those under way, in their order. New items that are under way are shown, and chosen only once the plan tells of them. */
  readonly leaves = $derived([...this.under.flatMap((w) => w.leaves).map((one) => (one.id < 0 ? { ...one, row: null } : one)), ...this.kept]);
  /** What those do that wait for the connection, in words. */
  readonly words = $derived(this.stand.map((w) => w.words));
  /** Changes that were taken back here. */
  back = $state.raw<ReadonlySet<Change>>(new Set());
  /** The same in their order, the last one last, until something else is done. */
  private taken = $state.raw<readonly Waiting[]>([]);
  /** What the last one of those does, in words; null when there is none. */
  readonly redoes = $derived(this.taken.at(-1)?.words ?? null);
  /** The ids that the plan gave to items that had a number of this page. */
  readonly given = new Map<number, number>();
  /** Ids that the plan gave and does not tell of yet. */
  readonly coming = $derived(new Set(this.under.flatMap((w) => w.adds.flatMap((add) => this.given.get(add) ?? []))));
  private least = 0;
  /** A number for a new item that nobody else has. */
  readonly number = (): number => (this.least -= 1);

  constructor() {
    addEventListener("beforeunload", (event) => {
      if (this.onlyHere) event.preventDefault();
    });
  }

  /** Goes on with what earlier windows of the same plan left; true when there is something. A window shows one plan all its life. */
  async open(plan: string): Promise<boolean> {
    if (this.shelf) return false;
    this.shelf = new Shelf(plan);
    const left = await this.shelf.inherit(this.number);
    if (!left.length) return false;
    this.all = [...left.map(({ place, one }): Waiting => ({ ...one, place, leaves: [], number: null })), ...this.all];
    return true;
  }

  /** What the newest change of that sort that still waits says of something; undefined when none does. */
  latest<D extends Change["do"], T>(sort: D, says: (change: Extract<Change, { do: D }>) => T | undefined): T | undefined {
    for (const { change } of [...this.stand].reverse()) {
      const found = change.do === sort ? says(change as Extract<Change, { do: D }>) : undefined;
      if (found !== undefined) return found;
    }
    return undefined;
  }

  private set(all: readonly Waiting[]) {
    const before = new Set(this.all);
    const places = new Set(all.map((w) => w.place));
    for (const w of this.all) if (!places.has(w.place)) this.unshelve(w);
    for (const w of all) if (!before.has(w) || this.loose.has(w.place)) this.shelve(w);
    this.all = all;
  }

  private shelve(w: Waiting) {
    if (this.shelf?.put(w.place, w)) this.lasts(w);
    else if (!this.loose.has(w.place)) this.loose = new Set([...this.loose, w.place]);
  }

  private unshelve(w: Waiting) {
    this.shelf?.take(w.place);
    this.lasts(w);
  }

  /** It does not go with this window: it is kept, or done with. */
  private lasts({ place }: Waiting) {
    if (this.loose.has(place)) this.loose = new Set([...this.loose].filter((one) => one !== place));
  }

  /** The plan tells of all changes up to this one: what they leave is among its items. */
  tells(change: number) {
    this.told = change;
    if (this.under.length) this.under = this.under.filter((w) => w.number === null || w.number > change);
  }

  /** A change has its number, and its new items their ids; what it leaves is shown until the plan tells of it. */
  private land(one: Waiting, { saved: { change: number }, items }: Done) {
    const ids = new Map(one.adds.flatMap((add, i) => (items[i] === undefined ? [] : [[add, items[i]] as const])));
    ids.forEach((id, add) => this.given.set(add, id));
    if (ids.size && this.all.length) this.set(this.all.map((w) => named(w, ids)));
    const rest = this.under.filter((w) => w.key !== one.key);
    this.under = number > this.told ? [...rest, { ...one, number }] : rest;
  }

  /** Sends a change; throws `NoConnection` when it waits now, and whatever else the server says. */
  async send(change: Change, words: string, leaves: readonly Left[]): Promise<Done> {
    const adds = change.do === "put" ? leaves.flatMap((one) => (one.id < 0 && !change.items.some((d) => d.id === one.id) ? [one.id] : [])) : [];
    const place = this.shelf?.place() ?? "";
    const waiting: Waiting = { key: newKey(), change: withIds(change, this.given), words, leaves, adds, sent: false, back: false, base: this.told, number: null, place };
    this.taken = [];
    // What was done later must not come first.
    if (this.all.length > 0) {
      this.set([...this.all, waiting]);
      throw new api.NoConnection("earlier changes wait");
    }
    this.under = [...this.under, waiting];
    // Should this window be closed before the answer is there, the next one asks again.
    this.shelve({ ...waiting, sent: true });
    try {
      const done = await api.doChange(waiting.change, waiting.key);
      this.unshelve(waiting);
      this.land(waiting, done);
      return done;
    } catch (error) {
      this.under = this.under.filter((w) => w.key !== waiting.key);
      if (error instanceof api.NoConnection) this.set([...this.all, { ...waiting, sent: true }]);
      else this.unshelve(waiting);
      throw error;
    }
  }

  /**
   * Takes back the newest change that waits; gives what it did, and whether it may have come through before the connection
   * was lost. Null when none waits, or the last one is under way by now.
   */
  takeBack(): { words: string; maybe: boolean } | null {
    const one = this.stand[this.stand.length - 1];
    if (!one || (this.going && one.key === this.all[0]?.key)) return null;
    this.back = new Set([...this.back, one.change]);
    this.taken = [...this.taken, one];
    this.set(one.sent ? this.all.map((w) => (w === one ? { ...w, back: true } : w)) : this.all.filter((w) => w !== one));
    return { words: one.words, maybe: one.sent };
  }

  /** Brings again what was taken back last: it waits once more, after all that waits by now. Gives what it does; null when there is nothing. */
  bringBack(): string | null {
    const one = this.taken.at(-1);
    if (!one) return null;
    this.taken = this.taken.slice(0, -1);
    this.back = new Set([...this.back].filter((change) => change !== one.change));
    const there = this.all.some((w) => w.key === one.key);
    this.set(there ? this.all.map((w) => (w.key === one.key ? { ...w, back: false } : w)) : [...this.all, named(one, this.given)]);
    return one.words;
  }

  /** What was taken back here comes no more: something else was undone since. */
  forget() {
    if (this.taken.length) this.taken = [];
  }

  /** What has waited is being sent. */
  get sends(): boolean {
    return this.going !== null;
  }

  /** Waits until what is being sent now is sent. */
  async idle() {
    await this.going;
  }

  /**
   * Sends what waits, in its order, until the connection is lost again. Gives how many went out; null when that is under way.
   */
  async flush(tell: Telling): Promise<number | null> {
    if (this.going) return null;
    const going = this.goes(tell);
    this.going = going;
    try {
      return await going;
    } finally {
      this.going = null;
    }
  }

  private async goes(tell: Telling): Promise<number> {
    let out = 0;
    for (let first = this.all[0]; first; first = this.all[0]) {
      const { key } = first;
      if (orphan(first.change)) {
        // What it changes was refused, and that was said.
        this.set(this.all.filter((w) => w.key !== key));
        continue;
      }
      if (first.sent && this.told - first.base >= KNOWN) {
        tell.old(first.words);
        this.set(this.all.filter((w) => w.key !== key));
        continue;
      }
      if (!first.sent) this.set(this.all.map((w) => (w.key === key ? { ...w, sent: true } : w)));
      try {
        const done = await api.doChange(first.change, key);
        // It may have been brought back meanwhile.
        if (this.all.some((w) => w.key === key && w.back)) {
          this.taken = this.taken.filter((w) => w.key !== key);
          // Undo takes back what was done last; what others did since is not ours to take back.
          if ((await api.getState()).saved.change === done.saved.change) await api.undo();
          else tell.stands(first.words);
        } else {
          this.land(first, done);
          out += 1;
        }
      } catch (error) {
        if (!(error instanceof api.Refusal)) break;
        if (!first.back) tell.refused(error);
      }
      this.set(this.all.filter((w) => w.key !== key));
    }
    return out;
  }
}

export const outbox = new Outbox();
