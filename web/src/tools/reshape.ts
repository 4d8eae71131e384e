/** Reshaping one item: its handles, and what it becomes when one of them goes elsewhere. Pure. */
import type { ItemDraft } from "../api/generated/ItemDraft";
import type { LegDraft } from "../api/generated/LegDraft";
import type { Pair } from "../kernels/floor";
import { apart, direction, round, rounded, toHall, toOwn, turn, type Frame } from "../kernels/frames";
import { along, arcThrough, arcTo, spiralCentre, stations } from "../kernels/paths";
import { area, counterClockwise } from "../kernels/pick";
import { MOST_CELLS, type Size } from "./drafts";

export interface Handle {
  /** `middle` draws out a new point; the others move what is there. */
  is: "start" | "point" | "end" | "bulge" | "ring" | "turns" | "middle" | "corner" | "edge" | "rim";
  at: Pair;
  /** Leg of the path. */
  leg: number;
  /** Point of the leg or of the outline, or which side of a field: 0 along the fall, then counter-clockwise. */
  i: number;
}
/** Handles of one item, at the most; more cannot be told apart. */
const MOST_HANDLES = 400;
const MOST_TURNS = 500;

/** Handles that are drawn small, since they make something new. */
export const isMiddle = (h: Handle): boolean => h.is === "middle" || h.is === "rim";
/** The same handle of the same item after it moved. */
export const same = (a: Handle, b: Handle): boolean => a.is === b.is && a.leg === b.leg && a.i === b.i;

/** The four corners of a field's frame, half a pitch around its pieces, from its right-hand first piece. */
function cornersOf(f: Frame, ranks: number, lanes: number, lengthways: number, across: number): Pair[] {
  const [x0, x1, y0, y1] = [-lengthways / 2, (ranks - 0.5) * lengthways, -across / 2, (lanes - 0.5) * across];
  return ([[x0, y0], [x1, y0], [x1, y1], [x0, y1]] as Pair[]).map((p) => toHall(f, p));
}
const mid = (a: Pair, b: Pair): Pair => [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];

export function handles(draft: ItemDraft): Handle[] {
  const { body } = draft;
  if (draft.locked) return [];
  if (body.is === "field") {
    const c = cornersOf(draft, body.ranks, body.lanes, body.pitch_along, body.pitch_across);
    return [...c.map((at, i): Handle => ({ is: "corner", at, leg: 0, i })), ...[1, 2, 3, 0].map((k, i): Handle => ({ is: "edge", at: mid(c[k]!, c[(k + 1) % 4]!), leg: 0, i }))];
  }
  if (body.is === "fill") {
    const c = body.outline.map((p): Pair => toHall(draft, p));
    if (c.length > MOST_HANDLES) return [];
    return [...c.map((at, i): Handle => ({ is: "point", at, leg: 0, i })), ...c.map((at, i): Handle => ({ is: "rim", at: mid(at, c[(i + 1) % c.length]!), leg: 0, i }))];
  }
  if (body.is !== "line") return [];
  const at = stations(draft, body.path);
  const found: Handle[] = body.from ? [] : [{ is: "start", at: [draft.x, draft.y], leg: 0, i: 0 }];
  body.path.forEach((leg, l) => {
    const [a, b] = [at[l]!, at[l + 1]!];
    const [pa, pb]: [Pair, Pair] = [[a.x, a.y], [b.x, b.y]];
    if (leg.is === "straight") found.push({ is: "end", at: pb, leg: l, i: 0 }, { is: "middle", at: mid(pa, pb), leg: l, i: 0 });
    else if (leg.is === "arc") {
      const half = along(a, [{ ...leg, turn: leg.turn / 2 }], 1e9);
      found.push({ is: "end", at: pb, leg: l, i: 0 }, { is: "bulge", at: half[half.length - 1]!, leg: l, i: 0 });
    } else if (leg.is === "spiral") {
      found.push({ is: "turns", at: pb, leg: l, i: 0 });
      if (leg.turns > 1.05) {
        const c = spiralCentre(a, leg.radius, leg.ring, leg.hand);
        const out = (direction(c, pa) * Math.PI) / 180;
        const r = leg.radius + leg.ring;
        found.push({ is: "ring", at: [c[0] + r * Math.cos(out), c[1] + r * Math.sin(out)], leg: l, i: 0 });
      }
    } else {
      const points = leg.points.map((p): Pair => toHall(draft, p));
      points.forEach((p, i) => found.push({ is: "point", at: p, leg: l, i }));
      // In the middle of the drawn curve, not of the chord.
      const curve = smoothMiddles(draft, body.path, l, points.length);
      curve.forEach((p, i) => found.push({ is: "middle", at: p, leg: l, i }));
    }
  });
  return found.length > MOST_HANDLES ? found.filter((h) => !isMiddle(h)).slice(0, MOST_HANDLES) : found;
}

/** Places on a smooth leg halfway between its points. */
function smoothMiddles(f: Frame, path: readonly LegDraft[], leg: number, count: number): Pair[] {
  if (count > MOST_HANDLES / 2) return [];
  const before = along(f, path.slice(0, leg), 1e9).length;
  // Eight steps from point to point, at a step longer than any leg.
  const all = along(f, path.slice(0, leg + 1), 1e9);
  return Array.from({ length: count }, (_, i) => all[before + i * 8 + 3]).filter((p): p is Pair => p !== undefined);
}

type Line = Extract<ItemDraft["body"], { is: "line" }>;
const withLeg = (draft: ItemDraft, body: Line, l: number, legs: LegDraft[]): ItemDraft => ({ ...draft, body: { ...body, path: [...body.path.slice(0, l), ...legs, ...body.path.slice(l + 1)] } });

/** The item with a handle at another place; itself where that makes no sense. */
export function dragged(draft: ItemDraft, h: Handle, to: Pair, size: Size = {}): ItemDraft {
  const { body } = draft;
  if (body.is === "field") return fieldDragged(draft, body, h, to, size);
  if (body.is === "fill") {
    const c = body.outline.map((p): Pair => toHall(draft, p));
    const moved = h.is === "rim" ? [...c.slice(0, h.i + 1), to, ...c.slice(h.i + 1)] : c.map((p, i) => (i === h.i ? to : p));
    // Not turned over: its direction is kept, and with it the number of each corner.
    if (area(moved) < 1_000 || counterClockwise(moved)[0] !== moved[0]) return draft;
    return { ...draft, body: { ...body, outline: moved.map((p) => rounded(toOwn(draft, p))) } };
  }
  if (body.is !== "line") return draft;
  if (h.is === "start") return startDragged(draft, body, to);
  const leg = body.path[h.leg];
  if (!leg) return draft;
  const begin = stations(draft, body.path.slice(0, h.leg + 1))[h.leg]!;
  const from: Pair = [begin.x, begin.y];
  /** A single leg without a port before it may set out in any direction. */
  const free = body.path.length === 1 && !body.from;
  if (leg.is === "straight" && h.is === "end") {
    if (apart(from, to) < 1) return draft;
    if (free) return { ...withLeg(draft, body, h.leg, [{ is: "straight", length: round(apart(from, to)) }]), heading: turn(direction(from, to)) };
    return withLeg(draft, body, h.leg, [{ is: "straight", length: round(Math.max(1, toOwn(begin, to)[0])) }]);
  }
  if (leg.is === "straight" && h.is === "middle") {
    const end = toHall(begin, [leg.length, 0]);
    const points = [to, end].map((p) => rounded(toOwn(draft, p)));
    const made = withLeg(draft, body, h.leg, [{ is: "through", points }]);
    return free ? refaced(made, direction(from, to)) : made;
  }
  if (leg.is === "arc" && h.is === "end") {
    const arc = arcTo(from, begin.heading, to);
    return arc.length ? withLeg(draft, body, h.leg, arc) : draft;
  }
  if (leg.is === "arc" && h.is === "bulge") {
    const path = along(begin, [leg], 1e9);
    const end = path[path.length - 1]!;
    if (free) {
      const made = arcThrough(from, to, end);
      return made ? { ...withLeg(draft, body, 0, made.path), x: made.frame.x, y: made.frame.y, heading: made.frame.heading } : draft;
    }
    // Its direction is given: as wide as it has to be to pass there, and as far round as it was.
    const arc = arcTo(from, begin.heading, to)[0];
    return arc?.is === "arc" ? withLeg(draft, body, h.leg, [{ ...leg, radius: arc.radius, turn: Math.abs(leg.turn) * Math.sign(arc.turn) }]) : draft;
  }
  if (leg.is === "spiral") {
    const c = spiralCentre(begin, leg.radius, leg.ring, leg.hand);
    const ends = (ring: number, turns: number) => leg.radius + ring * turns >= 0;
    if (h.is === "ring") {
      const ring = Math.abs(apart(c, to) - leg.radius) < 1 ? Math.sign(leg.ring) : round(apart(c, to) - leg.radius);
      if (Math.sign(ring) !== Math.sign(leg.ring)) return draft;
      const turns = ends(ring, leg.turns) ? leg.turns : Math.floor((leg.radius / -ring) * 1000) / 1000;
      return withLeg(draft, body, h.leg, [{ ...leg, ring, turns }]);
    }
    if (h.is === "turns") {
      // The whole turns are those that bring the end nearest to the place, the part of one is its direction.
      const left = leg.hand === "left" ? 1 : -1;
      const part = ((((left * (direction(c, to) - direction(c, from))) % 360) + 360) % 360) / 360;
      const whole = leg.ring === 0 ? Math.floor(leg.turns) : Math.round((apart(c, to) - leg.radius) / leg.ring - part);
      const most = leg.ring < 0 ? Math.min(MOST_TURNS, leg.radius / -leg.ring) : MOST_TURNS;
      let turns = Math.max(0, whole) + part;
      if (turns > most) turns = turns - 1 > 0 && turns - 1 <= most ? turns - 1 : most;
      return withLeg(draft, body, h.leg, [{ ...leg, turns: Math.max(0.05, Math.floor(turns * 1000) / 1000) }]);
    }
  }
  if (leg.is === "through") {
    const own = rounded(toOwn(draft, to));
    const points = h.is === "middle" ? [...leg.points.slice(0, h.i), own, ...leg.points.slice(h.i)] : leg.points.map((p, i) => (i === h.i ? own : p));
    const made = withLeg(draft, body, h.leg, [{ is: "through", points }]);
    // The beginning looks at the first point, as it was drawn, while nothing else gives its direction.
    const first = leg.points[0];
    const looked = first && Math.abs(turn(direction([0, 0], first))) < 0.05;
    return h.leg === 0 && h.i === 0 && free && looked ? refaced(made, direction(from, to)) : made;
  }
  return draft;
}

/** The same places on the floor with another heading. */
function refaced(draft: ItemDraft, heading: number): ItemDraft {
  const { body } = draft;
  if (body.is !== "line") return draft;
  const now = { x: draft.x, y: draft.y, heading: turn(heading) };
  return { ...draft, heading: now.heading, body: { ...body, path: body.path.map((leg) => (leg.is === "through" ? { ...leg, points: leg.points.map((p) => rounded(toOwn(now, toHall(draft, p)))) } : leg)) } };
}

/** The beginning elsewhere: points stay where they are, and so does the end of a single straight or arc; the rest comes along. */
function startDragged(draft: ItemDraft, body: Line, to: Pair): ItemDraft {
  const [x, y] = rounded(to);
  const only = body.path.length === 1 ? body.path[0]! : null;
  const end = stations(draft, body.path)[body.path.length]!;
  if (only?.is === "straight") {
    if (apart(to, [end.x, end.y]) < 1) return draft;
    return { ...draft, x, y, heading: turn(direction(to, [end.x, end.y])), body: { ...body, path: [{ is: "straight", length: round(apart(to, [end.x, end.y])) }] } };
  }
  if (only?.is === "arc") {
    const half = along(draft, [{ ...only, turn: only.turn / 2 }], 1e9);
    const made = arcThrough(to, half[half.length - 1]!, [end.x, end.y]);
    return made ? { ...draft, ...made.frame, body: { ...body, path: made.path } } : draft;
  }
  const first = body.path[0];
  if (first?.is !== "through") return { ...draft, x, y };
  const target = first.points[0] ? toHall(draft, first.points[0]) : to;
  if (apart(to, target) < 1) return draft;
  const looked = first.points[0] && Math.abs(turn(direction([0, 0], first.points[0]))) < 0.05;
  const now = { x, y, heading: looked ? turn(direction(to, target)) : draft.heading };
  return { ...draft, ...now, body: { ...body, path: body.path.map((leg) => (leg.is === "through" ? { ...leg, points: leg.points.map((p) => rounded(toOwn(now, toHall(draft, p)))) } : leg)) } };
}

/** Lanes and ranks change, by the place or to a typed size; the opposite edge stays. */
function fieldDragged(draft: ItemDraft, body: Extract<ItemDraft["body"], { is: "field" }>, h: Handle, to: Pair, size: Size): ItemDraft {
  const { pitch_along: lengthways, pitch_across: across } = body;
  const [x, y] = toOwn(draft, to);
  const fits = (n: number) => Math.min(MOST_CELLS, Math.max(1, Math.round(n)));
  const side = h.is === "corner" ? { first: h.i === 0 || h.i === 3, last: h.i === 1 || h.i === 2, right: h.i < 2, left: h.i > 1 } : { first: h.i === 2, last: h.i === 0, right: h.i === 3, left: h.i === 1 };
  const ranks = size.ranks !== undefined ? fits(size.ranks) : size.width !== undefined ? fits(size.width / lengthways) : side.last ? fits(x / lengthways + 0.5) : side.first ? fits(body.ranks - x / lengthways - 0.5) : body.ranks;
  const lanes = size.lanes !== undefined ? fits(size.lanes) : size.depth !== undefined ? fits(size.depth / across) : side.left ? fits(y / across + 0.5) : side.right ? fits(body.lanes - y / across - 0.5) : body.lanes;
  const [px, py] = toHall(draft, [side.first ? (body.ranks - ranks) * lengthways : 0, side.right ? (body.lanes - lanes) * across : 0]);
  return { ...draft, x: round(px), y: round(py), body: { ...body, ranks, lanes } };
}

/** The item without a point, or without a leg of its path; null when it would have nothing left. */
export function removed(draft: ItemDraft, h: Handle): ItemDraft | null {
  const { body } = draft;
  if (body.is === "fill") {
    if (h.is !== "point" || body.outline.length < 4) return null;
    const outline = body.outline.filter((_, i) => i !== h.i);
    return area(outline) < 1_000 || counterClockwise(outline)[0] !== outline[0] ? null : { ...draft, body: { ...body, outline } };
  }
  if (body.is !== "line") return null;
  if (h.is === "start") {
    // The first point of the curve becomes the beginning.
    const leg = body.path[0];
    if (leg?.is !== "through" || leg.points.length < 2) return null;
    const [first, ...rest] = leg.points;
    const at = toHall(draft, first!);
    const now = { x: round(at[0]), y: round(at[1]), heading: turn(direction(at, toHall(draft, rest[0]!))) };
    const path = [{ ...leg, points: rest }, ...body.path.slice(1)];
    return { ...draft, ...now, body: { ...body, path: path.map((l) => (l.is === "through" ? { ...l, points: l.points.map((p) => rounded(toOwn(now, toHall(draft, p)))) } : l)) } };
  }
  const leg = body.path[h.leg];
  if (!leg) return null;
  if (leg.is === "through" && h.is === "point" && leg.points.length > 1) return withLeg(draft, body, h.leg, [{ ...leg, points: leg.points.filter((_, i) => i !== h.i) }]);
  return body.path.length > 1 && h.is !== "middle" ? withLeg(draft, body, h.leg, []) : null;
}

/** The handle nearest to a place within a reach; points before middles. */
export function nearest(list: readonly Handle[], p: Pair, reach: number): Handle | null {
  let [best, least] = [null as Handle | null, reach];
  for (const h of list) {
    const d = apart(h.at, p) * (isMiddle(h) ? 1.5 : 1);
    if (d <= least) [best, least] = [h, d];
  }
  return best;
}
