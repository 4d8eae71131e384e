/** A line piece by piece, as it falls from its beginning: what of it flies onto pieces that are to fall later, and what does not fit. */
import type { LegDraft } from "../api/generated/LegDraft";
import type { Frame } from "./frames";
import { legLength } from "./paths";

const RAD = Math.PI / 180;
/** The usual piece, mm: crates `fall` and `findings` have the figures below for it, and take them larger for larger pieces. */
export const WIDE = 24;
export const THICK = 7.5;
/** So far along the line a piece is a neighbour, mm. */
const COURSE = 150;
/** Wider curves are straight, mm. */
const STRAIGHT = 4000;
/** The most that a piece may be turned against the one before, and beyond which the wave stops, degrees (crate `findings`, `turn.rs`). */
export const SAFE_TURN = 30;
export const MOST_TURN = 45;
/** What rounding adds, degrees. */
const NOISE = 0.1;
/** A little more than is needed, since the program sets its pieces by itself, mm. */
const SPARE = 3;

/** How far beyond the outer side of a bend pieces fly, by its radius, on the slickest floor that was measured; mm (crate `fall`, `law/reach.rs`). */
export function flies(radius: number): number {
  if (radius >= 400) return 8;
  return radius >= 100 ? 52.5 - ((radius - 100) / 300) * 44.5 : radius >= 60 ? 101 - ((radius - 60) / 40) * 48.5 : 101;
}

interface Placed {
  x: number;
  y: number;
  /** Direction, radians. */
  a: number;
}
/** Places a pitch apart along straights and arcs. */
export function pieces(frame: Frame, path: readonly LegDraft[], pitch: number): Placed[] {
  const out: Placed[] = [];
  let [x, y, a] = [frame.x, frame.y, frame.heading * RAD];
  let left = pitch / 2;
  for (const leg of path) {
    const turn = leg.is === "arc" ? leg.turn * RAD : 0;
    const length = legLength(leg);
    const at = (s: number): Placed => {
      if (turn === 0) return { x: x + s * Math.cos(a), y: y + s * Math.sin(a), a };
      const by = (turn * s) / length;
      const chord = 2 * (length / Math.abs(turn)) * Math.sin(Math.abs(by) / 2);
      return { x: x + chord * Math.cos(a + by / 2), y: y + chord * Math.sin(a + by / 2), a: a + by };
    };
    let s = left;
    for (; s < length; s += pitch) out.push(at(s));
    left = s - length;
    ({ x, y, a } = at(length));
  }
  return out;
}

/** Whether two pieces stand in one another (separating axes; textbook). */
function clash(p: Placed, q: Placed): boolean {
  const [dx, dy] = [q.x - p.x, q.y - p.y];
  return [p.a, p.a + Math.PI / 2, q.a, q.a + Math.PI / 2].every((axis) => {
    const [c, s] = [Math.cos(axis), Math.sin(axis)];
    const half = [p, q].reduce((sum, b) => sum + (THICK * Math.abs(Math.cos(b.a - axis)) + WIDE * Math.abs(Math.sin(b.a - axis))) / 2, 0);
    return Math.abs(dx * c + dy * s) < half;
  });
}

const NOBODY: readonly number[] = [];

export interface Flown {
  /** Pieces that something knocks before their turn comes. */
  knocked: number;
  /** Pieces that stand in another one. */
  clashes: number;
  /** Pieces that are turned so far that the wave stops, and so far that some waves did. */
  tight: number;
  bent: number;
}
/** What is wrong with lines, each of which falls from its beginning; nothing flies from one to the other. */
export function flown(lines: readonly { frame: Frame; path: readonly LegDraft[] }[], pitch: number): Flown {
  const all = lines.flatMap((l, line) => pieces(l.frame, l.path, pitch).map((p, rank) => ({ ...p, line, rank })));
  const CELL = 140;
  const key = (x: number, y: number) => x * 65_537 + y;
  const cells = new Map<number, number[]>();
  all.forEach((p, i) => {
    const k = key(Math.floor(p.x / CELL), Math.floor(p.y / CELL));
    const cell = cells.get(k);
    if (cell) cell.push(i);
    else cells.set(k, [i]);
  });
  const bend = (i: number): number => {
    const [p, q] = [all[i], all[i + 1]];
    if (!p || !q || p.line !== q.line) return Infinity;
    const by = Math.atan2(Math.sin(q.a - p.a), Math.cos(q.a - p.a));
    const radius = Math.hypot(q.x - p.x, q.y - p.y) / (2 * Math.sin(Math.abs(by) / 2));
    return Math.abs(by) < 1e-3 || radius > STRAIGHT ? Infinity : radius * Math.sign(by);
  };
  const bends = all.map((_, i) => bend(i));
  const chords = all.map((p, i) => (all[i + 1] ? Math.hypot(all[i + 1]!.x - p.x, all[i + 1]!.y - p.y) : 0));
  const course = Math.ceil(COURSE / pitch);
  const knocked = new Set<number>();
  const clashes = new Set<number>();
  let [tight, bent] = [0, 0];
  all.forEach((p, i) => {
    const before = i > 0 && all[i - 1]!.line === p.line ? bends[i - 1]! : Infinity;
    const after = bends[i]!;
    const radius = Math.abs(before) < Math.abs(after) ? before : after;
    const turned = Number.isFinite(after) ? (2 * Math.asin(Math.min(1, chords[i]! / (2 * Math.abs(after))))) / RAD : 0;
    if (turned > MOST_TURN + NOISE) tight++;
    else if (turned > SAFE_TURN + NOISE) bent++;
    const reach = Number.isFinite(radius) ? flies(Math.abs(radius)) + SPARE : 0;
    // A piece that turns to the left flies out on its right.
    const [ox, oy] = radius > 0 ? [Math.sin(p.a), -Math.cos(p.a)] : [-Math.sin(p.a), Math.cos(p.a)];
    const [cx, cy] = [Math.floor(p.x / CELL), Math.floor(p.y / CELL)];
    for (let k = 0; k < 9; k++) {
      for (const j of cells.get(key(cx + (k % 3) - 1, cy + Math.floor(k / 3) - 1)) ?? NOBODY) {
        const q = all[j]!;
        // Each two are looked at once for whether they clash; what flies hits what comes later.
        if (j <= i || (q.line === p.line && q.rank - p.rank === 1)) continue;
        const [dx, dy] = [q.x - p.x, q.y - p.y];
        if (Math.abs(dx) + Math.abs(dy) < 2 * WIDE && clash(p, q)) clashes.add(j);
        if (reach === 0 || q.line !== p.line || q.rank - p.rank <= course) continue;
        const out = dx * ox + dy * oy;
        if (out < 0 || out > reach + 2 * WIDE) continue;
        const [c, sin] = [Math.cos(q.a), Math.sin(q.a)];
        const [faces, slants] = [Math.abs(ox * c + oy * sin), Math.abs(ox * sin - oy * c)];
        const clear = out - (WIDE + THICK * faces + WIDE * slants) / 2;
        const abreast = Math.abs(dx * oy - dy * ox) <= (THICK * slants + WIDE * faces) / 2 + pitch / 2;
        if (abreast && clear > -SPARE && clear < reach) knocked.add(j);
      }
    }
  });
  return { knocked: knocked.size, clashes: clashes.size, tight, bent };
}
