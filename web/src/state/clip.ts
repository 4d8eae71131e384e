/**
 * What was copied or cut on the floor. What was cut stays where it is until it is pasted, so that what leads to it comes along
 * whole. The server keeps what was copied as it was then: it can be set down although it was changed or taken away since, and
 * in another window of this browser.
 */
import type { Change } from "../api/generated/Change";
import type { Done } from "../api/generated/Done";
import type { ItemRow } from "../api/generated/ItemRow";
import type { Box, Pair } from "../kernels/floor";
import { boxAround } from "../tools/pick";
import { keep, kept } from "./kept";

interface Kept {
  ids: readonly number[];
  cut: boolean;
  /** What the server keeps it under; null while it does not. */
  copied: string | null;
  /** Around it where it was copied, mm. */
  box: Box | null;
  /** How far the last one was pasted, mm, and where the pointer was then. */
  by: Pair;
  at: Pair | null;
}

/** Where it is kept for other windows. */
export interface Shelf {
  get: () => string | null;
  set: (text: string) => void;
}

export class Clip {
  private own: Kept | null = null;

  constructor(private readonly shelf: Shelf | null = null) {}

  /** What was copied last, in this window or another one of the same plan. */
  private get kept(): Kept | null {
    const text = this.shelf?.get();
    if (text == null) return this.own;
    try {
      const told = JSON.parse(text) as Kept;
      return Array.isArray(told.ids) ? told : this.own;
    } catch {
      return this.own;
    }
  }

  private keep(kept: Kept) {
    this.own = kept;
    this.shelf?.set(JSON.stringify(kept));
  }

  /** Takes items; `keeps` has them kept by the server. */
  async take(rows: readonly ItemRow[], cut: boolean, keeps: (ids: readonly number[]) => Promise<string | null>) {
    const ids = rows.map((i) => i.id);
    this.keep({ ids, cut, copied: null, box: boxAround(rows), by: [0, 0], at: null });
    const copied = await keeps(ids);
    const now = this.kept;
    // Something else may have been copied meanwhile.
    if (now && copied !== null && now.copied === null && now.ids.join() === ids.join()) this.keep({ ...now, copied });
  }

  get empty(): boolean {
    return this.kept === null;
  }

  /** The one step that sets it down: its middle at the pointer, or beside the last one; null when nothing of it is there any more. */
  paste(items: readonly ItemRow[], pointer: Pair | null): Change | null {
    const { kept } = this;
    if (!kept) return null;
    const ids = new Set(kept.ids);
    const rows = items.filter((i) => ids.has(i.id));
    // What was cut moves, as long as all of it is there.
    const moves = kept.cut && rows.length === kept.ids.length;
    const { copied } = kept;
    const box = moves || copied === null ? boxAround(rows) : kept.box;
    if (!box) return null;
    const same = pointer === null || (kept.at !== null && Math.hypot(pointer[0] - kept.at[0], pointer[1] - kept.at[1]) < 1);
    const by: [number, number] = same
      ? [kept.by[0] + Math.ceil((box.x1 - box.x0) / 50) * 50 + 300, kept.by[1]]
      : [Math.round(pointer[0] - (box.x0 + box.x1) / 2), Math.round(pointer[1] - (box.y0 + box.y1) / 2)];
    if (moves) {
      // The next one is a copy of it where it lies then.
      this.keep({ ...kept, cut: false, copied: null, by: [0, 0], at: pointer });
      return { do: "arrange", items: rows.map((i) => i.id), how: { is: "move", by } };
    }
    this.keep({ ...kept, cut: false, by, at: pointer });
    if (copied !== null) return { do: "paste", copied, by };
    return { do: "arrange", items: rows.map((i) => i.id), how: { is: "copy", by, times: 1, turn: 0 } };
  }

  /** What was kept is not any more: what of it is in the plan can still be copied. */
  lost() {
    const { kept } = this;
    if (kept) this.keep({ ...kept, copied: null });
  }

  /** What to choose once it was pasted. */
  static pasted(change: Change, done: Done): number[] {
    return change.do === "arrange" && change.how.is === "move" ? change.items : done.items;
  }
}

/** The clip of a plan, shared by its windows. */
let file = "";
export const clip = new Clip({ get: () => kept(`clip.${file}`), set: (text) => keep(`clip.${file}`, text) });
export const clipOf = (plan: string) => {
  file = plan;
};
