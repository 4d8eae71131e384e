/** Letters as lines that fell one another: from the medial lines to a tree of lines, each begun where an earlier one ends. */
import type { LegDraft } from "../api/generated/LegDraft";
import type { Pair } from "./floor";
import { apart, direction, round, toHall, toOwn, turn, type Frame } from "./frames";
import type { Medial } from "./medial";
import { evenly, long, upTo } from "./strokes";
import { along, legLength, pathLength, stations } from "./paths";
import { degrees, type Edge } from "./thin";

const RAD = Math.PI / 180;
export type EndPort = "end" | "end left" | "end right";

/** A line as it is to be laid: its path begins in `frame`; `from` tells the earlier line, by its place in the list, and the port. */
export interface Laid {
  frame: Frame;
  path: LegDraft[];
  from: { line: number; port: EndPort } | null;
}
export interface Linked {
  lines: Laid[];
  /** Places of lines that nothing leads to but a start of their own. The first line is none of them. */
  alone: number[];
  /** Strokes that are too short for a piece beside what they meet. */
  lost: number;
}

/** How far beside the end of a line its two branches begin, mm: as the program places them. */
const BRANCH = 15;
/** Radii of bends at splits, of corners, and the least, in pitches: 15 mm on 60 mm turns a piece by 14°, on 30 mm by 29°; up to 30° every turn ran (the page of help says the figures). */
const RADII = [4, 3.2, 2.6, 2.1];
const CORNER = 3;
/** What turns back by more than so many degrees is rounded as little as the wave passes, so that letters keep their height. */
const BACKWARDS = 100;
const LEAST = 2.1;
/** A corner turns by so much from side to side; a rounder curve is as wide as its points allow. */
const SHARP = 30;
/** Room between the end of a line and the middle of another one, and beside a link, mm. */
const CLEAR = 34;
const BESIDE = 45;
const ROOM = 28;
/** The most that a stroke may move aside so that its bends are wide enough, mm. */
const ASIDE = 22;
/** What a bend that is asked for takes of a side that a round stroke goes on with. */
const FIRST = 0.75;
/** From the lowest ink to the link below it, in pitches; and how long the link is before the first letter. */
const BELOW = 10;
const LEAD = 14;
/** Straight on within so many degrees; and the most that a branch turns back. */
const ON = 14;
const BACK = 160;
/** Pieces between two splits. */
const BETWEEN = 4;

interface Out {
  edge: number;
  /** From the end of the edge to its beginning. */
  back: boolean;
  to: number;
  /** Another line has been there before: this one ends beside it. */
  shut: boolean;
}

/** How far a point lies beside the straight line between two others. */
function beside(p: Pair, a: Pair, b: Pair): number {
  const [, y] = toOwn({ x: a[0], y: a[1], heading: direction(a, b) }, p);
  return Math.abs(y);
}
/** Straights and arcs along points, each corner as round as `radius` says of it, or as its sides allow. Where that is less than
 * `least`, points beside it are left out, but none of the first `fixed`. */
export function rounding(points: readonly Pair[], radius: (i: number, by: number) => number, least = 0, fixed = 1): { frame: Frame; path: LegDraft[] } | null {
  const clean = points.filter((p, i) => i === 0 || apart(p, points[i - 1]!) > 0.5);
  if (clean.length < 2) return null;
  const side = clean.slice(1).map((p, i) => apart(clean[i]!, p));
  const by = clean.slice(1, -1).map((p, i) => turn(direction(p, clean[i + 2]!) - direction(clean[i]!, p)));
  const half = by.map((b) => Math.tan((Math.abs(b) * RAD) / 2));
  const want = by.map((b, i) => (Math.abs(b) < 0.01 ? 0 : radius(points.indexOf(clean[i + 1]!), b) * half[i]!));
  /** What a corner may take of a side that it shares with another one. */
  const share = (length: number, own: number, other: number | undefined) =>
    other === undefined || own + other <= length ? Math.min(own, length)
    : Number.isFinite(own) && !Number.isFinite(other) ? Math.min(own, FIRST * length)
    : Math.min(own, Number.isFinite(other) ? Math.max(Number.isFinite(own) ? length / 2 : 0, length - Math.min(other, Number.isFinite(own) ? other : FIRST * length)) : length / 2);
  const off = want.map((w, i) => Math.min(share(side[i]!, w, want[i - 1]), share(side[i + 1]!, w, want[i + 1])));
  const tight = off.findIndex((o, i) => o < Math.min(want[i]!, least * half[i]!) - 0.01);
  if (tight >= 0) {
    // The nearer one beside the corner goes, or the corner itself.
    const may = (i: number) => i >= fixed && i < clean.length - 1 && beside(clean[i]!, clean[i - 1]!, clean[i + 1]!) < ASIDE;
    const [near, far] = side[tight]! < side[tight + 1]! ? [tight, tight + 2] : [tight + 2, tight];
    const gone = [near, far, tight + 1].find(may);
    if (gone !== undefined) return rounding(points.filter((p) => p !== clean[gone]), (i, by) => radius(points.indexOf(points.filter((p) => p !== clean[gone])[i]!), by), least, fixed);
  }
  const path: LegDraft[] = [];
  side.forEach((s, i) => {
    const left = s - (off[i - 1] ?? 0) - (off[i] ?? 0);
    const last = path[path.length - 1];
    if (left > 0.02) {
      if (last?.is === "straight") last.length = round(last.length + left);
      else path.push({ is: "straight", length: round(left) });
    }
    if (i < off.length && Math.abs(by[i]!) >= 0.01) path.push({ is: "arc", radius: round(Math.max(1, off[i]! / half[i]!)), turn: by[i]! });
  });
  return { frame: { x: round(clean[0]![0]), y: round(clean[0]![1]), heading: turn(direction(clean[0]!, clean[1]!)) }, path };
}
/** The beginning of a path, so long. */
function cut(path: readonly LegDraft[], length: number): LegDraft[] {
  const out: LegDraft[] = [];
  let left = length;
  for (const leg of path) {
    const l = legLength(leg);
    if (left <= 0.02) break;
    if (l <= left) out.push(leg);
    else if (leg.is === "straight") out.push({ is: "straight", length: round(left) });
    else if (leg.is === "arc") out.push({ ...leg, turn: Math.round((leg.turn * left * 1000) / l) / 1000 });
    left -= l;
  }
  return out;
}
const endOf = (frame: Frame, path: readonly LegDraft[]): Frame => stations(frame, path)[path.length]!;

/** Where a branch leaves the direction in which it begins: the corner, how far it lies ahead and along the edge; null when straight on will do. */
function corner(at: Frame, points: readonly Pair[]): { by: number; p: Pair; ahead: number; along: number } | null {
  const by = turn(direction(points[0]!, points[1]!) - at.heading);
  if (Math.abs(by) < ON) return null;
  const [x, y] = toOwn(at, points[0]!);
  const along = -y / Math.sin(by * RAD);
  const ahead = x + along * Math.cos(by * RAD);
  return { by, p: toHall(at, [ahead, 0]), ahead, along };
}

/** Two arcs that lead so far along to the right by as much as a branch lies beside its line, so that of three branches none stands in another. */
function aside(length: number): LegDraft[] {
  if (length <= 0) return [];
  // Two arcs of angle a and radius r: 2 r a = length, 2 r (1 - cos a) = BRANCH.
  let [low, high] = [0, 1.5];
  for (let i = 0; i < 40; i++) {
    const a = (low + high) / 2;
    if ((length * (1 - Math.cos(a))) / a > BRANCH) high = a;
    else low = a;
  }
  const [radius, by] = [length / (2 * low), Math.round((low / RAD) * 1000) / 1000];
  return [{ is: "arc", radius: round(radius), turn: -by }, { is: "arc", radius: round(radius), turn: by }];
}

class Growing {
  readonly lines: Laid[] = [];
  readonly alone: number[] = [];
  lost = 0;
  private readonly outs = new Map<number, Out[]>();
  private readonly reached = new Map<number, number>();

  constructor(private readonly edges: readonly Edge[], private readonly pitch: number) {}

  private points({ edge, back }: Out): Pair[] {
    const all = this.edges[edge]!.points;
    return back ? [...all].reverse() : [...all];
  }

  /** Shortest ways from a node (Dijkstra 1959); whatever comes where another one has been ends beside it. With `only` the way sets out along that edge alone. */
  private spread(root: number, only: number | null) {
    const at = new Map<number, Out[]>();
    const add = (n: number, out: Out) => at.set(n, [...(at.get(n) ?? []), out]);
    this.edges.forEach((e, edge) => {
      add(e.a, { edge, back: false, to: e.b, shut: false });
      if (e.a !== e.b) add(e.b, { edge, back: true, to: e.a, shut: false });
    });
    const open: { n: number; far: number; by: Out | null; from: number }[] = [{ n: root, far: 0, by: null, from: -1 }];
    const done = new Set<number>();
    const used = new Set<number>();
    const mine: number[] = [];
    while (open.length) {
      open.sort((a, b) => b.far - a.far);
      const { n, far, by, from } = open.pop()!;
      if (done.has(n)) continue;
      done.add(n);
      mine.push(n);
      this.reached.set(n, far);
      if (by) {
        used.add(by.edge);
        this.outs.set(from, [...(this.outs.get(from) ?? []), by]);
      }
      for (const out of at.get(n) ?? []) if (n !== root || only === null || out.edge === only) open.push({ n: out.to, far: far + long(this.edges[out.edge]!.points), by: out, from: n });
    }
    // What closes a round begins where fewer begin.
    const count = (n: number) => (this.outs.get(n)?.length ?? 0) + (n === root && only !== null ? 9 : 0);
    for (const n of mine)
      for (const out of at.get(n) ?? []) {
        if (used.has(out.edge)) continue;
        used.add(out.edge);
        const [a, b] = [n, out.to];
        const e = this.edges[out.edge]!;
        const from = count(b) < count(a) || (count(b) === count(a) && this.reached.get(b)! > this.reached.get(a)!) ? b : a;
        this.outs.set(from, [...(this.outs.get(from) ?? []), { edge: out.edge, back: from === e.b && e.a !== e.b, to: from === a ? b : a, shut: true }]);
      }
  }

  /** Lays all that hangs together with a node, from there. */
  grow(root: number, only: number | null) {
    this.spread(root, only);
    const [first, ...more] = this.outs.get(root) ?? [];
    if (!first) return;
    this.chain([], first, null, null);
    // Only a root that nothing leads to has one way out: the others are lines of their own.
    for (const out of more) this.apart(out);
  }

  /** A line of its own that begins beside what it would branch off. */
  private apart(out: Out) {
    const points = this.points(out);
    const fine = evenly(points, 4);
    const from = fine.findIndex((p) => apart(p, points[0]!) >= CLEAR);
    if (from < 0 || fine.length - from < 3) {
      this.lost++;
      for (const next of out.shut ? [] : (this.outs.get(out.to) ?? [])) this.apart(next);
      return;
    }
    this.chain([fine[from]!], out, null, (s) => s > from * 4 + 2);
  }

  /** One line: along an edge and on while nothing splits; `keep` tells which points of the first edge count, by how far along they lie. */
  private chain(begin: Pair[], first: Out, from: Laid["from"], keep: ((s: number) => boolean) | null, radius?: number) {
    const points: Pair[] = [...begin];
    const bends = new Set<number>(begin.length > 1 && radius !== undefined ? [begin.length - 1] : []);
    let s = 0;
    const edge = this.points(first);
    edge.forEach((p, i) => {
      s += i ? apart(edge[i - 1]!, p) : 0;
      if (!keep || keep(s)) points.push(p);
    });
    let out = first;
    let next = out.shut ? [] : (this.outs.get(out.to) ?? []);
    while (next.length === 1) {
      out = next[0]!;
      points.push(...this.points(out).slice(1));
      next = out.shut ? [] : (this.outs.get(out.to) ?? []);
    }
    const made = rounding(points, (i, by) => (bends.has(i) ? radius! : Math.abs(by) > BACKWARDS ? LEAST * this.pitch : Math.abs(by) > SHARP ? CORNER * this.pitch : Infinity), LEAST * this.pitch, Math.max(1, begin.length));
    if (!made) {
      this.lost++;
      return;
    }
    const line = this.lines.length;
    if (next.length === 0) {
      const length = pathLength(made.path) - (out.shut ? CLEAR : 0);
      if (length < this.pitch) {
        this.lost++;
        return;
      }
      this.put({ ...made, path: out.shut ? cut(made.path, length) : made.path, from });
      return;
    }
    this.put({ ...made, from });
    this.split(line, next);
  }

  private put(laid: Laid) {
    if (!laid.from) this.alone.push(this.lines.length);
    this.lines.push(laid);
  }

  /** Lets two or three branches begin at the end of a line, as late as their bends allow; what finds no room is a line of its own. */
  private split(line: number, all: readonly Out[]) {
    const laid = this.lines[line]!;
    const node = endOf(laid.frame, laid.path);
    const length = pathLength(laid.path);
    const sorted = all.map((out) => ({ out, points: this.points(out), by: turn(direction(this.points(out)[0]!, this.points(out)[1]!) - node.heading) })).sort((a, b) => b.by - a.by);
    const k = this.pitch;
    if (sorted.length <= 3)
      for (const r of RADII) {
        const radius = r * k;
        // Ahead of the node by what the sharpest bend takes; by whole pitches, since the next line begins at one.
        const connector = sorted.length === 3 ? BETWEEN * k : 0;
        const needs = sorted.map(({ by }, i) => {
          const left = i === 0 ? BRANCH : -BRANCH;
          if (Math.abs(by) < ON) return 2 * k;
          return radius * Math.tan((Math.min(BACK, Math.abs(by)) * RAD) / 2) - left / Math.tan(by * RAD) + (i > 0 ? connector : 0);
        });
        if (sorted.some(({ by }) => Math.abs(by) > BACK)) break;
        const n = Math.floor((length - Math.max(k, ...needs)) / k);
        if (n < 2) continue;
        const path = cut(laid.path, n * k);
        const end = endOf(laid.frame, path);
        const branch = (at: Frame, left: number): Frame => ({ ...at, x: toHall(at, [0, left])[0], y: toHall(at, [0, left])[1] });
        const ports = [branch(end, BRANCH), branch(end, -BRANCH)];
        const swerve = aside(connector);
        const far = endOf(ports[1]!, swerve);
        const begins = sorted.length === 3 ? [ports[0]!, branch(far, BRANCH), branch(far, -BRANCH)] : ports;
        const plans = sorted.map((one, i) => this.bent(begins[i]!, one.points, radius));
        if (plans.some((p) => !p)) continue;
        laid.path = path;
        let parent = line;
        sorted.forEach(({ out }, i) => {
          if (sorted.length === 3 && i === 1) {
            parent = this.lines.length;
            this.put({ frame: ports[1]!, path: swerve, from: { line, port: "end right" } });
          }
          const port: EndPort = sorted.length === 3 ? (i === 1 ? "end left" : i === 2 ? "end right" : "end left") : i === 0 ? "end left" : "end right";
          this.chain(plans[i]!.points, out, { line: sorted.length === 3 && i === 0 ? line : parent, port }, plans[i]!.keep, plans[i]!.radius);
        });
        return;
      }
    // The sharpest gives way.
    const worst = sorted.reduce((a, b) => (Math.abs(b.by) > Math.abs(a.by) ? b : a));
    const rest = all.filter((out) => out !== worst.out);
    if (rest.length === 1) this.carryOn(line, rest[0]!);
    else this.split(line, rest);
    this.apart(worst.out);
  }

  /** The one branch that is left goes on from the end of a line. */
  private carryOn(line: number, out: Out) {
    const laid = this.lines[line]!;
    const k = this.pitch;
    for (const r of RADII) {
      const node = endOf(laid.frame, laid.path);
      const by = Math.abs(turn(direction(this.points(out)[0]!, this.points(out)[1]!) - node.heading));
      const n = Math.floor((pathLength(laid.path) - (by < ON ? k : r * k * Math.tan((Math.min(BACK, by) * RAD) / 2))) / k);
      if (n < 2) continue;
      const path = cut(laid.path, n * k);
      const plan = this.bent(endOf(laid.frame, path), this.points(out), r * k);
      if (!plan) continue;
      laid.path = path;
      this.chain(plan.points, out, { line, port: "end" }, plan.keep, plan.radius);
      return;
    }
    this.apart(out);
  }

  /** How a branch comes from where it begins into its edge. */
  private bent(at: Frame, points: readonly Pair[], radius: number): { points: Pair[]; keep: (s: number) => boolean; radius: number } | null {
    const begin: Pair = [at.x, at.y];
    const sharp = corner(at, points);
    const length = long(points);
    if (!sharp) {
      const ease = Math.min(10 * this.pitch, 0.6 * length);
      const target = evenly(points, 2)[Math.floor(ease / 2)] ?? points[points.length - 1]!;
      const [x, y] = toOwn(at, target);
      if (x < 3 * this.pitch) return null;
      return { points: [begin, toHall(at, [x / 3, 0]), toHall(at, [(2 * x) / 3, y]), target], keep: (s) => s > ease + 2, radius: Infinity };
    }
    const off = radius * Math.tan((Math.abs(sharp.by) * RAD) / 2);
    if (sharp.ahead < off - 0.5 || sharp.along + off > length + 1) return null;
    // No corner of the stroke may be cut off.
    let s = 0;
    const turns = points.flatMap((p, i) => {
      s += i ? apart(points[i - 1]!, p) : 0;
      return i > 0 && i + 1 < points.length && Math.abs(turn(direction(p, points[i + 1]!) - direction(points[i - 1]!, p))) > 2 * SHARP ? [s] : [];
    });
    const first = turns[0] ?? length;
    if (first < sharp.along + off + this.pitch / 2 && first < length) return null;
    const from = Math.min(sharp.along + off / FIRST, first);
    return { points: [begin, sharp.p], keep: (at) => at > from - 0.5, radius };
  }
}

/** Lines that end beside another one end so early that their last piece has room. */
function roomy(lines: readonly Laid[], pitch: number) {
  const led = new Set(lines.map((l) => l.from?.line));
  const fine = lines.map((l) => evenly(along(l.frame, l.path, 6), 6));
  lines.forEach((l, i) => {
    if (led.has(i)) return;
    for (let length = pathLength(l.path); length > 4 * pitch; length -= pitch / 2) {
      const end = endOf(l.frame, l.path);
      const near = ([x, y]: Pair) => Math.abs(x - end.x) < ROOM && Math.abs(y - end.y) < ROOM && Math.hypot(x - end.x, y - end.y) < ROOM;
      if (!fine.some((points, j) => j !== i && points.some(near))) return;
      l.path = cut(l.path, length - pitch / 2);
    }
  });
}

/** Parts of a graph that hang together, as lists of edges. */
export function parts(edges: readonly Edge[]): number[][] {
  const of = new Map<number, number>();
  const root = (n: number): number => {
    let r = n;
    while (of.has(r) && of.get(r) !== r) r = of.get(r)!;
    of.set(n, r);
    return r;
  };
  for (const e of edges) of.set(root(e.a), root(e.b));
  const all = new Map<number, number[]>();
  edges.forEach((e, i) => all.set(root(e.a), [...(all.get(root(e.a)) ?? []), i]));
  return [...all.values()];
}

/** A place where the fall may come in: a node, or the place `on` of the points of an edge. */
export interface Entry {
  at: Pair;
  node: number | null;
  edge: number;
  on: number;
}
/** Where the fall may enter a part from below: free ends that point down, then the lowest place. */
export function entries(edges: readonly Edge[], part: readonly number[], width: number): Entry[] {
  const points = part.flatMap((i) => edges[i]!.points);
  const low = Math.min(...points.map((p) => p[1]));
  const high = Math.max(...points.map((p) => p[1]));
  const degree = degrees(part.map((i) => edges[i]!));
  const ends = high - low < 1.5 * width ? [] : part.flatMap((i) => {
    const { a, b, points: p } = edges[i]!;
    const back = [...p].reverse();
    return [{ n: a, p }, { n: b, p: back }].filter(({ n, p: q }) => degree.get(n) === 1 && q[0]![1] < low + 0.15 * (high - low) && Math.abs(turn(direction(q[0]!, q[1]!) - 90)) < 65).map(({ n, p: q }) => ({ at: q[0]!, node: n, edge: i, on: 0 }));
  }).sort((a, b) => a.at[0] - b.at[0]);
  // Where strokes meet at the bottom, and none leads on down, what comes from below is one more of them.
  const foot = part.flatMap((i) => {
    const { a, b, points: p } = edges[i]!;
    return [{ n: a, at: p[0]! }, { n: b, at: p[p.length - 1]! }].filter(({ n, at }) => degree.get(n) === 3 && at[1] < low + 0.3 * width).map(({ n, at }) => ({ at, node: n, edge: i, on: 0 }));
  });
  let flat: { at: Pair; node: null; edge: number; on: number } | null = null;
  let most = -1;
  for (const i of part) {
    const p = edges[i]!.points;
    for (let j = 1; j < p.length; j++) {
      const [a, b] = [p[j - 1]!, p[j]!];
      if (Math.max(a[1], b[1]) > low + 0.2 * width || apart(a, b) <= most) continue;
      most = apart(a, b);
      flat = { at: [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2], node: null, edge: i, on: j };
    }
  }
  if (!flat) {
    for (const i of part) edges[i]!.points.forEach((p, j, all) => {
      if (p[1] === low && j > 0 && j < all.length - 1) flat = { at: p, node: null, edge: i, on: j };
    });
  }
  return [...ends, ...foot, ...(flat ? [flat] : [])];
}

/** The lines of letters; with `below` a link runs below them and feeds each. */
export function linked({ nodes: given, edges: drawn, width }: Medial, pitch: number, below: boolean): Linked {
  const nodes = given.map((p): Pair => [p[0], p[1]]);
  let edges: Edge[] = [...drawn];
  if (edges.length === 0) return { lines: [], alone: [], lost: 0 };
  const all = parts(edges).map((part) => ({ part, fine: part.flatMap((i) => evenly(edges[i]!.points, 10)) }));
  const level = Math.min(...all.flatMap(({ fine }) => fine.map((p) => p[1]))) - BELOW * pitch;
  const isFree = (p: Pair, own: number) => all.every(({ fine }, j) => j === own || fine.every((q) => q[1] > p[1] || Math.abs(q[0] - p[0]) > BESIDE));
  const found = all.map(({ part }, j) => entries(edges, part, width).find((e) => isFree(e.at, j)) ?? null);
  const halves: Edge[] = [];
  /** A part's own node for what comes in, made on its edge where there is none. */
  const nodeOf = (e: NonNullable<(typeof found)[0]>): number => {
    if (e.node !== null) return e.node;
    const edge = edges[e.edge]!;
    const node = nodes.push(e.at) - 1;
    const before = [...edge.points.slice(0, e.on), e.at];
    const after = [e.at, ...edge.points.slice(apart(edge.points[e.on]!, e.at) < 0.01 ? e.on + 1 : e.on)];
    if (edge.a === edge.b && !edges.some((o, i) => i !== e.edge && (o.a === edge.a || o.b === edge.a))) edges[e.edge] = { a: node, b: node, points: [...after, ...before.slice(1)] };
    else {
      edges[e.edge] = { a: edge.a, b: node, points: before };
      halves.push({ a: node, b: edge.b, points: after });
    }
    return node;
  };
  const roots: { n: number; only: number | null; x: number }[] = [];
  const fed = below ? found.flatMap((e, j) => (e ? [{ e, j }] : [])).sort((a, b) => a.e.at[0] - b.e.at[0]) : [];
  let last = -1;
  let start = -1;
  const links: Edge[] = [];
  const feeds = new Map<number, { e: NonNullable<(typeof found)[0]> }>();
  for (const { e, j } of fed) feeds.set(j, { e });
  for (const { e } of fed) {
    const n = nodeOf(e);
    const t = nodes.push([e.at[0], level]) - 1;
    if (last < 0) last = start = nodes.push([e.at[0] - LEAD * pitch, level]) - 1;
    links.push({ a: last, b: t, points: [nodes[last]!, nodes[t]!] }, { a: t, b: n, points: [nodes[t]!, nodes[n]!] });
    last = t;
  }
  all.forEach(({ part }, j) => {
    if (feeds.has(j)) return;
    const degree = degrees(part.map((i) => edges[i]!));
    const e = found[j];
    // A line of its own begins at an end, else where another one would have come in.
    const free = part.flatMap((i) => [edges[i]!.a, edges[i]!.b]).filter((n) => degree.get(n) === 1).sort((a, b) => (e?.node === b ? 1 : 0) - (e?.node === a ? 1 : 0) || nodes[a]![0] - nodes[b]![0])[0];
    const x = Math.min(...part.flatMap((i) => edges[i]!.points.map((p) => p[0])));
    const low = free === undefined ? (e ?? entries(edges, part, width).pop()) : undefined;
    if (low) roots.push({ n: nodeOf(low), only: low.edge, x });
    else roots.push({ n: free ?? edges[part[0]!]!.a, only: null, x });
  });
  edges = [...edges, ...halves, ...links];
  // A round that begins at a node where others meet falls from both ends, which leave each other room half way.
  edges.forEach((e, i) => {
    if (e.a !== e.b || roots.some((r) => r.only === i) || !edges.some((o, k) => k !== i && (o.a === e.a || o.b === e.a))) return;
    const [one, other] = [e.points, [...e.points].reverse()].map((p) => upTo(p, long(p) / 2 - CLEAR / 2)) as [Pair[], Pair[]];
    edges[i] = { a: e.a, b: nodes.push(one[one.length - 1]!) - 1, points: one };
    edges.push({ a: e.a, b: nodes.push(other[other.length - 1]!) - 1, points: other });
  });
  const growing = new Growing(edges, pitch);
  if (start >= 0) growing.grow(start, null);
  for (const { n, only } of roots.sort((a, b) => a.x - b.x)) growing.grow(n, only);
  roomy(growing.lines, pitch);
  return { lines: growing.lines, alone: growing.alone.slice(1), lost: growing.lost };
}
