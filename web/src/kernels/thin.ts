/** From filled shapes to single strokes: thinning to a skeleton, and tracing it. */
import type { Pair } from "./floor";
import { apart, direction, turn } from "./frames";
import { calmed, simplify } from "./strokes";

/** A picture of two values: 1 is ink. Row 0 is the uppermost. */
export interface Ink {
  width: number;
  height: number;
  ink: Uint8Array;
}

/** The eight neighbours, from north clockwise. */
const AROUND = [[0, -1], [1, -1], [1, 0], [1, 1], [0, 1], [-1, 1], [-1, 0], [-1, -1]] as const;

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

/** A stroke of a skeleton, in pixels. */
export interface Stroke {
  points: Pair[];
  /** It comes back to its beginning. */
  closed: boolean;
  /** Another stroke passes where it begins, and where it ends. */
  meets: [boolean, boolean];
}
interface Edge {
  a: number;
  b: number;
  points: Pair[];
}
/** Strokes carry on over a crossing when they bend no more than this there, degrees. */
const ON = 60;

/** Traces a skeleton: strokes from end to end, carried on over crossings as straight as they can; of those that meet, one passes.
 * Hairs shorter than `hair` that end freely are left out. */
export function trace({ width, height, ink }: Ink, hair: number): Stroke[] {
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
  const rings: Stroke[] = [];
  for (const i of pixels) {
    if (seen.has(i) || node.has(i)) continue;
    seen.add(i);
    const first = next(i)[0];
    if (first === undefined) continue;
    const { points } = follow(i, first);
    rings.push({ points: [...points, points[0]!], closed: true, meets: [false, false] });
  }
  const long = (e: Edge) => e.points.reduce((sum, p, i) => sum + (i ? apart(e.points[i - 1]!, p) : 0), 0);
  const touching = (n: number) => edges.filter((e) => e.a === n).length + edges.filter((e) => e.b === n).length;
  edges = edges.filter((e) => {
    const free = [e.a, e.b].filter((n) => n >= crossings).length;
    return !(free === 1 && long(e) < hair);
  });
  // Pairs that go on over each node, the straightest first; one pair a crossing passes.
  interface End { edge: number; last: boolean }
  const ends = new Map<number, End[]>();
  edges.forEach((e, edge) => {
    for (const last of [false, true]) {
      const n = last ? e.b : e.a;
      if (n >= 0 && n < crossings) ends.set(n, [...(ends.get(n) ?? []), { edge, last }]);
    }
  });
  /** The direction in which an edge leaves its end, seen over a few pixels. */
  const leaves = ({ edge, last }: End): number => {
    const points = last ? [...edges[edge]!.points].reverse() : edges[edge]!.points;
    return direction(points[0]!, points[Math.min(points.length - 1, Math.max(3, Math.round(hair)))]!);
  };
  const joined = new Map<string, End>();
  const key = (e: End) => `${e.edge} ${e.last}`;
  const passed = new Set<number>();
  for (const [n, list] of ends) {
    let [best, least] = [null as [End, End] | null, list.length === 2 ? 181 : ON];
    list.forEach((one, i) => list.slice(i + 1).forEach((two) => {
      const bend = Math.abs(turn(leaves(one) + 180 - leaves(two)));
      if (bend < least) [best, least] = [[one, two], bend];
    }));
    if (!best) continue;
    const [one, two] = best as [End, End];
    joined.set(key(one), two);
    joined.set(key(two), one);
    if (list.length > 2) passed.add(n);
  }
  const used = new Set<number>();
  const strokes: Stroke[] = [];
  const chain = (begin: End, ring: boolean) => {
    let points: Pair[] = [];
    let from: End | undefined = begin;
    let end = -1;
    while (from && !used.has(from.edge)) {
      const e: Edge = edges[from.edge]!;
      used.add(from.edge);
      const part = from.last ? [...e.points].reverse() : e.points;
      points = points.length ? [...points, ...part.slice(1)] : [...part];
      end = from.last ? e.a : e.b;
      from = joined.get(key({ edge: from.edge, last: !from.last }));
    }
    const first = begin.last ? edges[begin.edge]!.b : edges[begin.edge]!.a;
    const meets = (n: number) => n >= 0 && n < crossings && (passed.has(n) || touching(n) > 2);
    const closed = ring || (first === end && first >= 0 && points.length > 8);
    strokes.push({ points, closed, meets: ring ? [false, false] : [meets(first), meets(end)] });
  };
  edges.forEach((_, edge) => {
    for (const last of [false, true]) if (!used.has(edge) && !joined.has(key({ edge, last }))) chain({ edge, last }, false);
  });
  edges.forEach((_, edge) => !used.has(edge) && chain({ edge, last: false }, true));
  return [...strokes, ...rings].filter((s) => s.points.length > 1);
}

/** A stroke with a smooth run of few points, shortened where another one passes so that the pieces of both have room. */
export function eased(stroke: Stroke, within: number, clear: number): { points: Pair[]; closed: boolean } | null {
  let points = calmed(stroke.points, 3);
  const cut = (list: Pair[]): Pair[] => {
    let i = 0;
    while (i < list.length && apart(list[i]!, list[0]!) < clear) i++;
    return list.slice(i);
  };
  if (stroke.meets[0]) points = cut(points);
  if (stroke.meets[1]) points = cut([...points].reverse()).reverse();
  if (points.length < 2) return null;
  const kept = simplify(points, within);
  const met = stroke.meets[0] || stroke.meets[1];
  return { points: kept, closed: stroke.closed && !met };
}
