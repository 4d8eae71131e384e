/** What lies over the floor while somebody draws: what is chosen, strokes, points, ghosts of pieces, what was met. */
import type { ItemRow } from "../../api/generated/ItemRow";
import type { HallPieces } from "../../kernels/columns";
import { toScreen, type Pair, type Size, type View } from "../../kernels/floor";
import type { Left } from "../../kernels/waiting";
import type { Snap } from "../../kernels/snap";
import type { Sketch } from "../../tools/tool";
import type { Ink } from "./floor";
import { body } from "./sizes";
import type { KindRow } from "../../api/generated/KindRow";

const CASING = "#0b0c0a";
/** Ghosts of more pieces than these are shown by their outline alone. */
const GHOSTS = 20_000;
/** Length of a bracket at a corner, pixels. */
const BRACKET = 13;

type Draw = CanvasRenderingContext2D;
type Place = (p: Pair) => [number, number];

/** Two strokes, a dark casing under a light line, so that they show on any piece. */
function twice(g: Draw, ink: string, width: number, dash: readonly number[] = []) {
  g.setLineDash([]);
  g.strokeStyle = CASING;
  g.lineWidth = width + 3;
  g.stroke();
  g.setLineDash([...dash]);
  g.strokeStyle = ink;
  g.lineWidth = width;
  g.stroke();
  g.setLineDash([]);
}

function path(g: Draw, place: Place, points: readonly Pair[], closed: boolean) {
  g.beginPath();
  points.forEach((p, i) => (i === 0 ? g.moveTo(...place(p)) : g.lineTo(...place(p))));
  if (closed) g.closePath();
}

/** Brackets around what is chosen. */
function brackets(g: Draw, place: Place, item: ItemRow, ink: Ink) {
  const points = (item.outline.length ? item.outline : [[item.x, item.y] as Pair]).map(place);
  const xs = points.map((p) => p[0]);
  const ys = points.map((p) => p[1]);
  const [x0, y0, x1, y1] = [Math.min(...xs) - 6, Math.min(...ys) - 6, Math.max(...xs) + 6, Math.max(...ys) + 6];
  const b = Math.min(BRACKET, (x1 - x0) / 2, (y1 - y0) / 2);
  g.beginPath();
  for (const [x, y, dx, dy] of [[x0, y0, b, b], [x1, y0, -b, b], [x1, y1, -b, -b], [x0, y1, b, -b]] as const) {
    g.moveTo(x + dx, y);
    g.lineTo(x, y);
    g.lineTo(x, y + dy);
  }
  twice(g, item.locked ? ink.dim : ink.tape, 3);
}

export interface Drawn {
  sketch: Sketch;
  chosen: readonly ItemRow[];
  ghosts: HallPieces | null;
  kinds: readonly KindRow[];
  met: Snap | null;
  handle: { at: Pair; about: Pair } | null;
  colour: (id: number) => string;
  /** The place that keys press; null while the pointer is used. */
  cross: Pair | null;
}

/** Where items would come to lie. */
export function drawMoved(g: Draw, view: View, size: Size, ink: Ink, items: readonly { at: [number, number]; outline: readonly [number, number][] }[]) {
  const place: Place = (p) => toScreen(view, size, p);
  for (const { at, outline } of items) {
    if (outline.length > 2) path(g, place, outline, true);
    else {
      const [x, y] = place(at);
      g.beginPath();
      g.rect(x - 4, y - 4, 8, 8);
    }
    twice(g, ink.tape, 2, [7, 4]);
  }
}

/** What was drawn and moved and waits for the connection: drafts over the plan. */
export function drawWaiting(g: Draw, view: View, size: Size, ink: Ink, items: readonly Left[]) {
  const place: Place = (p) => toScreen(view, size, p);
  for (const { strokes } of items) {
    for (const { points, closed } of strokes) {
      if (points.length < 2) continue;
      path(g, place, points, closed);
      twice(g, ink.tape, 2, [7, 4]);
    }
  }
}

export function drawSketch(g: Draw, view: View, size: Size, ink: Ink, d: Drawn) {
  const place: Place = (p) => toScreen(view, size, p);
  for (const item of d.chosen) brackets(g, place, item, ink);
  if (d.ghosts && d.ghosts.n <= GHOSTS) ghosts(g, view, size, d);
  for (const stroke of d.sketch.strokes) {
    if (stroke.points.length < 2) continue;
    path(g, place, stroke.points, stroke.closed ?? false);
    twice(g, stroke.faint ? ink.stroke : ink.tape, stroke.faint ? 1.25 : 2, stroke.faint ? [5, 4] : []);
  }
  for (const p of d.sketch.middles ?? []) {
    const [x, y] = place(p);
    g.beginPath();
    g.rect(x - 2, y - 4, 4, 8);
    twice(g, ink.stroke, 1);
  }
  d.sketch.points.forEach((p, i) => {
    const [x, y] = place(p);
    // The chosen one is wider and hollow.
    const wide = d.sketch.chosen === i ? 3 : 0;
    g.beginPath();
    g.rect(x - 3 - wide, y - 6 - wide, 6 + 2 * wide, 12 + 2 * wide);
    twice(g, ink.tape, wide ? 2.5 : 1.5);
    g.fillStyle = ink.tape;
    if (!wide) g.fill();
  });
  if (d.handle) {
    const [x, y] = place(d.handle.at);
    g.beginPath();
    g.arc(x, y, 7, 0.9, 6.6);
    twice(g, ink.tape, 2.5);
    g.beginPath();
    g.arc(x, y, 2, 0, 7);
    g.fillStyle = ink.tape;
    g.fill();
  }
  if (d.met) meeting(g, place, d.met, ink);
  if (d.cross) {
    const [x, y] = place(d.cross);
    g.beginPath();
    g.moveTo(x - 14, y);
    g.lineTo(x + 14, y);
    g.moveTo(x, y - 14);
    g.lineTo(x, y + 14);
    twice(g, ink.tape, 1.5);
  }
}

function ghosts(g: Draw, view: View, size: Size, d: Drawn) {
  const pieces = d.ghosts!;
  const byKind = new Map(d.kinds.map((k) => [k.id, k]));
  const ratio = devicePixelRatio;
  g.save();
  g.globalAlpha = 0.9;
  for (let p = 0; p < pieces.n; p++) {
    const [x, y] = toScreen(view, size, [pieces.x[p]!, pieces.y[p]!]);
    if (x < -50 || y < -50 || x > size.width + 50 || y > size.height + 50) continue;
    const [along, across] = body(byKind.get(pieces.kind[p]!), pieces.pose[p]!);
    const [w, h] = [Math.max(1.2, along * view.scale), Math.max(1.2, across * view.scale)];
    const [c, s] = [Math.cos(pieces.yaw[p]!), -Math.sin(pieces.yaw[p]!)];
    g.setTransform(ratio * c, ratio * s, -ratio * s, ratio * c, ratio * x, ratio * y);
    g.fillStyle = d.colour(pieces.colour[p]!);
    g.fillRect(-w / 2, -h / 2, w, h);
  }
  g.restore();
}

/** What was met, by a mark of its own and the strokes that show why. */
function meeting(g: Draw, place: Place, snap: Snap, ink: Ink) {
  for (const [a, b] of snap.guides) {
    path(g, place, [a, b], false);
    twice(g, ink.tape, 1, [2, 4]);
  }
  if (snap.kind === "grid") return;
  const [x, y] = place(snap.at);
  g.beginPath();
  if (snap.kind === "port") {
    // Two pieces that face each other.
    g.rect(x - 9, y - 8, 5, 16);
    g.rect(x + 4, y - 8, 5, 16);
  } else if (snap.kind === "corner" || snap.kind === "end") g.rect(x - 6, y - 6, 12, 12);
  else if (snap.kind === "middle") {
    g.moveTo(x, y - 8);
    g.lineTo(x + 8, y + 6);
    g.lineTo(x - 8, y + 6);
    g.closePath();
  } else if (snap.kind === "edge") {
    g.moveTo(x - 7, y - 7);
    g.lineTo(x + 7, y + 7);
    g.moveTo(x - 7, y + 7);
    g.lineTo(x + 7, y - 7);
  } else g.arc(x, y, 5, 0, 7);
  twice(g, ink.tape, 2);
}
