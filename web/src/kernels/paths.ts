/** Paths of lines as they are drawn: from points to legs, and from legs to points for the sketch. */
import type { LegDraft } from "../api/generated/LegDraft";
import type { Pair } from "./floor";
import { apart, direction, round, rounded, toHall, toOwn, turn, type Frame } from "./frames";

const RAD = Math.PI / 180;

/** A smooth curve through points of the hall, the first one its beginning; `heading` when something gives its direction. */
export function smooth(points: readonly Pair[], heading: number | null): { frame: Frame; path: LegDraft[] } | null {
  const clean = points.filter((p, i) => i === 0 || apart(p, points[i - 1]!) > 0.5);
  if (clean.length < 2) return null;
  const frame: Frame = { x: round(clean[0]![0]), y: round(clean[0]![1]), heading: turn(heading ?? direction(clean[0]!, clean[1]!)) };
  const straight = clean.length === 2 && Math.abs(turn(direction(clean[0]!, clean[1]!) - frame.heading)) < 0.01;
  if (straight) return { frame, path: [{ is: "straight", length: round(apart(clean[0]!, clean[1]!)) }] };
  return { frame, path: [{ is: "through", points: clean.slice(1).map((p) => rounded(toOwn(frame, p))) }] };
}

/** Straights with corners rounded by a radius, smaller where a straight is too short for it. With a `heading` it sets out in
 * that direction and bends to the first point; a `closed` one sets out from the middle of its first side and comes back to it. */
export function cornered(points: readonly Pair[], radius: number, heading: number | null = null, closed = false): { frame: Frame; path: LegDraft[] } | null {
  let clean = points.filter((p, i) => i === 0 || apart(p, points[i - 1]!) > 0.5);
  if (closed && clean.length > 2) {
    if (apart(clean[0]!, clean[clean.length - 1]!) <= 0.5) clean = clean.slice(0, -1);
    const middle: Pair = [(clean[0]![0] + clean[1]![0]) / 2, (clean[0]![1] + clean[1]![1]) / 2];
    clean = [middle, ...clean.slice(1), clean[0]!, middle];
  }
  if (clean.length < 2) return null;
  const frame: Frame = { x: round(clean[0]![0]), y: round(clean[0]![1]), heading: turn(heading ?? direction(clean[0]!, clean[1]!)) };
  const path: LegDraft[] = [];
  if (heading !== null && Math.abs(turn(direction(clean[0]!, clean[1]!) - heading)) > 0.01) {
    // The bend that leads from the given direction to the first point is the widest that fits: one arc to it.
    const first = arcTo(clean[0]!, heading, clean[1]!);
    if (first.length === 0) return smooth(clean, heading);
    path.push(...first);
    const leg = first[0]!;
    clean = [clean[1]!, ...clean.slice(2)];
    if (clean.length < 2) return { frame, path };
    const rest = cornered(clean, radius, turn(heading + (leg.is === "arc" ? leg.turn : 0)));
    return rest && { frame, path: [...path, ...rest.path] };
  }
  const long = clean.slice(1).map((p, i) => apart(clean[i]!, p));
  /** What each corner takes off the straights beside it. */
  const corner = clean.slice(1, -1).map((p, i) => {
    const by = turn(direction(p, clean[i + 2]!) - direction(clean[i]!, p));
    const half = Math.tan((Math.abs(by) * RAD) / 2);
    // Ends belong to one corner alone, sides in the middle to two.
    const [before, after] = [i === 0 ? long[i]! : long[i]! / 2, i + 2 === clean.length - 1 ? long[i + 1]! : long[i + 1]! / 2];
    return { by, off: Math.min(radius * half, before, after), half };
  });
  for (let i = 0; i < long.length; i++) {
    const left = long[i]! - (corner[i - 1]?.off ?? 0) - (corner[i]?.off ?? 0);
    if (left > 0.005) path.push({ is: "straight", length: round(left) });
    const c = corner[i];
    if (c && Math.abs(c.by) > 0.001 && c.half > 0) path.push({ is: "arc", radius: round(Math.max(1, c.off / c.half)), turn: turn(c.by) });
  }
  return { frame, path };
}

/** The direction of a smooth curve in the middle one of three places: that of the centripetal Catmull-Rom spline, as the engine takes it. */
export function centripetal(before: Pair, at: Pair, after: Pair): number {
  const [t1, t2] = [Math.sqrt(apart(before, at)), Math.sqrt(apart(at, after))];
  if (t1 === 0 || t2 === 0) return direction(before, after);
  const [x, y] = [(at[0] - before[0]) * (t2 / t1) + (after[0] - at[0]) * (t1 / t2), (at[1] - before[1]) * (t2 / t1) + (after[1] - at[1]) * (t1 / t2)];
  return Math.hypot(x, y) > 1e-9 * t1 * t2 ? Math.atan2(y, x) / RAD : direction(before, at) + 90;
}

/** A place on the engine's smooth piece between two places with directions, `t` from 0 to 1. */
export function between(a: Pair, ha: number, b: Pair, hb: number, t: number): Pair {
  const chord = direction(a, b);
  const cos = Math.cos((0.25 * (Math.abs(turn(ha - chord)) + Math.abs(turn(hb - chord)))) * RAD);
  const speed = apart(a, b) / (cos * cos);
  const [h1, h2, h3] = [t * (1 - t) * (1 - t), t * t * (3 - 2 * t), t * t * (t - 1)];
  const on = (i: 0 | 1, of: (r: number) => number) => a[i] + h2 * (b[i] - a[i]) + speed * (h1 * of(ha * RAD) + h3 * of(hb * RAD));
  return [on(0, Math.cos), on(1, Math.sin)];
}

/** A smooth loop through points that comes back to the first one in the direction in which it set out. */
export function loop(points: readonly Pair[]): { frame: Frame; path: LegDraft[] } | null {
  let clean = points.filter((p, i) => i === 0 || apart(p, points[i - 1]!) > 0.5);
  if (clean.length > 1 && apart(clean[0]!, clean[clean.length - 1]!) <= 0.5) clean = clean.slice(0, -1);
  if (clean.length < 3) return null;
  const [first, last] = [clean[0]!, clean[clean.length - 1]!];
  const heading = centripetal(last, first, clean[1]!);
  const before = centripetal(clean[clean.length - 2]!, last, first);
  // The last piece of a curve bends like a circle: points on the way make it short, so that it ends nearly as the loop began.
  return smooth([...clean, ...[0.25, 0.5, 0.75].map((t) => between(last, before, first, heading, t)), first], heading);
}

/** How a spiral leg begins whose centre and first place are given: the direction of the path there. */
export function spiralHeading(centre: Pair, from: Pair, ring: number, hand: "left" | "right"): number {
  const slope = Math.atan2(ring / (2 * Math.PI), apart(centre, from)) / RAD;
  return direction(centre, from) + (hand === "left" ? 1 : -1) * (90 - slope);
}

/** The centre of a spiral that begins at a place in a direction. */
export function spiralCentre(from: Frame, radius: number, ring: number, hand: "left" | "right"): Pair {
  const left = hand === "left" ? 1 : -1;
  const slope = Math.atan2(ring / (2 * Math.PI), radius) / RAD;
  return toHall({ ...from, heading: from.heading + left * slope }, [0, left * radius]);
}

/** An arc from a point in a direction to another point: its radius and turn; straight when they lie in line. */
export function arcTo(from: Pair, heading: number, to: Pair): LegDraft[] {
  const [x, y] = toOwn({ x: from[0], y: from[1], heading }, to);
  const long = Math.hypot(x, y);
  if (long < 0.5) return [];
  if (Math.abs(y) < 0.01) return x > 0 ? [{ is: "straight", length: round(x) }] : [];
  const radius = (x * x + y * y) / (2 * Math.abs(y));
  const by = 2 * Math.atan2(y, x);
  return [{ is: "arc", radius: round(radius), turn: Math.round((by / RAD) * 1000) / 1000 }];
}

/** An arc through three points of the hall; null when two of them are the same. */
export function arcThrough(a: Pair, via: Pair, b: Pair): { frame: Frame; path: LegDraft[] } | null {
  if (apart(a, b) < 0.5 || apart(a, via) < 0.5 || apart(via, b) < 0.5) return null;
  // The angle between chord and tangent at `a` is half of what the arc turns.
  const chord = direction(a, b);
  const bent = turn(direction(via, b) - direction(a, via));
  if (Math.abs(bent) < 0.01) return { frame: { x: round(a[0]), y: round(a[1]), heading: turn(chord) }, path: [{ is: "straight", length: round(apart(a, b)) }] };
  const heading = turn(chord - bent);
  const by = 2 * bent;
  const radius = apart(a, b) / (2 * Math.abs(Math.sin(bent * RAD)));
  return { frame: { x: round(a[0]), y: round(a[1]), heading }, path: [{ is: "arc", radius: round(radius), turn: Math.round(by * 1000) / 1000 }] };
}

/** Where each leg of a path begins and where the last one ends. */
export function stations(frame: Frame, path: readonly LegDraft[]): Frame[] {
  const all: Frame[] = [{ ...frame }];
  path.forEach((_, i) => all.push(walk(frame, path.slice(0, i + 1), 1e9).at));
  return all;
}

/** How long a leg is, mm: a straight or an arc; curves that are laid by the program count as none. */
export const legLength = (leg: LegDraft): number => (leg.is === "straight" ? leg.length : leg.is === "arc" ? leg.radius * Math.abs(leg.turn) * RAD : 0);
/** The same of all legs of a path. */
export const pathLength = (path: readonly LegDraft[]): number => path.reduce((sum, leg) => sum + legLength(leg), 0);

/** Points along a path in the hall, for a sketch: about `step` mm apart. Where a smooth curve turns back by
 * more than a right angle, the engine lays arcs; here it stays a plain bend. */
export const along = (frame: Frame, path: readonly LegDraft[], step: number): Pair[] => walk(frame, path, step).points;

function walk(frame: Frame, path: readonly LegDraft[], step: number): { points: Pair[]; at: Frame } {
  const points: Pair[] = [[frame.x, frame.y]];
  let at: Frame = { ...frame };
  const go = (x: number, y: number, by: number) => {
    const [hx, hy] = toHall(at, [x, y]);
    return { x: hx, y: hy, heading: at.heading + by };
  };
  for (const leg of path) {
    if (leg.is === "straight") {
      at = go(leg.length, 0, 0);
      points.push([at.x, at.y]);
    } else if (leg.is === "arc") {
      const n = Math.min(720, Math.max(2, Math.ceil((Math.abs(leg.turn) * RAD * leg.radius) / step)));
      const left = Math.sign(leg.turn);
      const begin = at;
      for (let i = 1; i <= n; i++) {
        const a = (Math.abs(leg.turn) * RAD * i) / n;
        at = begin;
        at = go(leg.radius * Math.sin(a), left * leg.radius * (1 - Math.cos(a)), left * (a / RAD));
        points.push([at.x, at.y]);
      }
    } else if (leg.is === "spiral") {
      const left = leg.hand === "left" ? 1 : -1;
      const n = Math.min(4000, Math.max(8, Math.ceil(leg.turns * 48)));
      const begin = at;
      const centre = spiralCentre(begin, leg.radius, leg.ring, leg.hand);
      const grows = leg.ring / (2 * Math.PI);
      const slope = (r: number) => Math.atan2(grows, r) / RAD;
      const first = Math.atan2(begin.y - centre[1], begin.x - centre[0]);
      for (let i = 1; i <= n; i++) {
        const a = (2 * Math.PI * leg.turns * i) / n;
        const r = Math.max(0, leg.radius + (leg.ring * a) / (2 * Math.PI));
        at = { x: centre[0] + r * Math.cos(first + left * a), y: centre[1] + r * Math.sin(first + left * a), heading: begin.heading + left * (a / RAD + slope(leg.radius) - slope(r)) };
        points.push([at.x, at.y]);
      }
    } else {
      let heading = at.heading;
      let from: Pair = [at.x, at.y];
      // Points are in the frame of the item, whatever legs come before.
      const knots = leg.points.map((p) => toHall(frame, p)).filter((p, i, all) => apart(p, i ? all[i - 1]! : from) > 1e-6);
      knots.forEach((q, i) => {
        const next = knots[i + 1];
        const chord = direction(from, q);
        const off = turn(heading - chord);
        const end = next ? centripetal(from, q, next) : Math.abs(off) < 90 ? chord - off : chord;
        const n = Math.min(64, Math.max(8, Math.ceil(apart(from, q) / step)));
        for (let k = 1; k <= n; k++) points.push(between(from, heading, q, end, k / n));
        [from, heading] = [q, end];
      });
      at = { x: from[0], y: from[1], heading };
    }
  }
  return { points, at };
}
