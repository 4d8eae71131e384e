/** Changes that wait for the connection: kept in this browser, sent again in their order, each counting once. */
import * as api from "../api/client";
import type { Change } from "../api/generated/Change";
import type { Done } from "../api/generated/Done";
import { keep, kept } from "./kept";

/** A change and the key under which the server counts it once. */
interface Waiting {
  key: string;
  change: Change;
}

/** Keys have to differ between browsers; plain http on a network has no `randomUUID`. */
function newKey(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return [...bytes].map((b) => b.toString(16).padStart(2, "0")).join("");
}

class Outbox {
  private all = $state.raw<readonly Waiting[]>([]);
  private file: string | null = null;
  private going = false;
  readonly count = $derived(this.all.length);

  /** Takes what an earlier page of the same plan left. */
  open(file: string) {
    if (this.file === file) return;
    this.file = file;
    try {
      const known: unknown = JSON.parse(kept(`waiting.${file}`) ?? "[]");
      if (Array.isArray(known)) this.all = [...(known as Waiting[]).filter((w) => typeof w.key === "string" && typeof w.change === "object"), ...this.all];
    } catch {
      // What cannot be read was not kept by this page.
    }
  }

  /** What the newest change of that sort that still waits says of something; undefined when none does. */
  latest<D extends Change["do"], T>(sort: D, says: (change: Extract<Change, { do: D }>) => T | undefined): T | undefined {
    for (const { change } of [...this.all].reverse()) {
      const found = change.do === sort ? says(change as Extract<Change, { do: D }>) : undefined;
      if (found !== undefined) return found;
    }
    return undefined;
  }

  private set(all: readonly Waiting[]) {
    this.all = all;
    if (this.file !== null) keep(`waiting.${this.file}`, JSON.stringify(all));
  }

  /** Sends a change; throws `NoConnection` when it waits now, and whatever else the server says. */
  async send(change: Change): Promise<Done> {
    const waiting: Waiting = { key: newKey(), change };
    // What was done later must not come first.
    if (this.all.length > 0) {
      this.set([...this.all, waiting]);
      throw new api.NoConnection("earlier changes wait");
    }
    try {
      return await api.doChange(change, waiting.key);
    } catch (error) {
      if (error instanceof api.NoConnection) this.set([...this.all, waiting]);
      throw error;
    }
  }

  /** Sends what waits, in its order, until the connection is lost again; tells what was refused. Gives how many went out; null when that is under way. */
  async flush(refused: (error: api.Refusal) => void): Promise<number | null> {
    if (this.going) return null;
    this.going = true;
    let out = 0;
    try {
      for (let first = this.all[0]; first; first = this.all[0]) {
        try {
          await api.doChange(first.change, first.key);
          out += 1;
        } catch (error) {
          if (!(error instanceof api.Refusal)) break;
          refused(error);
        }
        this.set(this.all.slice(1));
      }
    } finally {
      this.going = false;
    }
    return out;
  }
}

export const outbox = new Outbox();
