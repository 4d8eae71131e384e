/**
 * Cells of a picture as geometry: brushes, lines, fills, lassos, symmetry, patches, and how all of it travels.
 * A cell is a number, row by row from the top left: row * columns + column. A choice of cells is a mask, 1 where chosen.
 */

export interface Size {
  columns: number;
  rows: number;
}
export type Spot = readonly [column: number, row: number];
export type Mask = Uint8Array;
export type Symmetry = "none" | "sides" | "ends" | "both";
/** How a choice meets the one before it. */
export type Joining = "new" | "add" | "subtract";

const inside = (s: Size, column: number, row: number) => column >= 0 && row >= 0 && column < s.columns && row < s.rows;
const all = (s: Size) => s.columns * s.rows;

/** The straight line of cells between two, both included: each next cell touches the one before it (Bresenham). */
export function line(from: Spot, to: Spot): Spot[] {
  const [dx, dy] = [Math.abs(to[0] - from[0]), Math.abs(to[1] - from[1])];
  const [sx, sy] = [Math.sign(to[0] - from[0]), Math.sign(to[1] - from[1])];
  const out: Spot[] = [];
  let [x, y] = from;
  let error = dx - dy;
  for (;;) {
    out.push([x, y]);
    if (x === to[0] && y === to[1]) return out;
    const twice = 2 * error;
    if (twice > -dy) {
      error -= dy;
      x += sx;
    }
    if (twice < dx) {
      error += dx;
      y += sy;
    }
  }
}

/** Offsets of the cells of a round brush `width` cells wide; an even one reaches one cell farther right and down. */
function dab(width: number): Spot[] {
  const middle = (width - 1) / 2;
  const low = -Math.floor(middle);
  const out: Spot[] = [];
  for (let y = low; y < low + width; y++) {
    for (let x = low; x < low + width; x++) {
      const [ox, oy] = [x - (middle + low), y - (middle + low)];
      // A quarter of a cell more than the radius: small brushes else have thin corners.
      if (ox * ox + oy * oy <= (width / 2) ** 2 + 0.25) out.push([x, y]);
    }
  }
  return out;
}

/** Cells under a brush that goes along a path. */
export function brushed(path: readonly Spot[], width: number, size: Size): Set<number> {
  const out = new Set<number>();
  const offsets = dab(width);
  path.forEach((to, i) => {
    for (const [x, y] of line(path[Math.max(0, i - 1)]!, to)) {
      for (const [ox, oy] of offsets) if (inside(size, x + ox, y + oy)) out.add((y + oy) * size.columns + x + ox);
    }
  });
  return out;
}

/** Cells of the rectangle between two corners, both included; its edge alone unless it is filled. */
export function rectangle(from: Spot, to: Spot, size: Size, filled = true): Set<number> {
  const [left, right] = [Math.max(0, Math.min(from[0], to[0])), Math.min(size.columns - 1, Math.max(from[0], to[0]))];
  const [top, bottom] = [Math.max(0, Math.min(from[1], to[1])), Math.min(size.rows - 1, Math.max(from[1], to[1]))];
  const out = new Set<number>();
  for (let row = top; row <= bottom; row++) {
    const edge = filled || row === top || row === bottom;
    for (let column = left; column <= right; column += edge ? 1 : Math.max(1, right - left)) out.add(row * size.columns + column);
  }
  return out;
}

/** The region of one colour around a cell: what is reached over edges, not over corners, within a choice if there is one. */
export function flood(cells: ArrayLike<number>, size: Size, at: Spot, within: Mask | null = null): Set<number> {
  const out = new Set<number>();
  if (!inside(size, at[0], at[1])) return out;
  const start = at[1] * size.columns + at[0];
  const colour = cells[start];
  const takes = (i: number) => cells[i] === colour && !out.has(i) && (!within || within[i] === 1);
  if (!takes(start)) return out;
  // Row by row: each entry of the stack is a cell from which a whole run is taken.
  const stack = [start];
  while (stack.length > 0) {
    const seed = stack.pop()!;
    if (!takes(seed)) continue;
    const first = seed - (seed % size.columns);
    let [from, to] = [seed, seed];
    while (from > first && takes(from - 1)) from--;
    while (to < first + size.columns - 1 && takes(to + 1)) to++;
    for (let i = from; i <= to; i++) out.add(i);
    for (const other of [-size.columns, size.columns]) {
      let open = false;
      for (let i = Math.max(0, from + other); i <= to + other && i < all(size); i++) {
        const here = takes(i);
        if (here && !open) stack.push(i);
        open = here;
      }
    }
  }
  return out;
}

/** All cells of a colour, within a choice if there is one. */
export function sameColour(cells: ArrayLike<number>, colour: number, within: Mask | null = null): Set<number> {
  const out = new Set<number>();
  for (let i = 0; i < cells.length; i++) if (cells[i] === colour && (!within || within[i] === 1)) out.add(i);
  return out;
}

/** Cells that a closed path of cells goes around, and those that it goes over. */
export function lasso(path: readonly Spot[], size: Size): Set<number> {
  const out = brushed(path, 1, size);
  if (path.length === 0) return out;
  const closed = [...path, path[0]!];
  for (const [x, y] of line(path.at(-1)!, path[0]!)) if (inside(size, x, y)) out.add(y * size.columns + x);
  const rows = closed.map((p) => p[1]);
  const bottom = Math.min(size.rows - 1, rows.reduce((a, b) => Math.max(a, b)));
  for (let row = Math.max(0, rows.reduce((a, b) => Math.min(a, b))); row <= bottom; row++) {
    // Where the path crosses the middles of this row, from left to right; a corner counts for the edge below it alone.
    const cuts: number[] = [];
    for (let i = 1; i < closed.length; i++) {
      const [a, b] = [closed[i - 1]!, closed[i]!];
      if ((a[1] <= row) !== (b[1] <= row)) cuts.push(a[0] + ((row - a[1]) * (b[0] - a[0])) / (b[1] - a[1]));
    }
    cuts.sort((a, b) => a - b);
    for (let i = 0; i + 1 < cuts.length; i += 2) {
      const end = Math.min(size.columns - 1, Math.floor(cuts[i + 1]!));
      for (let column = Math.max(0, Math.ceil(cuts[i]!)); column <= end; column++) out.add(row * size.columns + column);
    }
  }
  return out;
}

/** A cell and its mirror images; a cell on the axis is its own. */
export function mirrored(cell: number, size: Size, symmetry: Symmetry): number[] {
  const [column, row] = [cell % size.columns, Math.floor(cell / size.columns)];
  const at = (c: number, r: number) => r * size.columns + c;
  const [over, down] = [size.columns - 1 - column, size.rows - 1 - row];
  const images = [cell];
  if (symmetry === "sides" || symmetry === "both") images.push(at(over, row));
  if (symmetry === "ends" || symmetry === "both") images.push(at(column, down));
  if (symmetry === "both") images.push(at(over, down));
  return images;
}

/** A choice joined with more cells. */
export function joined(before: Mask | null, cells: Iterable<number>, how: Joining, size: Size): Mask {
  const mask = before && how !== "new" ? Uint8Array.from(before) : new Uint8Array(all(size));
  for (const cell of cells) mask[cell] = how === "subtract" ? 0 : 1;
  return mask;
}

export const chosen = (mask: Mask | null): number => mask?.reduce((sum, bit) => sum + bit, 0) ?? 0;

/** Cells cut out of a picture; -1 where nothing was taken. */
export interface Patch extends Size {
  cells: Int32Array;
}

/** Copies the chosen cells with the room around them; null when none is chosen. */
export function cut(cells: ArrayLike<number>, size: Size, mask: Mask): Patch | null {
  let [left, right, top, bottom] = [size.columns, -1, size.rows, -1];
  mask.forEach((bit, i) => {
    if (bit === 0) return;
    const [column, row] = [i % size.columns, Math.floor(i / size.columns)];
    [left, right, top, bottom] = [Math.min(left, column), Math.max(right, column), Math.min(top, row), Math.max(bottom, row)];
  });
  if (right < 0) return null;
  const patch: Patch = { columns: right - left + 1, rows: bottom - top + 1, cells: new Int32Array((right - left + 1) * (bottom - top + 1)) };
  patch.cells.forEach((_, i) => {
    const cell = (top + Math.floor(i / patch.columns)) * size.columns + left + (i % patch.columns);
    patch.cells[i] = mask[cell] === 1 ? cells[cell]! : -1;
  });
  return patch;
}

/** A quarter turn to the right. */
export function turned(patch: Patch): Patch {
  const cells = patch.cells.map((_, i) => {
    const [column, row] = [i % patch.rows, Math.floor(i / patch.rows)];
    return patch.cells[(patch.rows - 1 - column) * patch.columns + row]!;
  });
  return { columns: patch.rows, rows: patch.columns, cells };
}

/** Left and right changed over. */
export function flipped(patch: Patch): Patch {
  const cells = patch.cells.map((_, i) => patch.cells[i - (i % patch.columns) + patch.columns - 1 - (i % patch.columns)]!);
  return { ...patch, cells };
}

/** What a patch sets where its middle is put at a cell; what sticks out is left off. */
export function stamped(patch: Patch, at: Spot, size: Size): Map<number, number> {
  const out = new Map<number, number>();
  const [left, top] = [at[0] - ((patch.columns - 1) >> 1), at[1] - ((patch.rows - 1) >> 1)];
  patch.cells.forEach((colour, i) => {
    const [column, row] = [left + (i % patch.columns), top + Math.floor(i / patch.columns)];
    if (colour >= 0 && inside(size, column, row)) out.set(row * size.columns + column, colour);
  });
  return out;
}

/** Cell numbers, ascending, as runs: how many are left out, how many are taken, and so on. */
export function toRuns(ascending: ArrayLike<number>): number[] {
  const runs: number[] = [];
  let end = 0;
  for (let i = 0; i < ascending.length; i++) {
    const cell = ascending[i]!;
    if (cell === end && runs.length > 0) runs[runs.length - 1]!++;
    else runs.push(cell - end, 1);
    end = cell + 1;
  }
  return runs;
}

export interface Stroke {
  colour: number | null;
  runs: number[];
}

/** What was drawn as strokes, one for each colour; `null` stands for release. `order` gives a cell's number on the wire. */
export function toStrokes(drawn: ReadonlyMap<number, number | null>, order: (cell: number) => number): Stroke[] {
  const by = new Map<number | null, number[]>();
  for (const [cell, colour] of drawn) {
    const list = by.get(colour);
    if (list) list.push(order(cell));
    else by.set(colour, [order(cell)]);
  }
  return [...by].map(([colour, cells]) => ({ colour, runs: toRuns(Uint32Array.from(cells).sort()) }));
}

/** How many more pieces of a colour the drawn cells take than what lies there. */
export function moreOf(colour: number, drawn: ReadonlyMap<number, number | null>, cells: ArrayLike<number>): number {
  let more = 0;
  for (const [cell, to] of drawn) if (to !== null) more += Number(to === colour) - Number(cells[cell] === colour);
  return more;
}

/** What of the picture is shown: pixels a column, and where the picture's left top lies in the room. */
export interface Sight {
  zoom: number;
  x: number;
  y: number;
}

/** Changes the zoom so that what lies under a point stays there. */
export function zoomed(sight: Sight, factor: number, at: Spot, least: number, most: number): Sight {
  const zoom = Math.min(most, Math.max(least, sight.zoom * factor));
  const by = zoom / sight.zoom;
  return { zoom, x: at[0] - (at[0] - sight.x) * by, y: at[1] - (at[1] - sight.y) * by };
}

/** Keeps a picture of `w` x `h` pixels in a room: in the middle where it is smaller, else without a bare edge. */
export function held(sight: Sight, picture: Spot, room: Spot): Sight {
  const one = (at: number, long: number, wide: number) => (long <= wide ? (wide - long) / 2 : Math.min(0, Math.max(wide - long, at)));
  return { zoom: sight.zoom, x: one(sight.x, picture[0], room[0]), y: one(sight.y, picture[1], room[1]) };
}
