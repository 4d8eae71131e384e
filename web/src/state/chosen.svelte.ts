/** The piece that somebody picked, and what the server says of it. */
import * as api from "../api/client";
import type { PieceInfo } from "../api/generated/PieceInfo";
import { itemOf } from "../kernels/columns";
import { hall } from "./hall.svelte";
import { plan } from "./plan.svelte";

export class Chosen {
  piece = $state<number | null>(null);
  /** Null until the server has answered. */
  info = $state.raw<PieceInfo | null>(null);

  /** `touch` says what stands, as the query of a touch map; nothing for the whole plan with all gaps closed. */
  constructor(private readonly touch: () => string = () => "") {}

  /** The name of its item. */
  readonly title = $derived(this.piece === null ? "" : pieceItem(this.piece));

  async choose(piece: number) {
    this.piece = piece;
    this.info = null;
    try {
      const told = await api.getPiece(piece, this.touch());
      if (this.piece === piece) this.info = told;
    } catch (error) {
      if (error instanceof api.Refusal) this.piece = null;
    }
  }

  drop() {
    this.piece = null;
    this.info = null;
  }
}

/** The name of a piece's item; empty while nobody knows it. */
export function pieceItem(piece: number): string {
  return hall.pieces ? plan.itemName(itemOf(hall.pieces, piece)) : "";
}
