/** Large answers of the server as typed arrays laid over the bytes; their tables stand beside the server's writers. */

/** When something never happens. */
export const NEVER = 0xffff_ffff;

export interface HallPieces {
  change: number;
  n: number;
  /** Item ids and the number of each item's first piece, in order. */
  items: { id: number; first: number; count: number }[];
  x: Float32Array;
  y: Float32Array;
  z: Float32Array;
  yaw: Float32Array;
  colour: Uint16Array;
  kind: Uint16Array;
  pose: Uint8Array;
}

export interface FallTimes {
  change: number;
  n: number;
  last: number;
  /** Microseconds after the first push. */
  hit: Uint32Array;
  from: Uint32Array;
  way: Uint8Array;
}

export interface TouchCounts {
  change: number;
  n: number;
  exact: boolean;
  forward: Uint32Array;
  back: Uint32Array;
  most: Uint32Array;
}

/** The four signs, the change and two numbers at the head of every answer. */
function head(bytes: ArrayBuffer, magic: string): [number, number, number] {
  if (bytes.byteLength < 16 || String.fromCharCode(...new Uint8Array(bytes, 0, 4)) !== magic) {
    throw new Error(`These are not columns of the kind ${magic}.`);
  }
  const view = new DataView(bytes);
  return [view.getUint32(4, true), view.getUint32(8, true), view.getUint32(12, true)];
}

export function readPieces(bytes: ArrayBuffer): HallPieces {
  const [change, n, k] = head(bytes, "HAL1");
  const table = new Uint32Array(bytes, 16, 2 * k);
  const items = Array.from({ length: k }, (_, i) => {
    const first = table[2 * i + 1]!;
    return { id: table[2 * i]!, first, count: (i + 1 < k ? table[2 * i + 3]! : n) - first };
  });
  const at = 16 + 8 * k;
  const floats = (column: number) => new Float32Array(bytes, at + 4 * n * column, n);
  const shorts = (column: number) => new Uint16Array(bytes, at + 16 * n + 2 * n * column, n);
  return {
    change, n, items,
    x: floats(0), y: floats(1), z: floats(2), yaw: floats(3),
    colour: shorts(0), kind: shorts(1), pose: new Uint8Array(bytes, at + 20 * n, n),
  };
}

export function readTimes(bytes: ArrayBuffer): FallTimes {
  const [change, n, last] = head(bytes, "FAL1");
  return { change, n, last, hit: new Uint32Array(bytes, 16, n), from: new Uint32Array(bytes, 16 + 4 * n, n), way: new Uint8Array(bytes, 16 + 8 * n, n) };
}

export function readTouch(bytes: ArrayBuffer): TouchCounts {
  const [change, n, exact] = head(bytes, "TCH1");
  const column = (i: number) => new Uint32Array(bytes, 16 + 4 * n * i, n);
  return { change, n, exact: exact === 1, forward: column(0), back: column(1), most: column(2) };
}

/** The item of a piece by its number. */
export function itemOf(pieces: HallPieces, piece: number): number | null {
  let [low, high] = [0, pieces.items.length - 1];
  while (low < high) {
    const mid = (low + high + 1) >> 1;
    if (pieces.items[mid]!.first <= piece) low = mid;
    else high = mid - 1;
  }
  return piece < pieces.n ? (pieces.items[low]?.id ?? null) : null;
}
