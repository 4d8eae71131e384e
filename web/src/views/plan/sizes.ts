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

/** Cell and piece, along and across, in quarters of a millimetre: four numbers a piece. */
export function cellsOf(pieces: HallPieces, sizes: Sizes): Uint16Array {
  const out = new Uint16Array(4 * pieces.n);
  for (const { id, first, count } of pieces.items) {
    if (sizes.hides(id)) continue;
    const cell = sizes.cell(id);
    for (let p = first; p < first + count; p++) {
      const [along, across] = sizes.piece(pieces.kind[p]!, pieces.pose[p]!);
      out[4 * p] = Math.min(65_535, 4 * Math.max(along, cell?.[0] ?? along));
      out[4 * p + 1] = Math.min(65_535, 4 * Math.max(across, cell?.[1] ?? across));
      out[4 * p + 2] = Math.min(65_535, 4 * along);
      out[4 * p + 3] = Math.min(65_535, 4 * across);
    }
  }
  return out;
}

/** How near the view is: 0 draws cells, 1 true edges. */
export function nearness(pitchPixels: number): number {
  const x = Math.min(1, Math.max(0, (pitchPixels - 5) / 7));
  return x * x * (3 - 2 * x);
}
