/** Draws cells of a field on a canvas, with codes where they can be read. */
import type { ColourRow } from "../../api/generated/ColourRow";
import { cellAt, type Grid } from "../../kernels/grid";
import type { Level } from "../../kernels/level";
import { DIM, ink } from "../../kernels/swatch";

export interface Picture {
  grid: Grid;
  columns: number;
  rows: number;
  cells: Uint16Array;
  /** Cells that are being painted: colour id, 0 for none, null for released. */
  pending: ReadonlyMap<number, number | null>;
  colours: ReadonlyMap<number, ColourRow>;
  level: Level;
  hall: boolean;
}

const BARE = "#23241f";

/** The colour of a cell as it will be once the stroke has arrived. */
function colourAt(p: Picture, index: number): number {
  const wanted = p.pending.get(index);
  return wanted ?? p.cells[index] ?? 0;
}

export function drawCells(g: CanvasRenderingContext2D, p: Picture): void {
  const [w, h] = [g.canvas.width, g.canvas.height];
  g.fillStyle = BARE;
  g.fillRect(0, 0, w, h);
  for (let row = 0; row < p.rows; row++) {
    const y = Math.round((row * h) / p.rows);
    const below = Math.round(((row + 1) * h) / p.rows);
    for (let column = 0; column < p.columns; column++) {
      const colour = p.colours.get(colourAt(p, cellAt(p.grid, column, row)));
      if (!colour) continue;
      const x = Math.round((column * w) / p.columns);
      g.fillStyle = colour.front;
      g.fillRect(x, y, Math.round(((column + 1) * w) / p.columns) - x, below - y);
    }
  }
  if (p.hall) {
    g.fillStyle = `rgb(0 0 0 / ${1 - DIM})`;
    g.fillRect(0, 0, w, h);
  }
  if (p.level === "runs" || p.level === "pieces" || p.level === "edges") drawCodes(g, p);
}

/** Codes on every piece, or at the start of each run where pieces are small. */
function drawCodes(g: CanvasRenderingContext2D, p: Picture): void {
  const [cw, ch] = [g.canvas.width / p.columns, g.canvas.height / p.rows];
  g.font = `700 ${Math.round(Math.min(cw * 0.8, ch * 0.8, 36))}px "Atkinson Next", sans-serif`;
  g.textAlign = "center";
  g.textBaseline = "middle";
  for (let row = 0; row < p.rows; row++) {
    let before = -1;
    for (let column = 0; column < p.columns; column++) {
      const id = colourAt(p, cellAt(p.grid, column, row));
      const colour = p.colours.get(id);
      if (colour && (p.level !== "runs" || id !== before)) {
        g.fillStyle = ink(colour.front, p.hall);
        g.fillText(colour.code, (column + 0.5) * cw, (row + 0.55) * ch);
      }
      before = id;
    }
  }
}

/** The cursor cell: two strokes, dark under light, so that it shows on any colour. */
export function drawCursor(g: CanvasRenderingContext2D, columns: number, rows: number, at: readonly [number, number]): void {
  const [cw, ch] = [g.canvas.width / columns, g.canvas.height / rows];
  for (const [style, width] of [["#0b0c0a", 5], ["#f3c04d", 2]] as const) {
    g.strokeStyle = style;
    g.lineWidth = width;
    g.strokeRect(at[0] * cw - 1, at[1] * ch - 1, cw + 2, ch + 2);
  }
}
