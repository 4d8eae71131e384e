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

/** Straights with corners rounded by a radius, smaller where a straight is too short for it. */
export function rounded_(points: readonly Pair[], radius: number): { frame: Frame; path: LegDraft[] } | null {
  const clean = points.filter((p, i) => i === 0 || apart(p, points[i - 1]!) > 0.5);
  if (clean.length < 2) return null;
  const frame: Frame = { x: round(clean[0]![0]), y: round(clean[0]![1]), heading: turn(direction(clean[0]!, clean[1]!)) };
  const path: LegDraft[] = [];
  const long = clean.slice(1).map((p, i) => apart(clean[i]!, p));
  /** What each corner takes off the straights beside it. */
  const corner = clean.slice(1, -1).map((p, i) => {
    const by = turn(direction(p, clean[i + 2]!) - direction(clean[i]!, p));
    const half = Math.tan((Math.abs(by) * RAD) / 2);
    const room = Math.min(long[i]!, long[i + 1]!) / 2;
    return { by, off: Math.min(radius * half, room), half };
  });
  for (let i = 0; i < long.length; i++) {
    const left = long[i]! - (corner[i - 1]?.off ?? 0) - (corner[i]?.off ?? 0);
    if (left > 0.005) path.push({ is: "straight", length: round(left) });
    const c = corner[i];
    if (c && Math.abs(c.by) > 0.001 && c.half > 0) path.push({ is: "arc", radius: round(Math.max(1, c.off / c.half)), turn: turn(c.by) });
  }
  return { frame, path };
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

/** Points along a path in the hall, for a sketch: about `step` mm apart; smooth curves only by their points. */
export function along(frame: Frame, path: readonly LegDraft[], step: number): Pair[] {
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
      // The centre lies to the side that the spiral turns to, one radius away, square to the way it begins.
      const slope = Math.atan2(leg.ring / (2 * Math.PI), leg.radius) / RAD;
      const inward = { ...begin, heading: begin.heading + left * slope };
      const centre = toHall(inward, [0, left * leg.radius]);
      const first = Math.atan2(begin.y - centre[1], begin.x - centre[0]);
      for (let i = 1; i <= n; i++) {
        const a = (2 * Math.PI * leg.turns * i) / n;
        const r = Math.max(0, leg.radius + (leg.ring * a) / (2 * Math.PI));
        at = { x: centre[0] + r * Math.cos(first + left * a), y: centre[1] + r * Math.sin(first + left * a), heading: begin.heading + left * (a / RAD) };
        points.push([at.x, at.y]);
      }
    } else {
      const begin = at;
      let before: Pair = [at.x, at.y];
      for (const p of leg.points) {
        const q = toHall(begin, p);
        points.push(q);
        at = { x: q[0], y: q[1], heading: direction(before, q) };
        before = q;
      }
    }
  }
  return points;
}
