/**
 * How rows and columns of a picture map to lanes and ranks; the same table as in the engine.
 * Lane 0 is at the right hand of the fall, rank 0 at the entry; picture row 0 is at the top.
 */
import type { Fall } from "../api/generated/Fall";

export interface Grid {
  lanes: number;
  ranks: number;
  fall: Fall;
}

/** Columns and rows of the upright picture. */
export function pictureSize(g: Grid): { columns: number; rows: number } {
  const across = g.fall === "right" || g.fall === "left";
  return across ? { columns: g.ranks, rows: g.lanes } : { columns: g.lanes, rows: g.ranks };
}

/** Index, lane by lane, of the cell that shows at a column and row of the picture. */
export function cellAt(g: Grid, column: number, row: number): number {
  const [lane, rank] = spotAt(g, column, row);
  return lane * g.ranks + rank;
}

/** Lane and rank, from 0, at a column and row of the picture. */
export function spotAt(g: Grid, column: number, row: number): [lane: number, rank: number] {
  switch (g.fall) {
    case "right":
      return [g.lanes - 1 - row, column];
    case "up":
      return [g.lanes - 1 - column, g.ranks - 1 - row];
    case "left":
      return [row, g.ranks - 1 - column];
    case "down":
      return [column, row];
  }
}

/** Cells on the straight stroke between two picture cells, both ends included. */
export function stroke(from: readonly [number, number], to: readonly [number, number]): [number, number][] {
  const steps = Math.max(Math.abs(to[0] - from[0]), Math.abs(to[1] - from[1]));
  const out: [number, number][] = [];
  for (let i = 0; i <= steps; i++) {
    const share = steps === 0 ? 0 : i / steps;
    out.push([Math.round(from[0] + (to[0] - from[0]) * share), Math.round(from[1] + (to[1] - from[1]) * share)]);
  }
  return out;
}

/** Width against height of one cell in the picture. */
export function cellAspect(fall: Fall, along: number, across: number): number {
  return fall === "right" || fall === "left" ? along / across : across / along;
}
