/** What was copied or cut on the floor. It stays where it is until it is pasted, so that what it holds and leads to comes along whole. */
import type { Change } from "../api/generated/Change";
import type { Done } from "../api/generated/Done";
import type { ItemRow } from "../api/generated/ItemRow";
import type { Pair } from "../kernels/floor";
import { boxAround } from "../tools/pick";

interface Kept {
  ids: readonly number[];
  cut: boolean;
  /** How far the last one was pasted, mm, and where the pointer was then. */
  by: Pair;
  at: Pair | null;
}

export class Clip {
  private kept: Kept | null = null;

  take(ids: readonly number[], cut: boolean) {
    this.kept = { ids: [...ids], cut, by: [0, 0], at: null };
  }

  get empty(): boolean {
    return this.kept === null;
  }

  /** What of it is still there. */
  rows(items: readonly ItemRow[]): ItemRow[] {
    const ids = new Set(this.kept?.ids);
    return items.filter((i) => ids.has(i.id));
  }

  /** The one step that sets it down: its middle at the pointer, or beside the last one; null when nothing of it is there any more. */
  paste(items: readonly ItemRow[], pointer: Pair | null): Change | null {
    const rows = this.rows(items);
    const box = boxAround(rows);
    if (!this.kept || !box) return null;
    const { at, by: last, cut } = this.kept;
    const same = pointer === null || (at !== null && Math.hypot(pointer[0] - at[0], pointer[1] - at[1]) < 1);
    const by: [number, number] = same
      ? [last[0] + Math.ceil((box.x1 - box.x0) / 50) * 50 + 300, last[1]]
      : [Math.round(pointer[0] - (box.x0 + box.x1) / 2), Math.round(pointer[1] - (box.y0 + box.y1) / 2)];
    // What was cut has moved; the next one is a copy of it.
    this.kept = cut ? { ...this.kept, cut: false, by: [0, 0], at: pointer } : { ...this.kept, by, at: pointer };
    const ids = rows.map((i) => i.id);
    return { do: "arrange", items: ids, how: cut ? { is: "move", by } : { is: "copy", by, times: 1, turn: 0 } };
  }

  /** What to choose once it was pasted. */
  static pasted(change: Change, done: Done): number[] {
    return change.do === "arrange" && change.how.is === "move" ? change.items : done.items;
  }
}

export const clip = new Clip();
