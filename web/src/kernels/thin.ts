/** From filled shapes to single strokes: thinning to a skeleton, its nodes and what lies between them. */
import type { Pair } from "./floor";
import { apart } from "./frames";

/** A picture of two values: 1 is ink. Row 0 is the uppermost. */
export interface Ink {
  width: number;
  height: number;
  ink: Uint8Array;
}

/** The eight neighbours, from north clockwise. */
const AROUND = [[0, -1], [1, -1], [1, 0], [1, 1], [0, 1], [-1, 1], [-1, 0], [-1, -1]] as const;

/** How many ends of strokes come to each of their nodes. */
export function degrees(edges: Iterable<Edge>): Map<number, number> {
  const found = new Map<number, number>();
  for (const e of edges) for (const n of [e.a, e.b]) found.set(n, (found.get(n) ?? 0) + 1);
  return found;
}
/** Thins ink to lines one pixel wide (Zhang and Suen, Communications of the ACM 27, 1984; from memory). */
export function thin({ width, height, ink }: Ink): Ink {
  // A rim of paper, so that no neighbour lies outside.
  const w = width + 2;
  const on = new Uint8Array(w * (height + 2));
  for (let y = 0; y < height; y++) for (let x = 0; x < width; x++) on[(y + 1) * w + x + 1] = ink[y * width + x]! ? 1 : 0;
  const steps = AROUND.map(([dx, dy]) => dy * w + dx);
  let left: number[] = [];
  on.forEach((v, i) => v && left.push(i));
  const p = new Uint8Array(8);
  for (let changed = true; changed; ) {
    changed = false;
    for (const pass of [0, 1]) {
      const gone = left.filter((i) => {
        let [count, rises] = [0, 0];
        for (let k = 0; k < 8; k++) count += p[k] = on[i + steps[k]!]!;
        if (count < 2 || count > 6) return false;
        for (let k = 0; k < 8; k++) if (!p[k] && p[(k + 1) % 8]) rises++;
        if (rises !== 1) return false;
        const [n, e, s, west] = [p[0]!, p[2]!, p[4]!, p[6]!];
        return pass === 0 ? !(n && e && s) && !(e && s && west) : !(n && e && west) && !(n && s && west);
      });
      for (const i of gone) on[i] = 0;
      if (gone.length) {
        changed = true;
        left = left.filter((i) => on[i]);
      }
    }
  }
  const out = new Uint8Array(width * height);
  for (const i of left) out[(Math.floor(i / w) - 1) * width + (i % w) - 1] = 1;
  return { width, height, ink: out };
}

/** A part of a skeleton between two nodes; -1 where it has none. */
export interface Edge {
  a: number;
  b: number;
  points: Pair[];
}
/** A skeleton as nodes, the parts between them, and rings without a node. The first `crossings` of the places are crossings, the others ends. */
export interface Skeleton {
  places: Pair[];
  crossings: number;
  edges: Edge[];
  rings: Pair[][];
  /** What is thinned to a single pixel. */
  dots: Pair[];
}
/** Nodes of a skeleton, and what lies between them. Hairs shorter than `hair` that end freely are left out. */
export function skeleton({ width, height, ink }: Ink, hair: number): Skeleton {
  const at = (x: number, y: number) => x >= 0 && y >= 0 && x < width && y < height && ink[y * width + x] === 1;
  /** Neighbours; a diagonal one only when no straight one lies between. */
  const next = (i: number): number[] => {
    const [x, y] = [i % width, Math.floor(i / width)];
    return AROUND.flatMap(([dx, dy]) => (at(x + dx, y + dy) && !(dx && dy && (at(x + dx, y) || at(x, y + dy))) ? [(y + dy) * width + x + dx] : []));
  };
  const pixels: number[] = [];
  ink.forEach((v, i) => v && pixels.push(i));
  const degree = new Map(pixels.map((i) => [i, next(i).length]));
  // Pixels of crossings that touch are one crossing, in their middle.
  const node = new Map<number, number>();
  const places: Pair[] = [];
  const place = (i: number): Pair => [i % width, Math.floor(i / width)];
  for (const i of pixels) {
    if (node.has(i) || degree.get(i)! < 3) continue;
    const of = [i];
    node.set(i, places.length);
    for (let k = 0; k < of.length; k++)
      for (const j of next(of[k]!)) if (degree.get(j)! > 2 && !node.has(j)) {
        node.set(j, places.length);
        of.push(j);
      }
    const sum = of.map(place).reduce((a, b) => [a[0] + b[0], a[1] + b[1]]);
    places.push([sum[0] / of.length, sum[1] / of.length]);
  }
  const crossings = places.length;
  for (const i of pixels) if (degree.get(i)! < 2) { node.set(i, places.length); places.push(place(i)); }
  let edges: Edge[] = [];
  const seen = new Set<number>();
  const follow = (start: number, first: number): Edge => {
    const points: Pair[] = [places[node.get(start) ?? -1] ?? place(start)];
    let [before, now] = [start, first];
    for (;;) {
      const met = node.get(now);
      if (met !== undefined) return { a: node.get(start) ?? -1, b: met, points: [...points, places[met]!] };
      seen.add(now);
      points.push(place(now));
      const on = next(now).find((j) => j !== before && (!seen.has(j) || node.has(j)) && !(node.has(j) && node.get(j) === node.get(before) && points.length < 3));
      if (on === undefined) return { a: node.get(start) ?? -1, b: -1, points };
      [before, now] = [now, on];
    }
  };
  for (const i of pixels) {
    if (!node.has(i)) continue;
    for (const j of next(i)) {
      const met = node.get(j);
      // Between two nodes that touch there is no pixel to remember; the lower one tells.
      if (met !== undefined ? met !== node.get(i) && i < j : !seen.has(j)) edges.push(follow(i, j));
    }
  }
  // What is left are rings without a crossing.
  const rings: Pair[][] = [];
  for (const i of pixels) {
    if (seen.has(i) || node.has(i)) continue;
    seen.add(i);
    const first = next(i)[0];
    if (first === undefined) continue;
    const { points } = follow(i, first);
    rings.push([...points, points[0]!]);
  }
  const long = (e: Edge) => e.points.reduce((sum, p, i) => sum + (i ? apart(e.points[i - 1]!, p) : 0), 0);
  edges = edges.filter((e) => {
    const free = [e.a, e.b].filter((n) => n >= crossings).length;
    return !(free === 1 && long(e) < hair);
  });
  return { places, crossings, edges, rings, dots: pixels.filter((i) => degree.get(i) === 0).map(place) };
}
