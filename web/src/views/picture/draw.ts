/** Draws the cells of a field as they are edited: one pixel a cell first, then enlarged, with marks where there is room. */
import type { ColourRow } from "../../api/generated/ColourRow";
import type { Mask, Sight, Size, Spot, Symmetry } from "../../kernels/cells";
import type { Level } from "../../kernels/level";
import { DIM, ink, rgb } from "../../kernels/swatch";
import type { Drawn } from "../../state/cells.svelte";

export interface Picture {
  size: Size;
  /** Width of a cell against its height. */
  aspect: number;
  sight: Sight;
  cells: Uint16Array;
  byHand: Mask | null;
  pending: Drawn;
  ghost: Drawn;
  choice: Mask | null;
  colours: ReadonlyMap<number, ColourRow>;
  level: Level;
  hall: boolean;
  symmetry: Symmetry;
  cursor: Spot;
}

// What lies over a picture has a dark casing and a light line in every look, so that it shows on any colour.
const BARE = "#23241f";
const CASING = "#0b0c0a";
const LIT = "#f3c04d";
const PALE = "#ffffff";
const GRID_FROM = 10;
const MARKS_FROM = 14;
const OUTLINE_FROM = 4;

/** A bitmap of one pixel a cell, kept between drawings. */
class Plate {
  private canvas = document.createElement("canvas");
  private kept: readonly unknown[] = [];

  /** Fills it anew when something that it shows has changed. */
  of(size: Size, shows: readonly unknown[], fill: (pixels: Uint32Array) => void): HTMLCanvasElement {
    if (shows.length === this.kept.length && shows.every((s, i) => s === this.kept[i])) return this.canvas;
    this.kept = shows;
    [this.canvas.width, this.canvas.height] = [size.columns, size.rows];
    const image = new ImageData(size.columns, size.rows);
    fill(new Uint32Array(image.data.buffer));
    this.canvas.getContext("2d")?.putImageData(image, 0, 0);
    return this.canvas;
  }
}

/** A colour as a pixel of image data; low byte first on every machine that runs a browser. */
const pixel = (hex: string, alpha = 255) => {
  const [r, g, b] = rgb(hex);
  return ((alpha << 24) | (b << 16) | (g << 8) | r) >>> 0;
};

export class CellPainter {
  private base = new Plate();
  private over = new Plate();
  private dim = new Plate();

  draw(g: CanvasRenderingContext2D, p: Picture, width: number, height: number): void {
    const [w, h] = [p.size.columns * p.sight.zoom, (p.size.rows * p.sight.zoom) / p.aspect];
    const { x, y } = p.sight;
    g.clearRect(0, 0, width, height);
    g.imageSmoothingEnabled = p.sight.zoom < 1;
    g.drawImage(this.cells(p), x, y, w, h);
    if (p.pending.size + p.ghost.size > 0) g.drawImage(this.strokes(p), x, y, w, h);
    if (p.hall) {
      g.fillStyle = `rgb(0 0 0 / ${1 - DIM})`;
      g.fillRect(x, y, w, h);
    }
    const seen = visible(p, width, height);
    if (p.sight.zoom >= GRID_FROM) grid(g, p, seen);
    if (p.level === "runs" || p.level === "pieces" || p.level === "edges") codes(g, p, seen);
    if (p.sight.zoom >= MARKS_FROM && p.byHand) marks(g, p, p.byHand, seen);
    if (p.choice) g.drawImage(this.veil(p, p.choice), x, y, w, h);
    if (p.choice && p.sight.zoom >= OUTLINE_FROM) outline(g, p, p.choice, seen);
    axes(g, p, w, h);
    cursor(g, p);
  }

  private cells(p: Picture): HTMLCanvasElement {
    return this.base.of(p.size, [p.cells, p.colours], (pixels) => {
      const bare = pixel(BARE);
      const of = table(p.colours);
      for (let i = 0; i < pixels.length; i++) pixels[i] = of[p.cells[i]!] ?? bare;
    });
  }

  private strokes(p: Picture): HTMLCanvasElement {
    return this.over.of(p.size, [p.pending, p.ghost, p.colours, p.cells], (pixels) => {
      const bare = pixel(BARE);
      const of = table(p.colours);
      for (const drawn of [p.ghost, p.pending]) for (const [cell, colour] of drawn) pixels[cell] = of[colour ?? p.cells[cell]!] ?? bare;
    });
  }

  /** What is not chosen is covered, so that the choice shows also where cells are too small for its outline. */
  private veil(p: Picture, choice: Mask): HTMLCanvasElement {
    return this.dim.of(p.size, [choice], (pixels) => {
      const shade = pixel("#000000", 120);
      for (let i = 0; i < pixels.length; i++) if (choice[i] === 0) pixels[i] = shade;
    });
  }
}

function table(colours: ReadonlyMap<number, ColourRow>): (number | undefined)[] {
  const of: (number | undefined)[] = [];
  for (const [id, colour] of colours) of[id] = pixel(colour.front);
  return of;
}

interface Window {
  left: number;
  right: number;
  top: number;
  bottom: number;
}

/** Columns and rows that lie in the room, the last ones included. */
function visible(p: Picture, width: number, height: number): Window {
  const [cw, ch] = [p.sight.zoom, p.sight.zoom / p.aspect];
  return {
    left: Math.max(0, Math.floor(-p.sight.x / cw)),
    right: Math.min(p.size.columns - 1, Math.floor((width - p.sight.x) / cw)),
    top: Math.max(0, Math.floor(-p.sight.y / ch)),
    bottom: Math.min(p.size.rows - 1, Math.floor((height - p.sight.y) / ch)),
  };
}

const corner = (p: Picture, column: number, row: number): Spot => [p.sight.x + column * p.sight.zoom, p.sight.y + (row * p.sight.zoom) / p.aspect];

function grid(g: CanvasRenderingContext2D, p: Picture, s: Window) {
  const path = new Path2D();
  const [[x0, y0], [x1, y1]] = [corner(p, s.left, s.top), corner(p, s.right + 1, s.bottom + 1)];
  for (let c = s.left; c <= s.right + 1; c++) {
    const [x] = corner(p, c, 0);
    path.moveTo(x, y0);
    path.lineTo(x, y1);
  }
  for (let r = s.top; r <= s.bottom + 1; r++) {
    const [, y] = corner(p, 0, r);
    path.moveTo(x0, y);
    path.lineTo(x1, y);
  }
  g.strokeStyle = "rgb(11 12 10 / .45)";
  g.lineWidth = 1;
  g.stroke(path);
}

/** Codes on every piece, or at the start of each run where pieces are small. */
function codes(g: CanvasRenderingContext2D, p: Picture, s: Window) {
  const [cw, ch] = [p.sight.zoom, p.sight.zoom / p.aspect];
  const inks = new Map<number, string>();
  g.font = `700 ${Math.round(Math.min(cw * 0.8, ch * 0.8, 30))}px "Atkinson Next", sans-serif`;
  g.textAlign = "center";
  g.textBaseline = "middle";
  for (let row = s.top; row <= s.bottom; row++) {
    let before = -1;
    for (let column = s.left; column <= s.right; column++) {
      const i = row * p.size.columns + column;
      const id = p.pending.get(i) ?? p.ghost.get(i) ?? p.cells[i]!;
      const colour = p.colours.get(id);
      if (colour && (p.level !== "runs" || id !== before)) {
        if (!inks.has(id)) inks.set(id, ink(colour.front, p.hall));
        g.fillStyle = inks.get(id)!;
        const [x, y] = corner(p, column + 0.5, row + 0.54);
        g.fillText(colour.code, x, y);
      }
      before = id;
    }
  }
}

/** A cut corner for each cell that was set by hand. */
function marks(g: CanvasRenderingContext2D, p: Picture, byHand: Mask, s: Window) {
  const long = Math.max(4, p.sight.zoom * 0.22);
  const path = new Path2D();
  for (let row = s.top; row <= s.bottom; row++) {
    for (let column = s.left; column <= s.right; column++) {
      const to = p.pending.get(row * p.size.columns + column);
      if (to === null || (to === undefined && byHand[row * p.size.columns + column] === 0)) continue;
      const [x, y] = corner(p, column, row);
      path.moveTo(x, y);
      path.lineTo(x + long, y);
      path.lineTo(x, y + long);
      path.closePath();
    }
  }
  g.fillStyle = PALE;
  g.strokeStyle = CASING;
  g.lineWidth = 1;
  g.fill(path);
  g.stroke(path);
}

function twice(g: CanvasRenderingContext2D, path: Path2D, light: string, wide = 2) {
  for (const [style, width] of [[CASING, wide + 2.5], [light, wide]] as const) {
    g.strokeStyle = style;
    g.lineWidth = width;
    g.stroke(path);
  }
}

function outline(g: CanvasRenderingContext2D, p: Picture, choice: Mask, s: Window) {
  const path = new Path2D();
  const has = (c: number, r: number) => c >= 0 && r >= 0 && c < p.size.columns && r < p.size.rows && choice[r * p.size.columns + c] === 1;
  const edge = (from: Spot, to: Spot) => {
    path.moveTo(...from);
    path.lineTo(...to);
  };
  for (let r = s.top; r <= s.bottom + 1; r++) {
    for (let c = s.left; c <= s.right + 1; c++) {
      if (has(c, r) !== has(c, r - 1)) edge(corner(p, c, r), corner(p, c + 1, r));
      if (has(c, r) !== has(c - 1, r)) edge(corner(p, c, r), corner(p, c, r + 1));
    }
  }
  twice(g, path, PALE, 1.5);
}

/** The axes that a stroke is mirrored at. */
function axes(g: CanvasRenderingContext2D, p: Picture, w: number, h: number) {
  if (p.symmetry === "none") return;
  const path = new Path2D();
  const { x, y } = p.sight;
  if (p.symmetry !== "ends") {
    path.moveTo(x + w / 2, y);
    path.lineTo(x + w / 2, y + h);
  }
  if (p.symmetry !== "sides") {
    path.moveTo(x, y + h / 2);
    path.lineTo(x + w, y + h / 2);
  }
  g.setLineDash([10, 6]);
  twice(g, path, LIT, 1.5);
  g.setLineDash([]);
}

function cursor(g: CanvasRenderingContext2D, p: Picture) {
  const [x, y] = corner(p, p.cursor[0], p.cursor[1]);
  const path = new Path2D();
  path.rect(x - 1, y - 1, p.sight.zoom + 2, p.sight.zoom / p.aspect + 2);
  twice(g, path, LIT);
}
