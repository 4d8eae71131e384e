/** Changes that the plan does not tell of yet: those that wait for the connection, kept in this browser and sent again in their order, each counting once, and those under way. */
import * as api from "../api/client";
import type { Change } from "../api/generated/Change";
import type { Done } from "../api/generated/Done";
import { leftWithIds, orphan, withIds, type Left } from "../kernels/waiting";
import { keep, kept } from "./kept";

/** A change and the key under which the server counts it once. */
interface Waiting {
  key: string;
  change: Change;
  /** What it does, in words. */
  words: string;
  /** What it leaves of the items of the plan. */
  leaves: readonly Left[];
  /** The numbers of this page for the items that it adds, in their order. */
  adds: readonly number[];
  /** It was sent, and nobody knows whether it came through. */
  sent: boolean;
  /** It is taken back: sent only where it may have come through, to be undone there. */
  back: boolean;
  /** The number that it has in the plan; null until that is known. */
  number: number | null;
}

/** Keys have to differ between browsers; plain http on a network has no `randomUUID`. */
function newKey(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return [...bytes].map((b) => b.toString(16).padStart(2, "0")).join("");
}

class Outbox {
  private all = $state.raw<readonly Waiting[]>([]);
  /** Sent, and not told by the plan yet. */
  private under = $state.raw<readonly Waiting[]>([]);
  private file: string | null = null;
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

  /** Takes what an earlier page of the same plan left. */
  open(file: string) {
    if (this.file === file) return;
    this.file = file;
    try {
      const known: unknown = JSON.parse(kept(`waiting.${file}`) ?? "[]");
      if (!Array.isArray(known)) return;
      const sound = (known as Partial<Waiting>[]).filter((w): w is Pick<Waiting, "key" | "change"> => typeof w.key === "string" && typeof w.change === "object");
      const all: Waiting[] = sound.map((w) => ({ words: "", sent: true, back: false, adds: [], ...w, leaves: [], number: null }));
      this.least = Math.min(this.least, ...all.flatMap((w) => w.adds));
      this.all = [...all, ...this.all];
    } catch {
      // What cannot be read was not kept by this page.
    }
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
    this.all = all;
    if (this.file !== null) keep(`waiting.${this.file}`, JSON.stringify(all.map(({ key, change, words, adds, sent, back }) => ({ key, change, words, adds, sent, back }))));
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
    if (ids.size && this.all.length) this.set(this.all.map((w) => ({ ...w, change: withIds(w.change, ids), leaves: leftWithIds(w.leaves, ids) })));
    const rest = this.under.filter((w) => w.key !== one.key);
    this.under = number > this.told ? [...rest, { ...one, number }] : rest;
  }

  /** Sends a change; throws `NoConnection` when it waits now, and whatever else the server says. */
  async send(change: Change, words: string, leaves: readonly Left[]): Promise<Done> {
    const adds = change.do === "put" ? leaves.flatMap((one) => (one.id < 0 && !change.items.some((d) => d.id === one.id) ? [one.id] : [])) : [];
    const waiting: Waiting = { key: newKey(), change: withIds(change, this.given), words, leaves, adds, sent: false, back: false, number: null };
    this.taken = [];
    // What was done later must not come first.
    if (this.all.length > 0) {
      this.set([...this.all, waiting]);
      throw new api.NoConnection("earlier changes wait");
    }
    this.under = [...this.under, waiting];
    try {
      const done = await api.doChange(waiting.change, waiting.key);
      this.land(waiting, done);
      return done;
    } catch (error) {
      this.under = this.under.filter((w) => w.key !== waiting.key);
      if (error instanceof api.NoConnection) this.set([...this.all, { ...waiting, sent: true }]);
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
    this.set(there ? this.all.map((w) => (w.key === one.key ? { ...w, back: false } : w)) : [...this.all, { ...one, change: withIds(one.change, this.given), leaves: leftWithIds(one.leaves, this.given) }]);
    return one.words;
  }

  /** What was taken back here comes no more: something else was undone since. */
  forget() {
    if (this.taken.length) this.taken = [];
  }

  /** Waits until what is being sent now is sent. */
  async idle() {
    await this.going;
  }

  /**
   * Sends what waits, in its order, until the connection is lost again; tells what was refused, and what was taken back and
   * stands all the same. Gives how many went out; null when that is under way.
   */
  async flush(refused: (error: api.Refusal) => void, stands: (words: string) => void): Promise<number | null> {
    if (this.going) return null;
    const going = this.goes(refused, stands);
    this.going = going;
    try {
      return await going;
    } finally {
      this.going = null;
    }
  }

  private async goes(refused: (error: api.Refusal) => void, stands: (words: string) => void): Promise<number> {
    let out = 0;
    for (let first = this.all[0]; first; first = this.all[0]) {
      const { key } = first;
      if (orphan(first.change)) {
        // What it changes was refused, and that was said.
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
          else stands(first.words);
        } else {
          this.land(first, done);
          out += 1;
        }
      } catch (error) {
        if (!(error instanceof api.Refusal)) break;
        if (!first.back) refused(error);
      }
      this.set(this.all.filter((w) => w.key !== key));
    }
    return out;
  }
}

export const outbox = new Outbox();
