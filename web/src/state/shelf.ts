/** Changes that no answer came to yet, kept in this browser: each by itself, under the window that made it, so that windows leave each other's alone. */
import type { Change } from "../api/generated/Change";
import { withIds } from "../kernels/waiting";
import { drop, keep, kept, namesOf } from "./kept";

/** What is kept of a change. */
export interface Shelved {
  /** The server counts it once under this key. */
  key: string;
  change: Change;
  /** What it does, in words. */
  words: string;
  /** The numbers of its window for the items that it adds, in their order. */
  adds: readonly number[];
  /** It was sent, and nobody knows whether it came through. */
  sent: boolean;
  /** It is taken back: sent only where it may have come through, to be undone there. */
  back: boolean;
  /** The plan's newest change when it was made. */
  base: number;
}

/** Every open window answers within so many milliseconds. */
const ANSWER = 1500;

/** Names have to differ between windows; plain http on a network has no `randomUUID`. */
export function newKey(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return [...bytes].map((b) => b.toString(16).padStart(2, "0")).join("");
}

/** This window: names of later ones come later in the alphabet. */
const WINDOW = `${Date.now().toString(36).padStart(10, "0")}-${newKey()}`;

type Call = { asks: string } | { here: string };
const channel = typeof BroadcastChannel === "undefined" ? null : new BroadcastChannel("standfast.windows");
channel?.addEventListener("message", ({ data }: MessageEvent<Call>) => {
  if ("asks" in data) channel.postMessage({ here: WINDOW });
});

/** The other windows of this browser that are open. */
function others(): Promise<Set<string>> {
  return new Promise((resolve) => {
    const here = new Set<string>();
    const hear = ({ data }: MessageEvent<Call>) => void ("here" in data && here.add(data.here));
    channel?.addEventListener("message", hear);
    channel?.postMessage({ asks: WINDOW });
    setTimeout(() => {
      channel?.removeEventListener("message", hear);
      resolve(here);
    }, ANSWER);
  });
}

const sound = (one: unknown): one is Shelved => {
  const w = one as Partial<Shelved> | null;
  return typeof w?.key === "string" && typeof w.change === "object" && w.change !== null && Array.isArray(w.adds) && typeof w.base === "number";
};

function read(name: string): Shelved | null {
  try {
    const one: unknown = JSON.parse(kept(name) ?? "null");
    // What cannot be read was not kept by this program.
    return sound(one) ? one : null;
  } catch {
    return null;
  }
}

/** The shelf of this window for one plan. */
export class Shelf {
  private next = 0;

  /** `plan`: a name that no other plan has, without a slash. */
  constructor(private readonly plan: string) {}

  /** A place for one more; what was put there first comes first. */
  place(): string {
    this.next += 1;
    return `waiting.${this.plan}/${WINDOW}/${String(this.next).padStart(9, "0")}`;
  }

  /** Keeps one at its place; false when the browser does not take it. */
  put(place: string, { key, change, words, adds, sent, back, base }: Shelved): boolean {
    return keep(place, JSON.stringify({ key, change, words, adds, sent, back, base }));
  }

  take(place: string): void {
    drop(place);
  }

  /**
   * Takes over what windows left that are open no more, in the order of its making. `number` gives new items numbers that
   * nobody else has in this window.
   */
  async inherit(number: () => number): Promise<{ place: string; one: Shelved }[]> {
    const found = namesOf(`waiting.${this.plan}/`).sort();
    if (!found.length) return [];
    const open = await others();
    const numbers = new Map<string, Map<number, number>>();
    const known = new Set<string>();
    return found.flatMap((name) => {
      const window = name.split("/")[1] ?? "";
      if (open.has(window)) return [];
      const one = read(name);
      if (!one || known.has(one.key)) {
        drop(name);
        return [];
      }
      known.add(one.key);
      // Windows number their new items each by itself.
      const own = numbers.get(window) ?? new Map<number, number>();
      numbers.set(window, own);
      one.adds.forEach((add) => own.set(add, number()));
      const mine = { ...one, adds: one.adds.map((add) => own.get(add)!), change: withIds(one.change, own) };
      const place = this.place();
      // Without room for both it stays where it lies.
      if (!this.put(place, mine)) return [{ place: name, one: mine }];
      drop(name);
      return [{ place, one: mine }];
    });
  }
}
