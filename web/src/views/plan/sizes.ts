/** How large pieces and their cells are drawn from above. */
import type { ItemRow } from "../../api/generated/ItemRow";
import type { KindRow } from "../../api/generated/KindRow";
import type { HallPieces } from "../../kernels/columns";

export interface Sizes {
  /** Along and across of a piece by kind and pose, mm. */
  piece: (kind: number, pose: number) => [number, number];
  /** Along and across of the cell around a piece of an item, mm. */
  cell: (item: number) => [number, number] | null;
  /** True for items that are not shown: their pieces have no size. */
  hides: (item: number) => boolean;
  /** The least pitch of all, mm. */
  least: number;
}

/** A usual piece, for a kind that nobody knows: mm. */
export const USUAL = { thickness: 7.5, width: 24, height: 48 };

/** Along, across and up of a piece by its pose: on end, on edge, flat. */
export function body(kind: Pick<KindRow, "thickness" | "width" | "height"> | undefined, pose: number): [number, number, number] {
  const { thickness: t, width: w, height: h } = kind ?? USUAL;
  return pose === 1 ? [t, h, w] : pose === 2 ? [h, w, t] : [t, w, h];
}

export function sizesOf(items: readonly ItemRow[], kinds: readonly KindRow[], hidden: ReadonlySet<number> = new Set()): Sizes {
  const byKind = new Map(kinds.map((k) => [k.id, k]));
  const byItem = new Map(items.map((i) => [i.id, i.pitch]));
  const pitches = items.map((i) => i.pitch[0]).filter((p) => p > 0);
  return {
    piece: (kind, pose) => {
      const [along, across] = body(byKind.get(kind), pose);
      return [along, across];
    },
    cell: (item) => {
      const pitch = byItem.get(item);
      return pitch && pitch[0] > 0 ? pitch : null;
    },
    hides: (item) => hidden.has(item),
    least: pitches.length ? Math.min(...pitches) : 15,
  };
}

/** The same words for the same sizes. */
export const sizesKey = (items: readonly ItemRow[], kinds: readonly KindRow[], hidden: ReadonlySet<number>): string =>
  JSON.stringify([items.map((i) => [i.id, ...i.pitch]), kinds.map((k) => [k.id, k.thickness, k.width, k.height]), [...hidden]]);

export interface Cells {
  /** Cell and piece, each along and across, mm: four numbers a row; all zero for what is not shown. */
  table: Float32Array;
  /** The row of each piece. */
  row: Uint16Array;
}

/** Few sizes are different: each piece points to its own in a table. Items after the 65 535th size get the last one. */
export function cellsOf(pieces: HallPieces, sizes: Sizes): Cells {
  const table: number[] = [0, 0, 0, 0];
  const row = new Uint16Array(pieces.n);
  const known = new Map<string, number>();
  for (const { id, first, count } of pieces.items) {
    if (sizes.hides(id)) continue;
    const cell = sizes.cell(id);
    const byKind = new Map<number, number>();
    for (let p = first; p < first + count; p++) {
      const sort = pieces.kind[p]! * 4 + pieces.pose[p]!;
      let at = byKind.get(sort);
      if (at === undefined) {
        const [along, across] = sizes.piece(pieces.kind[p]!, pieces.pose[p]!);
        const sides = [Math.max(along, cell?.[0] ?? along), Math.max(across, cell?.[1] ?? across), along, across];
        const name = sides.join();
        at = known.get(name) ?? Math.min(65_535, table.length / 4);
        if (!known.has(name) && table.length < 4 * 65_536) table.push(...sides);
        known.set(name, at);
        byKind.set(sort, at);
      }
      row[p] = at;
    }
  }
  return { table: Float32Array.from(table), row };
}

/** How near the view is: 0 draws cells, 1 true edges. */
export function nearness(pitchPixels: number): number {
  const x = Math.min(1, Math.max(0, (pitchPixels - 5) / 7));
  return x * x * (3 - 2 * x);
}
