/** The medial lines of letters as a graph of smooth strokes: straight parts straight, corners sharp, nodes where the strokes cross. */
import type { Pair } from "./floor";
import { apart, direction, turn } from "./frames";
import { calmed, evenly, long, simplify } from "./strokes";
import { degrees, skeleton, thin, type Edge, type Ink } from "./thin";

/** Nodes and what lies between them, mm, y upwards. The points of an edge begin at the one node and end at the other. */
export interface Medial {
  nodes: Pair[];
  edges: Edge[];
  /** How wide the strokes of the font are, mm. */
  width: number;
}

/** Hairs shorter than so many widths of a stroke are not meant; nodes nearer than that to one another are one. */
const HAIR = 0.75;
const ONE = 1.1;
/** So many widths beside a node the medial line leans towards what meets it there, and says nothing of where the stroke runs. */
const LEANS = 0.7;
/** A part that is straight within `BESIDE` widths over so many widths is meant to be straight. */
const STRAIGHT = 2;
const BESIDE = 0.055;
/** Two straight parts that turn by so many degrees within so many widths meet at a corner. */
const CORNER = 22;
const ROUND = 1.7;
/** From one point of a curve to the next, widths. */
const STEP = 0.7;
/** So many widths at a free end lean into a corner of the ink; instead the stroke is drawn out straight, by so many widths more, since its medial line ends before the ink does. */
const FREE = 0.9;
const OUT = 0.3;


/** A straight line: a place and a direction of length 1. */
interface Straight {
  at: Pair;
  along: Pair;
}
/** The straight line with the least squares of distances to points (the main axis of their scatter; textbook). */
function fitted(points: readonly Pair[]): Straight {
  const n = points.length;
  const [mx, my] = [points.reduce((s, p) => s + p[0], 0) / n, points.reduce((s, p) => s + p[1], 0) / n];
  let [xx, xy, yy] = [0, 0, 0];
  for (const [x, y] of points) [xx, xy, yy] = [xx + (x - mx) ** 2, xy + (x - mx) * (y - my), yy + (y - my) ** 2];
  const a = Math.atan2(2 * xy, xx - yy) / 2;
  const along: Pair = [Math.cos(a), Math.sin(a)];
  const [p, q] = [points[0]!, points[n - 1]!];
  const on = (q[0] - p[0]) * along[0] + (q[1] - p[1]) * along[1] >= 0;
  return { at: [mx, my], along: on ? along : [-along[0], -along[1]] };
}
const foot = (p: Pair, { at, along }: Straight): Pair => {
  const t = (p[0] - at[0]) * along[0] + (p[1] - at[1]) * along[1];
  return [at[0] + t * along[0], at[1] + t * along[1]];
};
function crossing(a: Straight, b: Straight): Pair | null {
  const d = a.along[0] * b.along[1] - a.along[1] * b.along[0];
  if (Math.abs(d) < 0.05) return null;
  const t = ((b.at[0] - a.at[0]) * b.along[1] - (b.at[1] - a.at[1]) * b.along[0]) / d;
  return [a.at[0] + t * a.along[0], a.at[1] + t * a.along[1]];
}

/** Points without those within `before` of the beginning and `after` of the end, along them; some in the middle stay. */
function trimmed(points: readonly Pair[], before: number, after: number): Pair[] {
  const whole = long(points);
  const k = Math.min(1, (0.8 * whole) / Math.max(1e-9, before + after));
  let s = 0;
  const kept = points.filter((p, i) => {
    s += i ? apart(points[i - 1]!, p) : 0;
    return s >= before * k - 1e-9 && s <= whole - after * k + 1e-9;
  });
  return kept.length > 1 ? kept : [points[0]!, points[points.length - 1]!];
}

/** The corners of a smooth stroke through many points: few where it is straight, more where it is round. */
function corners(fine: readonly Pair[], w: number): Pair[] {
  const kept = simplify(fine, BESIDE * w);
  const place = new Map(fine.map((p, i) => [p, i]));
  const at = kept.map((p) => place.get(p)!);
  type Part = { from: number; to: number; line: Straight | null };
  let parts: Part[] = [];
  for (let i = 1; i < at.length; i++) {
    const [from, to] = [at[i - 1]!, at[i]!];
    const straight = apart(fine[from]!, fine[to]!) >= STRAIGHT * w || at.length === 2;
    const last = parts[parts.length - 1];
    if (!straight && last && !last.line) last.to = to;
    else {
      // The ends of a straight part lean into what follows.
      const skip = Math.floor((to - from) * 0.15);
      parts.push({ from, to, line: straight ? fitted(fine.slice(from + skip, to - skip + 1)) : null });
    }
  }
  // What is round beside a straight part goes to it as far as it lies on it.
  const on = (i: number, line: Straight) => apart(fine[i]!, foot(fine[i]!, line)) < 1.3 * BESIDE * w;
  parts.forEach((part, i) => {
    const { line } = part;
    if (!line) return;
    const [before, after] = [parts[i - 1], parts[i + 1]];
    if (before && !before.line) while (part.from > before.from && on(part.from - 1, line)) before.to = --part.from;
    if (after && !after.line) while (part.to < after.to && on(part.to + 1, line)) after.from = ++part.to;
  });
  parts = parts.filter((p) => p.line || p.to > p.from);
  const out: Pair[] = [];
  parts.forEach((part, i) => {
    if (part.line) {
      const before = parts[i - 1];
      const joined = before && (before.line ? before : roundOff(parts, i, fine, w));
      if (joined?.line) {
        const met = Math.abs(bend(joined.line, part.line)) > 2 ? crossing(joined.line, part.line) : null;
        out.pop();
        out.push(met && apart(met, fine[part.from]!) < 2.5 * w ? met : foot(fine[part.from]!, part.line));
      } else out.push(foot(fine[part.from]!, part.line));
      out.push(foot(fine[part.to]!, part.line));
      return;
    }
    if (roundOff(parts, i + 1, fine, w)) return;
    const points = evenly(fine.slice(part.from, part.to + 1), STEP * w);
    // Straight parts beside it bring the ends along.
    out.push(...points.slice(parts[i - 1]?.line ? 1 : 0, parts[i + 1]?.line ? -1 : undefined));
  });
  return out;
}
const bend = (a: Straight, b: Straight) => turn(direction([0, 0], b.along) - direction([0, 0], a.along));
/** The straight part before a short round one that is only a corner drawn round; `i` is the part behind it. */
function roundOff(parts: readonly { from: number; to: number; line: Straight | null }[], i: number, fine: readonly Pair[], w: number) {
  const [a, mid, b] = [parts[i - 2], parts[i - 1], parts[i]];
  if (!a?.line || !b?.line || !mid || mid.line) return null;
  return long(fine.slice(mid.from, mid.to + 1)) < ROUND * w && Math.abs(bend(a.line, b.line)) > CORNER ? a : null;
}

/** The medial lines of ink, so many millimetres a pixel. */
export function medial(ink: Ink, mm: number): Medial {
  const thinned = thin(ink);
  const area = ink.ink.reduce((a, b) => a + b, 0);
  const lines = Math.max(1, thinned.ink.reduce((a, b) => a + b, 0));
  const w = Math.max(2, area / lines);
  const bare = skeleton(thinned, Math.max(2, HAIR * w));
  const places = [...bare.places];
  let edges = bare.edges.filter((e) => e.a >= 0 && e.b >= 0);
  for (const ring of bare.rings) {
    // A ring has its node at the lowest place.
    const low = ring.reduce((best, p, i) => (p[1] > ring[best]![1] ? i : best), 0);
    const round = [...ring.slice(low), ...ring.slice(1, low + 1)];
    places.push(round[0]!);
    edges.push({ a: places.length - 1, b: places.length - 1, points: [...round.slice(0, -1), round[0]!] });
  }
  for (const [x, y] of bare.dots) {
    places.push([x, y - w / 4], [x, y + w / 4]);
    edges.push({ a: places.length - 2, b: places.length - 1, points: [[x, y - w / 4], [x, y + w / 4]] });
  }
  edges = joined(withoutSpurs(merged(edges, places, ONE * w), w));
  const degree = degrees(edges);
  const meets = (n: number) => degree.get(n)! > 2;
  const fine = edges.map((e) => {
    const closed = e.a === e.b && !meets(e.a);
    const even = evenly(e.points, 1);
    const calm = calmed(closed ? [...even.slice(-25, -1), ...even, ...even.slice(1, 25)] : even, Math.max(4, Math.round(w)));
    return closed ? calm.slice(24, calm.length - 24) : calm;
  });
  const loose = (e: Edge, n: number) => (!meets(n) && e.a !== e.b && long(e.points) > 3 * w ? FREE * w : 0);
  const inner = edges.map((e, i) => trimmed(fine[i]!, meets(e.a) ? LEANS * w : loose(e, e.a), meets(e.b) ? LEANS * w : loose(e, e.b)));
  // Nodes lie where the strokes would cross if they did not lean: nearest to all of them.
  const nodes = places.map((p): Pair => [p[0], p[1]]);
  for (const [n] of [...degree].filter(([, d]) => d > 2)) {
    let [xx, xy, yy, bx, by] = [0, 0, 0, 0, 0];
    const add = (points: readonly Pair[]) => {
      const { at, along: [c, s] } = fitted(points.slice(0, Math.max(3, Math.round(1.5 * w))));
      const [nx, ny] = [-s, c];
      const d = at[0] * nx + at[1] * ny;
      [xx, xy, yy, bx, by] = [xx + nx * nx, xy + nx * ny, yy + ny * ny, bx + d * nx, by + d * ny];
    };
    edges.forEach((e, i) => {
      if (e.a === n) add(inner[i]!);
      if (e.b === n) add([...inner[i]!].reverse());
    });
    const det = xx * yy - xy * xy;
    if (det < 0.1) continue;
    const solved: Pair = [(yy * bx - xy * by) / det, (xx * by - xy * bx) / det];
    if (apart(solved, places[n]!) < 1.2 * w) nodes[n] = solved;
  }
  const made = edges.map((e, i): Edge => {
    const points = corners(inner[i]!, w);
    // Beside a node the stroke goes straight to it.
    const from = meets(e.a) ? cleared([nodes[e.a]!, ...points], w) : drawnOut(points, e.a === e.b ? 0 : OUT * w + loose(e, e.a));
    const back = [...from].reverse();
    const to = meets(e.b) ? cleared([nodes[e.b]!, ...back], w) : drawnOut(back, e.a === e.b ? 0 : OUT * w + loose(e, e.b));
    const all = to.reverse();
    if (!meets(e.a) && e.a !== e.b) nodes[e.a] = all[0]!;
    if (!meets(e.b) && e.a !== e.b) nodes[e.b] = all[all.length - 1]!;
    if (!meets(e.a) && e.a === e.b) nodes[e.a] = all[all.length - 1] = all[0]!;
    return { a: e.a, b: e.b, points: all };
  });
  straightened(made, nodes, w);
  const up = ([x, y]: Pair): Pair => [(x + 0.5) * mm, (ink.height - y - 0.5) * mm];
  return { nodes: nodes.map(up), edges: made.map((e) => ({ ...e, points: e.points.map(up) })), width: w * mm };
}

/** So many widths at the most, a stroke that ends freely says little of where it runs; it goes on straight when it is the end of another one. */
const STUMP = 3;
const GOES_ON = 40;
function straightened(edges: Edge[], nodes: Pair[], w: number) {
  const at = new Map<number, Edge[]>();
  for (const e of edges) for (const n of e.a === e.b ? [e.a] : [e.a, e.b]) at.set(n, [...(at.get(n) ?? []), e]);
  for (const e of edges) {
    const free = at.get(e.a)!.length === 1 ? e.a : at.get(e.b)!.length === 1 ? e.b : -1;
    const n = free === e.a ? e.b : e.a;
    if (free < 0 || at.get(n)!.length < 3 || long(e.points) > STUMP * w) continue;
    const [node, tip] = [nodes[n]!, nodes[free]!];
    const chord = direction(node, tip);
    // From some way along each of the others to the node.
    const ways = at.get(n)!.filter((o) => o !== e && o.a !== o.b).map((o) => evenly(o.a === n ? o.points : [...o.points].reverse(), w / 4)).map((p) => direction(p[Math.min(p.length - 1, 6)]!, p[0]!));
    const best = ways.sort((a, b) => Math.abs(turn(a - chord)) - Math.abs(turn(b - chord)))[0];
    if (best === undefined || Math.abs(turn(best - chord)) > GOES_ON) continue;
    const [c, s] = [Math.cos((best * Math.PI) / 180), Math.sin((best * Math.PI) / 180)];
    // As high or as wide as it was.
    const by = Math.abs(s) > 0.5 ? (tip[1] - node[1]) / s : (tip[0] - node[0]) / c;
    const end: Pair = [node[0] + c * by, node[1] + s * by];
    nodes[free] = end;
    e.points = free === e.b ? [node, end] : [end, node];
  }
}

/** Without a second point that goes back, or that lies in line between the first and the third. */
function cleared(points: Pair[], w: number): Pair[] {
  while (points.length > 2) {
    const [a, b, c] = points as [Pair, Pair, Pair];
    const by = Math.abs(turn(direction(b, c) - direction(a, b)));
    if (by > 4 && (by < 70 ? apart(a, b) > 0.5 : apart(a, b) > 0.9 * w)) break;
    points = [a, ...points.slice(2)];
  }
  return points;
}
function drawnOut(points: Pair[], by: number): Pair[] {
  const [a, b] = [points[0]!, points[1]];
  if (!b || by === 0) return points;
  const d = apart(a, b) || 1;
  return [[a[0] + ((a[0] - b[0]) * by) / d, a[1] + ((a[1] - b[1]) * by) / d], ...points.slice(1)];
}

/** Nodes that lie nearer to one another than `near` along a stroke become one, in their middle. */
function merged(edges: Edge[], places: Pair[], near: number): Edge[] {
  const ends = new Map<number, number>();
  for (const e of edges) for (const n of [e.a, e.b]) ends.set(n, (ends.get(n) ?? 0) + 1);
  let all = edges;
  for (;;) {
    const short = all.find((e) => e.a !== e.b && ends.get(e.a)! > 2 && ends.get(e.b)! > 2 && long(e.points) < near);
    if (!short) return all;
    const { a, b } = short;
    places[a] = [(places[a]![0] + places[b]![0]) / 2, (places[a]![1] + places[b]![1]) / 2];
    ends.set(a, ends.get(a)! + ends.get(b)! - 2);
    all = all.filter((e) => e !== short).map((e) => ({ ...e, a: e.a === b ? a : e.a, b: e.b === b ? a : e.b }));
  }
}
/** Spurs into the tip of an acute corner are shorter than so many widths; and how acute, degrees. */
const SPUR = 1.9;
const ACUTE = 65;
/** Without the spurs that lead into the tips of acute corners: the corner itself says where the tip is. */
function withoutSpurs(edges: readonly Edge[], w: number): Edge[] {
  const at = new Map<number, Edge[]>();
  for (const e of edges) for (const n of e.a === e.b ? [e.a] : [e.a, e.b]) at.set(n, [...(at.get(n) ?? []), e]);
  const away = (e: Edge, n: number) => {
    const points = e.a === n ? e.points : [...e.points].reverse();
    return direction(points[0]!, points[Math.min(points.length - 1, Math.round(2 * w))]!);
  };
  return edges.filter((e) => {
    const n = at.get(e.a)!.length === 1 ? e.b : at.get(e.b)!.length === 1 ? e.a : -1;
    if (n < 0 || long(e.points) > SPUR * w) return true;
    const others = at.get(n)!.filter((o) => o !== e);
    return !(others.length === 2 && others.every((o) => o.a !== o.b) && Math.abs(turn(away(others[0]!, n) - away(others[1]!, n))) < ACUTE);
  });
}
/** Nodes at which two strokes meet and nothing else are none. */
function joined(edges: Edge[]): Edge[] {
  let all = edges;
  for (;;) {
    const at = new Map<number, Edge[]>();
    for (const e of all) for (const n of e.a === e.b ? [e.a] : [e.a, e.b]) at.set(n, [...(at.get(n) ?? []), e]);
    const two = [...at].find(([n, list]) => list.length === 2 && list.every((e) => e.a !== e.b || e.a !== n));
    if (!two) return all;
    const [n, [one, other]] = [two[0], two[1] as [Edge, Edge]];
    const first = one.b === n ? one : { a: one.b, b: one.a, points: [...one.points].reverse() };
    const then = other.a === n ? other : { a: other.b, b: other.a, points: [...other.points].reverse() };
    all = [...all.filter((e) => e !== one && e !== other), { a: first.a, b: then.b, points: [...first.points, ...then.points.slice(1)] }];
  }
}
