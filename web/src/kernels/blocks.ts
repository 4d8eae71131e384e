/** Blocks of pieces that follow each other, and which of them a window shows: what is out of sight is not drawn. */

export interface Blocks {
  /** West, south, east and north of each block, mm: four numbers a block. */
  bounds: Float32Array;
}

/** Runs of blocks with so many unseen ones between them are drawn at once: a call costs more than what it saves. */
const BRIDGE = 4;

/** Blocks of `block` pieces each from `place` (x, y and two numbers more a piece), widened by `reach` around each piece, mm. */
export function blocksOf(place: Float32Array, n: number, block: number, reach: number): Blocks {
  const bounds = new Float32Array(4 * Math.ceil(n / block));
  for (let b = 0; 4 * b < bounds.length; b++) {
    let [west, south, east, north] = [Infinity, Infinity, -Infinity, -Infinity];
    for (let i = b * block; i < Math.min(n, (b + 1) * block); i++) {
      const [x, y] = [place[4 * i]!, place[4 * i + 1]!];
      west = Math.min(west, x);
      east = Math.max(east, x);
      south = Math.min(south, y);
      north = Math.max(north, y);
    }
    bounds.set([west - reach, south - reach, east + reach, north + reach], 4 * b);
  }
  return { bounds };
}

/** Runs of `n` blocks, first and end, that are seen; those with at most `bridge` others between them are joined. */
export function runsOf(n: number, seen: (block: number) => boolean, bridge = BRIDGE): [number, number][] {
  const runs: [number, number][] = [];
  for (let b = 0; b < n; b++) {
    if (!seen(b)) continue;
    const last = runs.at(-1);
    if (last && b - last[1] <= bridge) last[1] = b + 1;
    else runs.push([b, b + 1]);
  }
  return runs;
}

/** Runs of blocks that meet a window. */
export const seenBlocks = ({ bounds }: Blocks, west: number, south: number, east: number, north: number): [number, number][] =>
  runsOf(bounds.length / 4, (b) => bounds[4 * b]! <= east && bounds[4 * b + 2]! >= west && bounds[4 * b + 1]! <= north && bounds[4 * b + 3]! >= south);
