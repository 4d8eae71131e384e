/** Letters as one line that runs there and back along every stroke, so that nothing splits: round the left hand side of a tree. */
import type { Pair } from "./floor";
import type { LegDraft } from "../api/generated/LegDraft";
import { apart, direction, round, turn, type Frame } from "./frames";
import { flies, flown, WIDE, type Flown } from "./flown";
import { entries, parts, rounding, type Entry, type Linked } from "./linked";
import type { Medial } from "./medial";
import { along, pathLength } from "./paths";
import { evenly, long, upTo } from "./strokes";
import { degrees, type Edge } from "./thin";

const RAD = Math.PI / 180;

/** From the middle of a stroke to its line on either side, mm: so far that what flies out of a bend of `EASED` lands short of the way back
 * (the page of help says how far pieces fly; the figures are for the slickest floor that was measured, and pieces 48 mm high). */
const BESIDE = 40;
/** Radius where the way there begins and ends to bend towards its way back, mm, and through how many degrees. */
const EASED = 100;
const EASE = 48;
const LONG_EASE = 72;
/** What flies out of the tightest bends, beyond the side of the line, mm; with a piece's width and a little more to what may still stand. */
const FLIES = flies(0);
const EASED_TWICE = 205;
const FREE = FLIES + WIDE + 6;
/** The least radius of a bend, pitches: 15 mm on 33 mm turns a piece by 26°. */
const LEAST = 2.2;
/** A corner turns by so much, degrees; less is a curve. Beyond so much it is rounded by two corners. */
const SHARP = 30;
const TWICE = 100;
/** Between the end of a stroke and the one that it would meet, mm. */
const CUT = 44;
const SHORTER = [14, 70, 120] as const;
/** Before the first and behind the last letter, pitches. */
const LEAD = 8;

/** By how much the link lies lower, tried one by one, mm; letters that are remembered. */
const LOWER = [0, 45, 90];
const KNOWN = 400;
/** Of so many letters fewer manners are tried. */
const MANY = 16;
const FEWER = 3;
/** Places of a letter that are looked at for how near the next one may come; and pieces of words in which what flies is looked for as a whole. */
const MOST_PLACES = 1000;
const MOST_PIECES = 60_000;
const HOPELESS = 6;
/** How often letters are set farther apart. */
const FARTHER = 4;
/** Steps of a way back that comes nearer, mm, and by how much of them. */
const FINE = 60;
const SLOPE = 0.3;

/** Bends that are tried, mm, and ways of closing up to two rounds. */
const WIDTHS = SHORTER.flatMap((shorter, k) => [EASE, LONG_EASE].flatMap((ease) => (k ? [EASED] : [EASED, 130, 160]).map((wide) => [wide, ease, shorter] as const)));
const MANNERS = 4;
const PLAIN: Manner = { first: 0, wide: EASED, ease: EASE, shorter: SHORTER[0] };

/** A straight bit of the way round, from `a` to `b`; `forth` when its right hand side is walked later. */
interface Step {
  a: Pair;
  b: Pair;
  forth: boolean;
  /** From the stroke to the line on this side, mm. */
  beside: number;
  /** Which stroke it is. */
  edge: number;
  /** How wide its bends are to be where what flies out of them matters, mm. */
  wide: number;
  ease: number;
}
/** How a letter is walked: strokes that close a round leave from where the walk comes first, by their bits; how wide bends are, and through how many degrees. */
interface Manner {
  first: number;
  wide: number;
  ease: number;
  /** By how much more a stroke ends short of one from whose bends pieces fly there. */
  shorter: number;
}
interface Half {
  edge: number;
  to: number;
  points: Pair[];
}

/** Round a tree: at each node the leftmost way first. A stroke that would close a round ends short of where the walk has been before. */
class Walk {
  readonly steps: Step[] = [];
  lost = 0;
  private readonly at = new Map<number, Half[]>();
  private readonly seen = new Set<number>();
  private readonly done = new Set<number>();
  private readonly visited = new Set<number>();

  /** By stroke that waits for its second end: by how much the walk turned beside the first one. */
  private readonly turns = new Map<number, number>();

  /** `tight` tells of strokes with bends that found no room to be as wide as they should: their radius. */
  constructor(edges: readonly Edge[], private readonly beside: number, private readonly tight: ReadonlyMap<number, number>) {
    const add = (n: number, half: Half) => this.at.set(n, [...(this.at.get(n) ?? []), half]);
    edges.forEach((e, edge) => {
      add(e.a, { edge, to: e.b, points: e.points });
      add(e.b, { edge, to: e.a, points: [...e.points].reverse() });
    });
  }

  go(points: readonly Pair[], forth: boolean, edge: number, beside = this.beside) {
    for (let i = 1; i < points.length; i++) if (apart(points[i - 1]!, points[i]!) > 0.01) this.steps.push({ a: points[i - 1]!, b: points[i]!, forth, beside, edge, wide: this.wide, ease: this.ease });
  }
  there(points: readonly Pair[], edge: number, inner: () => void) {
    this.go(points, true, edge);
    inner();
    this.go([...wayBack(points, this.beside, this.tight.get(edge) ?? Infinity)].reverse(), false, edge);
  }

  private wide = EASED;
  private ease = EASE;
  private shorter: number = SHORTER[0];
  private first = 0;
  /** Strokes that close a round, as they were come by. */
  closes = 0;
  /** The letter that is walked next. */
  letter({ first, wide, ease, shorter }: Manner) {
    [this.first, this.wide, this.ease, this.shorter, this.closes] = [first, wide, ease, shorter, 0];
  }

  visit(node: number, heading: number) {
    this.visited.add(node);
    const out = (this.at.get(node) ?? []).map((half) => ({ half, by: turn(direction(half.points[0]!, half.points[1]!) - heading) })).sort((a, b) => b.by - a.by);
    // Strokes that were passed by since the walk last set out from here, and the direction in which it came.
    let passed: number[] = [];
    let came = heading;
    const leaves = (to: number) => {
      for (const edge of passed) this.turns.set(edge, turn(to - came));
      passed = [];
    };
    for (const { half } of out) {
      if (this.done.has(half.edge)) continue;
      const { points, to, edge } = half;
      const sets = direction(points[0]!, points[1]!);
      if (!this.visited.has(to)) {
        this.done.add(edge);
        leaves(sets);
        this.there(points, edge, () => this.visit(to, direction(points[points.length - 2]!, points[points.length - 1]!)));
        came = sets + 180;
      } else if (!this.seen.has(edge) && !((this.first >> this.closes++) & 1)) {
        this.seen.add(edge);
        passed.push(edge);
      } else {
        // The second time that the walk comes by; where it ends, it was before. What turns to the right there flies to where it ends.
        this.done.add(edge);
        leaves(sets);
        const left = long(points) - 2 * this.beside - (this.seen.has(edge) && this.turns.get(edge)! >= -SHARP ? CUT : FREE + this.shorter);
        if (left < this.beside / 4) this.lost++;
        else {
          this.there(upTo(points, left), edge, () => undefined);
          came = sets + 180;
        }
      }
    }
    for (const edge of passed) this.turns.set(edge, came === heading ? -180 : turn(heading + 180 - came));
  }
}
/** The way back lies as far outside of what the way there turns to the left as pieces fly out of it, and comes nearer again slowly. */
function wayBack(points: readonly Pair[], beside: number, tight: number): Pair[] {
  const wanted = (radius: number) => Math.max(0, flies(radius) + WIDE + 8 - 2 * beside);
  const radii = points.map((b, i) => {
    const [a, c] = [points[i - 1], points[i + 1]];
    if (!a || !c) return Infinity;
    const by = turn(direction(b, c) - direction(a, b));
    return by > 4 && by <= SHARP ? Math.min(apart(a, b), apart(b, c)) / (by * RAD) - beside : Infinity;
  });
  if (radii.every((r) => wanted(r) === 0) && wanted(tight) === 0) return [...points];
  let s = 0;
  const at = points.map((p, i) => (s += i ? apart(points[i - 1]!, p) : 0));
  const out: Pair[] = [];
  points.forEach((p, i) => {
    const before = points[i - 1];
    const n = before ? Math.max(1, Math.round(apart(before, p) / FINE)) : 1;
    for (let k = 1; k <= n; k++) {
      const q: Pair = before && k < n ? [before[0] + ((p[0] - before[0]) * k) / n, before[1] + ((p[1] - before[1]) * k) / n] : p;
      const here = before && k < n ? at[i - 1]! + ((at[i]! - at[i - 1]!) * k) / n : at[i]!;
      const by = radii.reduce((most, r, j) => Math.max(most, wanted(r) - SLOPE * Math.max(0, Math.abs(at[j]! - here) - FINE / 2)), wanted(tight));
      const [u, w] = [unit(before ?? p, before ? p : points[i + 1]!), unit(k < n || !points[i + 1] ? before ?? p : p, k < n || !points[i + 1] ? p : points[i + 1]!)];
      const half = turned(u, between(u, w) / 2 - 90);
      out.push(on(q, half, by / Math.max(0.5, Math.cos((between(u, w) / 2) * RAD))));
    }
  });
  return out;
}

/** A straight line beside a step. */
interface Side {
  at: Pair;
  u: Pair;
  forth: boolean;
  beside: number;
  edge: number;
  wide: number;
  ease: number;
  /** Across, where the walk turns round. */
  cap: boolean;
}
const cross = (a: Pair, b: Pair) => a[0] * b[1] - a[1] * b[0];
const unit = (a: Pair, b: Pair): Pair => {
  const d = apart(a, b) || 1;
  return [(b[0] - a[0]) / d, (b[1] - a[1]) / d];
};
const turned = ([x, y]: Pair, by: number): Pair => [x * Math.cos(by * RAD) - y * Math.sin(by * RAD), x * Math.sin(by * RAD) + y * Math.cos(by * RAD)];
const between = (a: Pair, b: Pair) => Math.atan2(cross(a, b), a[0] * b[0] + a[1] * b[1]) / RAD;
const on = (p: Pair, u: Pair, by: number): Pair => [p[0] + u[0] * by, p[1] + u[1] * by];
const met = (a: Side, b: Side): Pair => {
  const d = cross(a.u, b.u);
  if (Math.abs(d) < 0.02) {
    const t = (b.at[0] - a.at[0]) * a.u[0] + (b.at[1] - a.at[1]) * a.u[1];
    const p = on(a.at, a.u, t);
    return [(p[0] + b.at[0]) / 2, (p[1] + b.at[1]) / 2];
  }
  return on(a.at, a.u, cross([b.at[0] - a.at[0], b.at[1] - a.at[1]], b.u) / d);
};

/** The lines beside the steps on their left; where the walk turns round to the right, one more across. */
function sides(steps: readonly Step[], closed: boolean): Side[] {
  const out: Side[] = [];
  steps.forEach(({ a, b, forth, beside, edge, wide, ease }, i) => {
    const u = unit(a, b);
    out.push({ at: on(a, turned(u, 90), beside), u, forth, beside, edge, wide, ease, cap: false });
    const next = steps[i + 1] ?? (closed ? steps[0] : undefined);
    if (!next) return;
    let by = between(u, unit(next.a, next.b));
    if (by > 179) by = -180;
    if (by < -TWICE) {
      const w = turned(u, by / 2);
      out.push({ at: on(b, turned(w, 90), (beside + next.beside) / 2), u: w, forth: false, beside: (beside + next.beside) / 2, edge, wide, ease, cap: true });
    }
  });
  return out;
}
/** Corners of a bend of several radii that leads from one line to another. */
function bend(p: Pair, u: Pair, by: number, arcs: readonly { radius: number; by: number }[]): { before: number; after: number; points: Pair[]; radii: number[] } {
  // From the origin: where each arc's corner lies, and where the last one ends.
  let [at, w]: [Pair, Pair] = [[0, 0], u];
  const points: Pair[] = [];
  for (const arc of arcs) {
    const off = arc.radius * Math.tan((Math.abs(arc.by) * RAD) / 2);
    at = on(at, w, off);
    points.push(at);
    w = turned(w, arc.by);
    at = on(at, w, off);
  }
  const out = turned(u, by);
  const before = cross(at, out) / cross(u, out);
  const begin = on(p, u, -before);
  const end: Pair = [begin[0] + at[0], begin[1] + at[1]];
  return { before, after: apart(end, p), points: points.map(([x, y]): Pair => [begin[0] + x, begin[1] + y]), radii: arcs.map((a) => a.radius) };
}

/** The bend at a corner: what turns to the left is wide towards what is still to be walked. Null for what is no corner. */
function corner(p: Pair, before: Side, after: Side, wide: number, least: number) {
  const by = between(before.u, after.u);
  if (Math.abs(by) <= SHARP) return null;
  if (by < 0) return bend(p, before.u, by, [{ radius: Math.max(least, (before.beside + after.beside) / 2), by }]);
  const ease = wide > least ? Math.min(Math.max(before.ease, after.ease), by / (before.forth && after.forth ? 2 : 1)) : 0;
  const [a, c] = [before.forth ? ease : 0, after.forth ? ease : 0];
  const single = a + c >= by - 0.5 ? [{ radius: wide, by }] : null;
  return bend(p, before.u, by, single ?? [{ radius: wide, by: a }, { radius: least, by: by - a - c }, { radius: wide, by: c }].filter((x) => x.by > 0.5));
}
/** Without lines that the walk would run backwards, and without short ones whose bends find no room while it goes nearly the same way without them. */
function forwards(all: Side[], least: number): { sides: Side[]; corners: Pair[] } {
  let now = all;
  const end = (s: Side[], i: number) => met(s[i]!, s[i + 1]!);
  for (const [wide, aside] of [[0, Infinity], [1, 1.2 * BESIDE], [2, 0.6 * BESIDE]] as const) {
    for (;;) {
      const corners = now.slice(1).map((_, i) => end(now, i));
      const bends = wide ? corners.map((p, i) => corner(p, now[i]!, now[i + 1]!, wide > 1 ? Math.max(now[i]!.wide, now[i + 1]!.wide) : least, least)) : [];
      let worst = -1;
      let most = 0.5;
      for (let i = 1; i + 1 < now.length; i++) {
        const [p, q] = [corners[i - 1]!, corners[i]!];
        const ahead = (q[0] - p[0]) * now[i]!.u[0] + (q[1] - p[1]) * now[i]!.u[1];
        const missing = (bends[i - 1]?.after ?? 0) + (bends[i]?.before ?? 0) - ahead;
        if (missing <= most || now[i]!.cap) continue;
        const by = between(now[i - 1]!.u, now[i + 1]!.u);
        if (Math.abs(by) > 165) continue;
        const without = met(now[i - 1]!, now[i + 1]!);
        if (wide && Math.max(apart(without, p), apart(without, q)) - Math.abs(ahead) > aside) continue;
        if (wide && Math.min(apart(without, p), apart(without, q)) > 2 * aside) continue;
        [worst, most] = [i, missing];
      }
      if (worst < 0) break;
      now = now.filter((_, i) => i !== worst);
    }
  }
  return { sides: now, corners: now.slice(1).map((_, i) => end(now, i)) };
}

/** The path along the left of the steps. */
function path(steps: readonly Step[], pitch: number, tight: Map<number, number>) {
  const least = LEAST * pitch;
  const { sides: all, corners } = forwards(sides(steps, false), least);
  const first = all[0]!;
  const last = all[all.length - 1]!;
  const end = steps[steps.length - 1]!;
  const places: Pair[] = [first.at, ...corners, on(end.b, turned(last.u, 90), last.beside)];
  /** What each corner takes of its sides. */
  const takes = corners.map((p, i): [number, number] => {
    const b = corner(p, all[i]!, all[i + 1]!, least, least);
    return b ? [b.before, b.after] : [0, 0];
  });
  const points: Pair[] = [places[0]!];
  const radii: number[] = [0];
  corners.forEach((p, i) => {
    const room = [apart(places[i]!, p) - (takes[i - 1]?.[1] ?? 0), apart(p, places[i + 2]!) - (takes[i + 1]?.[0] ?? 0)] as const;
    const most = Math.max(all[i]!.wide, all[i + 1]!.wide);
    for (const wide of [...(most > EASED ? [most] : []), EASED, 0.85 * EASED, 0.7 * EASED, 0.55 * EASED, least]) {
      const made = corner(p, all[i]!, all[i + 1]!, wide, least);
      if (!made || (wide > least && (made.before > room[0] || made.after > room[1]))) continue;
      takes[i] = [made.before, made.after];
      if (wide < EASED && made.radii[0]! <= EASED && between(all[i]!.u, all[i + 1]!.u) > 0)
        for (const side of [all[i]!, all[i + 1]!]) if (side.forth) tight.set(side.edge, Math.min(wide, tight.get(side.edge) ?? Infinity));
      points.push(...made.points);
      radii.push(...made.radii);
      return;
    }
    points.push(p);
    radii.push(Infinity);
  });
  points.push(places[places.length - 1]!);
  radii.push(0);
  const of = new Map(points.map((p, i) => [p, radii[i]!]));
  return rounding(points, (i) => of.get(points[i]!)!);
}

/** Curves of short steps with twice as many points, each turning by half (Chaikin 1974). */
function softer(points: readonly Pair[], width: number): Pair[] {
  return points.flatMap((p, i) => {
    const [a, b] = [points[i - 1], points[i + 1]];
    if (!a || !b || apart(a, p) > 1.2 * width || apart(p, b) > 1.2 * width) return [p];
    const by = Math.abs(turn(direction(p, b) - direction(a, p)));
    return by < SHARP / 2 || by > 2 * SHARP ? [p] : [on(p, [a[0] - p[0], a[1] - p[1]], 0.25), on(p, [b[0] - p[0], b[1] - p[1]], 0.25)];
  });
}

/** Places near the lowest from which nothing leads on to the left, the leftmost first: what comes from below need not bend that way there. */
function leftmost(edges: readonly Edge[], part: readonly number[], width: number): Entry[] {
  const points = part.flatMap((i) => edges[i]!.points);
  const low = Math.min(...points.map((p) => p[1]));
  const degree = degrees(part.map((i) => edges[i]!));
  const found: Entry[] = [];
  for (const i of part) {
    const { a, b, points: p } = edges[i]!;
    p.forEach((at, j) => {
      if (at[1] > low + width) return;
      const last = j === p.length - 1;
      const node = j === 0 ? a : last ? b : null;
      if (node !== null && degree.get(node)! > 1) return;
      const next = [p[j - 1], p[j + 1]].filter((q) => q !== undefined);
      if (next.every((q) => turn(direction(at, q) - 90) < 40 && turn(direction(at, q) - 90) > -160)) found.push({ at, node, edge: i, on: j });
    });
  }
  return found.sort((x, y) => x.at[0] - y.at[0]);
}

/** A letter as it is walked, alone on its link; what is bad about it. */
interface Letter {
  frame: Frame;
  path: LegDraft[];
  flown: Flown;
  lost: number;
  /** Strokes that close a round. */
  closes: number;
  manner: Manner;
}
/** One figure for how much is wrong; strokes that find no room count less than what flies. */
const badness = ({ knocked, clashes, tight, bent }: Flown, lost: number) => 100 * (clashes + tight) + 3 * bent + (knocked ? 20 + knocked : 0) + 8 * lost;

/** The path from the link up, round a letter and back to the link, in one manner. */
function walkedIn(manner: Manner, edges: readonly Edge[], root: { node: number; at: Pair }, level: number, beside: number, pitch: number): Letter | null {
  const tight = new Map<number, number>();
  const { node, at } = root;
  const below: Pair = [at[0], level];
  let made: { frame: Frame; path: LegDraft[] } | null = null;
  let [lost, closes] = [0, 0];
  let before = -1;
  // Twice more, since wider ways back leave less room beside them.
  for (let k = 0; k < 3; k++) {
    const sum = [...tight.values()].reduce((a, r) => a + r, tight.size);
    if (sum === before) break;
    before = sum;
    const walk = new Walk(edges, beside, new Map(tight));
    walk.letter(manner);
    walk.go([[at[0] - beside - LEAD * pitch - EASED, level], below], false, -1);
    walk.there([below, at], -2, () => walk.visit(node, 90));
    walk.go([below, [at[0] + beside + (LEAST + LEAD) * pitch, level]], false, -1);
    made = path(walk.steps, pitch, tight);
    [lost, closes] = [walk.lost, walk.closes];
  }
  return made && { ...made, flown: flown([made], pitch), lost, closes, manner };
}
/** The manner in which a letter falls surely, tried one by one. */
function walkedBest(edges: readonly Edge[], root: { node: number; at: Pair }, level: number, beside: number, pitch: number, tries: number): Letter | null {
  let best: Letter | null = null;
  for (const [wide, ease, shorter] of WIDTHS.slice(0, tries)) {
    for (let first = 0; first < Math.min(MANNERS, 2 ** (best?.closes ?? 1)); first++) {
      const made = walkedIn({ first, wide, ease, shorter }, edges, root, level, beside, pitch);
      if (made && (!best || badness(made.flown, made.lost) < badness(best.flown, best.lost))) best = made;
      if (best && badness(best.flown, best.lost) === 0) return best;
    }
    // Too low for its strokes, whatever the manner.
    if (best && best.flown.clashes + best.flown.tight > HOPELESS) return best;
  }
  return best;
}
/** The same letter is tried once: many come again while words are typed. Where the link lies lower, it is walked in the same manner. */
const known = new Map<string, Manner | null>();
function tried(edges: readonly Edge[], root: { node: number; at: Pair }, level: number, beside: number, pitch: number, lower: number, tries: number): Letter | null {
  const [x, y] = root.at;
  const key = `${tries} ${pitch} ${Math.round(level + lower - y)} ${edges.map((e) => e.points.map((p) => `${Math.round(p[0] - x)} ${Math.round(p[1] - y)}`).join(" ")).join("/")}`;
  const manner = known.get(key);
  if (manner !== undefined) return manner && walkedIn(manner, edges, root, level, beside, pitch);
  if (known.size >= KNOWN) known.clear();
  const best = walkedBest(edges, root, level, beside, pitch, tries);
  known.set(key, best && best.manner);
  return best;
}
const straight = (leg: LegDraft | undefined) => (leg?.is === "straight" ? leg.length : 0);

/** Lays letters along their link so far apart that what flies out of the bends of one does not reach the next, by whole pieces. Gives how far each is moved. */
function inLine(letters: readonly Letter[], level: number, pitch: number): { path: LegDraft[]; shifts: number[] } {
  const near = FREE;
  const contours = letters.map((l) => evenly(along(l.frame, l.path, 12), Math.max(12, pathLength(l.path) / MOST_PLACES)).filter((p) => p[1] > level + 8));
  const ends = letters.map((l) => l.frame.x + alongLink(l));
  const shifts: number[] = [];
  let path: LegDraft[] = [];
  letters.forEach((l, i) => {
    let by = shifts[i - 1] ?? 0;
    for (const j of [i - 1, i - 2])
      for (const p of contours[j] ?? [])
        for (const q of contours[i]!) {
          const dy = p[1] - q[1];
          if (Math.abs(dy) < near) by = Math.max(by, p[0] + shifts[j]! + Math.sqrt(near * near - dy * dy) - q[0]);
        }
    if (i === 0) {
      shifts.push(0);
      path = [...l.path];
      return;
    }
    const link = (shift: number) => straight(path[path.length - 1]) + l.frame.x + shift - ends[i - 1]! - shifts[i - 1]! + straight(l.path[0]);
    by += Math.max(0, -link(by));
    const before = pathLength(path) - straight(path[path.length - 1]);
    const joined = (shift: number) => [...path.slice(0, -1), { is: "straight" as const, length: round(link(shift)) }, ...l.path.slice(1)];
    const pair = (shift: number) => flown([{ frame: letters[i - 1]!.frame, path: [...letters[i - 1]!.path.slice(0, -1), { is: "straight", length: link(shift) }, ...l.path.slice(1)] }], pitch).knocked;
    for (let k = 0; k <= FARTHER; k++) {
      // Pieces of the letter stand as they did when it was tried alone.
      const own = before + link(by) - straight(l.path[0]);
      by += Math.ceil(own / pitch - 1e-6) * pitch - own;
      if (k === FARTHER || pair(by) <= letters[i - 1]!.flown.knocked + l.flown.knocked) break;
      by += 25;
    }
    path = joined(by);
    shifts.push(by);
  });
  return { path, shifts };
}
/** How far along the link a letter comes to its end. */
function alongLink({ path }: Letter): number {
  let [x, a] = [0, 0];
  for (const leg of path) {
    if (leg.is === "straight") x += leg.length * Math.cos(a);
    else if (leg.is === "arc") {
      const by = leg.turn * RAD;
      x += (leg.radius * Math.sign(by)) * (Math.sin(a + by) - Math.sin(a));
      a += by;
    }
  }
  return x;
}

/** The one line of words, or one of each letter; and lines of what it cannot come to. */
export function toured({ nodes: given, edges: drawn, width }: Medial, pitch: number, below: boolean): Linked & { flown: Flown } {
  const none: Flown = { knocked: 0, clashes: 0, tight: 0, bent: 0 };
  if (drawn.length === 0) return { lines: [], alone: [], lost: 0, flown: none };
  const beside = Math.max(BESIDE, LEAST * pitch);
  const lists = parts(drawn);
  const nodes = given.map((p): Pair => [p[0], p[1]]);
  const edges: Edge[] = drawn.map((e) => ({ ...e, points: softer(e.points, width) }));
  const fine = lists.map((part) => part.flatMap((i) => evenly(edges[i]!.points, Math.max(10, width / 6))));
  const spans = fine.map((f) => f.reduce(([a, b], p): Pair => [Math.min(a, p[0]), Math.max(b, p[0])], [Infinity, -Infinity]));
  const low = fine.reduce((least, f) => f.reduce((a, p) => Math.min(a, p[1]), least), Infinity);
  const room = 2 * beside + WIDE;
  const isFree = (p: Pair, own: number) => fine.every((f, j) => j === own || spans[j]![0] > p[0] + room || spans[j]![1] < p[0] - room || f.every((q) => q[1] > p[1] || Math.abs(q[0] - p[0]) > room));
  const own = lists.map((part) => [...part]);
  const roots = lists.map((part, j) => {
    const e = [...leftmost(edges, part, width), ...entries(edges, part, width)].find((c) => isFree(c.at, j));
    if (!e) return null;
    if (e.node !== null) return { node: e.node, at: e.at };
    const edge = edges[e.edge]!;
    const node = nodes.push(e.at) - 1;
    const before = [...edge.points.slice(0, e.on), e.at];
    const after = [e.at, ...edge.points.slice(apart(edge.points[e.on]!, e.at) < 0.01 ? e.on + 1 : e.on)];
    if (edge.a === edge.b && !part.some((i) => i !== e.edge && (edges[i]!.a === edge.a || edges[i]!.b === edge.a))) edges[e.edge] = { a: node, b: node, points: [...after, ...before.slice(1)] };
    else {
      edges[e.edge] = { a: edge.a, b: node, points: before };
      own[j]!.push(edges.push({ a: node, b: edge.b, points: after }) - 1);
    }
    return { node, at: e.at };
  });
  const mine = own.map((part) => part.map((i) => edges[i]!));
  // Where the way up bends to the left, both of its bends are wide.
  const toLeft = (n: number, e: Edge) => [e.a === n ? e.points : [], e.b === n ? [...e.points].reverse() : []].some((p) => p.length > 1 && turn(direction(p[0]!, p[1]!) - 90) > SHARP);
  const lefts = roots.some((r, j) => r && mine[j]!.some((e) => toLeft(r.node, e)));
  const lines: Linked["lines"] = [];
  const alone: number[] = [];
  let lost = 0;
  const moved = lists.map(() => 0);
  const fed = below ? roots.flatMap((r, j) => (r ? [{ r, j }] : [])).sort((a, b) => a.r.at[0] - b.r.at[0]) : [];
  let sum = none;
  let bad = Infinity;
  // The link lies lower while something flies onto it.
  for (const lower of fed.length ? LOWER : []) {
    const level = low - 2 * beside - (lefts ? EASED_TWICE : FREE) - lower;
    const walked = fed.flatMap(({ r, j }) => {
      const letter = tried(mine[j]!, r, level, beside, pitch, lower, fed.length > MANY ? FEWER : WIDTHS.length);
      return letter ? [{ j, letter }] : [];
    });
    if (walked.length === 0) continue;
    const { path, shifts } = inLine(walked.map((w) => w.letter), level + beside, pitch);
    const { frame } = walked[0]!.letter;
    const without = fed.length - walked.length + walked.reduce((n, w) => n + w.letter.lost, 0);
    const apiece = walked.reduce((a, { letter: { flown: f } }): Flown => ({ knocked: a.knocked + f.knocked, clashes: a.clashes + f.clashes, tight: a.tight + f.tight, bent: a.bent + f.bent }), none);
    const all = pathLength(path) / pitch > MOST_PIECES ? apiece : flown([{ frame, path }], pitch);
    if (badness(all, without) >= bad) continue;
    bad = badness(all, without);
    lines[0] = { frame, path, from: null };
    [sum, lost] = [all, without];
    walked.forEach(({ j }, i) => (moved[j] = shifts[i]!));
    if (all.knocked === 0 || all.clashes + all.tight > 0) break;
  }
  if (fed.length && lines.length === 0) lost += fed.length;
  let stand = sum.clashes;
  // What nothing comes to is walked from one of its ends, has a start of its own, and goes along with what it stands above.
  lists.forEach((_, j) => {
    const root = roots[j];
    if (below && root) return;
    const degree = degrees(mine[j]!);
    const ends = mine[j]!.flatMap((e) => [e.a, e.b]);
    const node = root?.node ?? ends.find((n) => degree.get(n) === 1) ?? ends[0]!;
    const e = mine[j]!.find((o) => o.a === node || o.b === node)!;
    const walk = new Walk(mine[j]!, beside, new Map());
    walk.letter(PLAIN);
    walk.visit(node, e.a === node ? direction(e.points[0]!, e.points[1]!) : direction(e.points[e.points.length - 1]!, e.points[e.points.length - 2]!));
    lost += walk.lost;
    const made = walk.steps.length ? path(walk.steps, pitch, new Map()) : null;
    if (!made) return void lost++;
    const middle = (spans[j]![0] + spans[j]![1]) / 2;
    const under = lists.map((_, k) => k).filter((k) => roots[k] && k !== j).sort((a, b) => off(middle, spans[a]!) - off(middle, spans[b]!))[0];
    const placed = { frame: { ...made.frame, x: made.frame.x + (below && under !== undefined ? moved[under]! : 0) }, path: made.path, from: null };
    // A dot that finds no room beside its letter is left out.
    const clashing = flown([...lines, placed], pitch).clashes;
    if (below && clashing > stand) return void lost++;
    stand = clashing;
    if (lines.length) alone.push(lines.length);
    lines.push(placed);
  });
  return { lines, alone, lost, flown: { ...sum, clashes: Math.max(sum.clashes, stand) } };
}
const off = (x: number, [low, high]: Pair) => Math.max(low - x, x - high, 0);
