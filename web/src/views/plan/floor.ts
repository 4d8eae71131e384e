/** What lies on the floor besides pieces: hall, aisles, exits, placeholders, gaps, names on tape, marks of findings. */
import type { HallPartRow } from "../../api/generated/HallPartRow";
import type { ItemRow } from "../../api/generated/ItemRow";
import type { State } from "../../api/generated/State";
import type { Covered } from "../../parts/drawing.svelte";
import { brief, ON_TAPE } from "../../kernels/brief";
import { toScreen, type Size, type View } from "../../kernels/floor";
import { toHall } from "../../kernels/frames";
import { EDGE, entrance, LINE, noteLines, noteSize } from "../../kernels/marks";
import { fan } from "../../tools/camera";

export interface Ink {
  floor: string;
  mark: string;
  edge: string;
  line: string;
  text: string;
  dim: string;
  tape: string;
  onTape: string;
  plain: string;
  must: string;
  onMust: string;
  should: string;
  ok: string;
  /** Strokes on the floor, over a dark casing. */
  stroke: string;
}
export interface Mark {
  at: readonly [number, number];
  severity: "must" | "should" | "note";
  chosen: boolean;
}
/** A safety gap that is open, and whether it stops a fall. */
export interface GapMark {
  at: readonly [number, number];
  holds: "surely" | "unsure" | "not";
  words: string;
}
type Draw = CanvasRenderingContext2D;
type Place = (p: readonly [number, number]) => [number, number];

const CASING = "#0b0c0a";
/** Tangent of the lean of 18 degrees. */
const LEAN = 0.325;

function trace(g: Draw, place: Place, outline: readonly (readonly [number, number])[]) {
  g.beginPath();
  outline.forEach((p, i) => {
    const [x, y] = place(p);
    if (i === 0) g.moveTo(x, y);
    else g.lineTo(x, y);
  });
  g.closePath();
}

/** How wide a strip of tape with these words is; sets their font. */
export function tapeWidth(g: Draw, words: string): number {
  g.font = '620 12px "Atkinson Next", system-ui, sans-serif';
  return g.measureText(words).width + 20;
}

/** A strip of tape with its words. */
export function tape(g: Draw, x: number, y: number, words: string, fill: string, ink: string) {
  const w = tapeWidth(g, words);
  const h = 22;
  g.beginPath();
  g.moveTo(x + h * LEAN, y);
  g.lineTo(x + w, y);
  g.lineTo(x + w - h * LEAN, y + h);
  g.lineTo(x, y + h);
  g.closePath();
  g.fillStyle = fill;
  g.fill();
  g.fillStyle = ink;
  g.textBaseline = "middle";
  g.textAlign = "left";
  g.fillText(words, x + 10, y + h / 2 + 1);
}

/** A frame around a piece that somebody chose, about its middle and turned as it is. */
export function frame(g: Draw, [x, y]: readonly [number, number], width: number, height: number, ink: string, yaw = 0) {
  g.save();
  g.translate(x, y);
  g.rotate(-yaw);
  for (const [colour, line] of [[CASING, 6], [ink, 2.5]] as const) {
    g.strokeStyle = colour;
    g.lineWidth = line;
    g.strokeRect(-width / 2, -height / 2, width, height);
  }
  g.restore();
}

function hatch(g: Draw, x0: number, y0: number, x1: number, y1: number, colour: string) {
  g.save();
  g.clip();
  g.strokeStyle = colour;
  g.lineWidth = 1;
  g.beginPath();
  const h = y1 - y0;
  for (let x = x0 - h; x < x1; x += 9) {
    g.moveTo(x, y1);
    g.lineTo(x + h, y0);
  }
  g.stroke();
  g.restore();
}

const boxOf = (points: [number, number][]) => [Math.min(...points.map((p) => p[0])), Math.min(...points.map((p) => p[1])), Math.max(...points.map((p) => p[0])), Math.max(...points.map((p) => p[1]))] as const;

function part(g: Draw, place: Place, p: HallPartRow, ink: Ink) {
  const points = p.outline.map(place);
  const [x0, y0, x1, y1] = boxOf(points);
  trace(g, place, p.outline);
  g.lineWidth = 1.5;
  g.setLineDash([]);
  if (p.is === "pillar") {
    g.fillStyle = ink.edge;
    g.fill();
    g.strokeStyle = ink.dim;
    g.stroke();
  } else if (p.is === "aisle") {
    g.fillStyle = ink.mark;
    g.fill();
    g.strokeStyle = ink.line;
    g.setLineDash([2, 6]);
    g.stroke();
  } else if (p.is === "exit" || p.is === "door") {
    g.fillStyle = ink.mark;
    g.fill();
    g.strokeStyle = p.is === "exit" ? ink.ok : ink.edge;
    g.lineWidth = p.is === "exit" ? 2.5 : 1.5;
    g.stroke();
  } else if (p.is === "overhead") {
    g.strokeStyle = ink.dim;
    g.setLineDash([6, 4]);
    g.stroke();
    g.setLineDash([]);
    g.beginPath();
    g.moveTo(x0, y0);
    g.lineTo(x1, y1);
    g.moveTo(x1, y0);
    g.lineTo(x0, y1);
    g.stroke();
  } else {
    g.fillStyle = ink.plain;
    g.fill();
    g.strokeStyle = ink.edge;
    g.stroke();
  }
  g.setLineDash([]);
  const room = x1 - x0;
  if (p.name && room > 26 && y1 - y0 > 10) {
    g.font = '420 12px "Atkinson Next", system-ui, sans-serif';
    g.fillStyle = ink.dim;
    g.textAlign = "center";
    g.textBaseline = "middle";
    if (g.measureText(p.name).width < room + 60) g.fillText(p.name, (x0 + x1) / 2, (y0 + y1) / 2);
  }
}

/** Under the pieces: the floor, the hall and its parts, placeholders. */
export function drawUnder(g: Draw, state: State, view: View, size: Size, ink: Ink) {
  const place: Place = (p) => toScreen(view, size, p);
  g.fillStyle = ink.floor;
  g.fillRect(0, 0, size.width, size.height);
  grid(g, view, size, ink);
  for (const p of state.floor_plan.parts.filter((p) => p.is !== "overhead" && p.is !== "surface")) part(g, place, p, ink);
  if (state.floor_plan.outline.length > 2) {
    trace(g, place, state.floor_plan.outline);
    g.strokeStyle = ink.edge;
    g.lineWidth = Math.max(3, Math.min(9, 120 * view.scale));
    g.stroke();
  }
  for (const p of state.floor_plan.parts.filter((p) => p.is === "door")) comeIn(g, place, state.floor_plan.outline, p, ink);
  for (const p of state.floor_plan.parts.filter((p) => p.is === "surface")) part(g, place, p, ink);
  for (const item of state.items) {
    if (item.sort === "placeholder" && item.outline.length) {
      trace(g, place, item.outline);
      hatch(g, ...boxOf(item.outline.map(place)), ink.dim);
      dashed(g, place, item.outline, ink);
    } else if (item.sort === "field" && item.outline.length) {
      trace(g, place, item.outline);
      g.strokeStyle = ink.edge;
      g.lineWidth = 1;
      g.stroke();
    }
  }
}

/** An arrow through the wall, where somebody comes in by a door. */
function comeIn(g: Draw, place: Place, walls: readonly (readonly [number, number])[], door: HallPartRow, ink: Ink) {
  const way = entrance(walls, door.outline);
  if (!way) return;
  const [x, y] = place(way.at);
  g.save();
  g.translate(x, y);
  g.rotate(Math.atan2(-way.into[1], way.into[0]));
  g.beginPath();
  for (const [u, v] of [[-16, -3], [0, -3], [0, -9], [14, 0], [0, 9], [0, 3], [-16, 3]] as const) g.lineTo(u, v);
  g.closePath();
  g.fillStyle = ink.stroke;
  g.strokeStyle = CASING;
  g.lineWidth = 3;
  g.stroke();
  g.fill();
  g.restore();
}

function grid(g: Draw, view: View, size: Size, ink: Ink) {
  const step = [1_000, 5_000, 10_000, 50_000].find((s) => s * view.scale >= 24);
  if (!step) return;
  g.strokeStyle = ink.line;
  g.lineWidth = 1;
  g.beginPath();
  const [x0, x1] = [view.x - size.width / 2 / view.scale, view.x + size.width / 2 / view.scale];
  const [y0, y1] = [view.y - size.height / 2 / view.scale, view.y + size.height / 2 / view.scale];
  for (let x = Math.ceil(x0 / step) * step; x <= x1; x += step) {
    const [sx] = toScreen(view, size, [x, 0]);
    g.moveTo(Math.round(sx) + 0.5, 0);
    g.lineTo(Math.round(sx) + 0.5, size.height);
  }
  for (let y = Math.ceil(y0 / step) * step; y <= y1; y += step) {
    const [, sy] = toScreen(view, size, [0, y]);
    g.moveTo(0, Math.round(sy) + 0.5);
    g.lineTo(size.width, Math.round(sy) + 0.5);
  }
  g.stroke();
}

function twice(g: Draw, ink: Ink, path: () => void, width = 2) {
  for (const [colour, w] of [[CASING, width + 4], [ink.stroke, width]] as const) {
    g.strokeStyle = colour;
    g.lineWidth = w;
    path();
    g.stroke();
  }
}

function trigger(g: Draw, place: Place, item: ItemRow, ink: Ink) {
  const [x, y] = place([item.x, item.y]);
  const a = (-item.heading * Math.PI) / 180;
  const [c, s] = [Math.cos(a), Math.sin(a)];
  if (item.sort === "start") {
    twice(g, ink, () => {
      g.beginPath();
      g.moveTo(x - 26 * c, y - 26 * s);
      g.lineTo(x - 6 * c, y - 6 * s);
      g.moveTo(x - 14 * c - 6 * s, y - 14 * s + 6 * c);
      g.lineTo(x - 6 * c, y - 6 * s);
      g.lineTo(x - 14 * c + 6 * s, y - 14 * s - 6 * c);
    }, 2.5);
  } else {
    trace(g, place, item.outline);
    g.fillStyle = ink.stroke;
    g.fill();
    twice(g, ink, () => {
      g.beginPath();
      g.moveTo(x - 9 * s, y + 9 * c);
      g.lineTo(x + 9 * s, y - 9 * c);
    }, 3);
  }
}

/** Notes, dimensions and cameras. */
function sign(g: Draw, place: Place, item: ItemRow, ink: Ink, length: (mm: number) => string) {
  const at = place([item.x, item.y]);
  const { body } = item;
  if (body.is === "note") slip(g, at, noteLines(body.text), ink);
  else if (body.is === "dimension") measure(g, at, place(toHall(item, body.to)), length(Math.hypot(...body.to)), ink);
  else if (body.is === "camera") {
    const look = toHall(item, body.look);
    const [, left, right] = fan([item.x, item.y], look, body.field_of_view).map(place) as [Point, Point, Point];
    twice(g, ink, () => {
      g.beginPath();
      g.moveTo(...left);
      g.lineTo(...at);
      g.lineTo(...right);
    }, 1.25);
    // The lens: a box that looks the way it looks.
    const [tx, ty] = place(look);
    const a = Math.atan2(ty - at[1], tx - at[0]);
    g.save();
    g.translate(...at);
    g.rotate(a);
    g.fillStyle = CASING;
    g.fillRect(-13, -8, 24, 16);
    g.fillStyle = ink.stroke;
    g.fillRect(-11, -6, 14, 12);
    g.beginPath();
    g.moveTo(3, 0);
    g.lineTo(9, -6);
    g.lineTo(9, 6);
    g.closePath();
    g.fill();
    g.restore();
  }
}
type Point = [number, number];

/** Words on a slip of paper whose lower left corner lies at a place. */
function slip(g: Draw, [x, y]: Point, lines: readonly string[], ink: Ink) {
  const [w, h] = noteSize(lines);
  g.fillStyle = CASING;
  g.fillRect(x - 1, y - h - 1, w + 2, h + 2);
  g.fillStyle = ink.plain;
  g.fillRect(x, y - h, w, h);
  g.save();
  g.beginPath();
  g.rect(x, y - h, w, h);
  g.clip();
  g.font = '420 12px "Atkinson Next", system-ui, sans-serif';
  g.fillStyle = ink.text;
  g.textAlign = "left";
  g.textBaseline = "middle";
  lines.forEach((line, i) => g.fillText(line, x + EDGE, y - h + EDGE / 2 + (i + 0.5) * LINE, w - 2 * EDGE));
  g.restore();
  g.fillStyle = CASING;
  g.fillRect(x - 3, y - 3, 6, 6);
  g.fillStyle = ink.stroke;
  g.fillRect(x - 2, y - 2, 4, 4);
}

/** A distance: its stroke, one across at each end, and its figure on the middle. */
function measure(g: Draw, a: Point, b: Point, words: string, ink: Ink) {
  const long = Math.hypot(b[0] - a[0], b[1] - a[1]);
  if (long < 1) return;
  const [nx, ny] = [(-(b[1] - a[1]) / long) * 7, ((b[0] - a[0]) / long) * 7];
  twice(g, ink, () => {
    g.beginPath();
    g.moveTo(...a);
    g.lineTo(...b);
    for (const [x, y] of [a, b]) {
      g.moveTo(x - nx, y - ny);
      g.lineTo(x + nx, y + ny);
    }
  }, 1.5);
  const w = tapeWidth(g, words);
  tape(g, (a[0] + b[0]) / 2 - w / 2, (a[1] + b[1]) / 2 - 11, words, ink.plain, ink.text);
}

/** Words that lie over the pieces, and where none may lie. */
export interface Words {
  marks: readonly Mark[];
  /** Words for items in place of their names. */
  labels: ReadonlyMap<number, string>;
  covered: readonly Covered[];
  gaps: readonly GapMark[];
  /** Items that do not stand yet. */
  unbuilt: ReadonlySet<number>;
  /** Items that are not shown. */
  hidden: ReadonlySet<number>;
  /** A length in words. */
  length: (mm: number) => string;
}

/** Over the pieces: gaps, starts, stoppers, names, findings. */
export function drawOver(g: Draw, state: State, view: View, size: Size, ink: Ink, words: Words) {
  const place: Place = (p) => toScreen(view, size, p);
  g.clearRect(0, 0, size.width, size.height);
  for (const p of state.floor_plan.parts.filter((p) => p.is === "overhead")) part(g, place, p, ink);
  for (const item of state.items)
    for (const gap of item.gaps)
      for (const [a, b] of gap.strokes)
        twice(g, ink, () => {
          g.beginPath();
          g.moveTo(...place(a));
          g.lineTo(...place(b));
        });
  for (const item of state.items) {
    if (!words.unbuilt.has(item.id) || !item.outline.length) continue;
    dashed(g, place, item.outline, ink);
  }
  for (const item of state.items) if (item.sort === "start" || item.sort === "stopper") trigger(g, place, item, ink);
  for (const item of state.items) if (!words.hidden.has(item.id)) sign(g, place, item, ink, words.length);
  // Gaps that may not hold take their room before the names, those that do after them.
  const taken = [...words.covered];
  const radius = view.scale < CROWDED ? 9 : 13;
  gapMarks(g, place, radius, ink, words.gaps, taken);
  gapWords(g, place, size, radius, ink, words.gaps.filter((gap) => gap.holds !== "surely"), taken);
  names(g, state, place, size, ink, words.labels, taken);
  gapWords(g, place, size, radius, ink, words.gaps.filter((gap) => gap.holds === "surely"), taken);
  for (const mark of words.marks) drawMark(g, place, mark, ink);
}

/** The outline of what is not drawn, or does not stand yet. */
function dashed(g: Draw, place: Place, outline: State["items"][number]["outline"], ink: Ink) {
  trace(g, place, outline);
  g.strokeStyle = ink.dim;
  g.lineWidth = 1.5;
  g.setLineDash([7, 4]);
  g.stroke();
  g.setLineDash([]);
}

/** Sorts whose items say what they are, or have no room for a name. */
const UNNAMED = new Set(["feed", "stopper", "note", "dimension"]);

function names(g: Draw, state: State, place: Place, size: Size, ink: Ink, labels: Words["labels"], taken: Covered[]) {
  const order = [...state.items].sort((a, b) => Number(b.sort === "field") - Number(a.sort === "field") || b.pieces - a.pieces);
  for (const item of order) {
    if (UNNAMED.has(item.sort)) continue;
    const corners = item.outline.length ? item.outline : [[item.x, item.y] as [number, number]];
    const [x0, y0, x1, y1] = boxOf(corners.map(place));
    if (x1 < 0 || y1 < 0 || x0 > size.width || y0 > size.height) continue;
    const words = labels.get(item.id) ?? brief(item.name, ON_TAPE);
    const w = tapeWidth(g, words);
    const x = Math.min(size.width - w - 6, Math.max(6, x0));
    // Above the item, or under it where another name or a slip is.
    const within = (y: number) => Math.min(size.height - 28, Math.max(6, y));
    const y = [within(y0 - 26), within(y1 + 6)].find((y) => !taken.some(([a, b, c, d]) => x < c && x + w > a && y < d && y + 22 > b));
    if (y === undefined) continue;
    taken.push([x, y, x + w, y + 22]);
    const heat = labels.has(item.id);
    tape(g, x, y, words, heat ? ink.tape : ink.plain, heat ? ink.onTape : ink.text);
  }
}

/** Pixels a millimetre below which gaps lie close together on the screen and have smaller marks. */
const CROWDED = 0.12;

const gapColour = (gap: GapMark, ink: Ink) => (gap.holds === "not" ? ink.must : gap.holds === "unsure" ? ink.should : ink.text);

/** Round marks on the open gaps; adds the boxes that they take. */
function gapMarks(g: Draw, place: Place, radius: number, ink: Ink, gaps: readonly GapMark[], taken: Covered[]) {
  for (const gap of gaps) {
    const [x, y] = place(gap.at);
    const colour = gapColour(gap, ink);
    g.save();
    g.translate(x, y);
    g.scale(radius / 13, radius / 13);
    g.beginPath();
    g.arc(0, 0, 13, 0, 2 * Math.PI);
    g.fillStyle = CASING;
    g.fill();
    g.strokeStyle = colour;
    g.lineWidth = 1.5;
    g.stroke();
    pose(g, gap.holds === "not" ? "lies" : gap.holds === "unsure" ? "leans" : "stands", colour);
    g.restore();
    taken.push([x - radius, y - radius, x + radius, y + radius]);
  }
}

/** What open gaps do, in words beside their marks where there is room. */
function gapWords(g: Draw, place: Place, size: Size, radius: number, ink: Ink, gaps: readonly GapMark[], taken: Covered[]) {
  for (const gap of gaps) {
    const [x, y] = place(gap.at);
    if (x < 0 || y < 11 || x > size.width || y > size.height - 11) continue;
    const w = tapeWidth(g, gap.words);
    const free = (left: number) => left > 4 && left + w < size.width - 4 && !taken.some(([a, b, c, d]) => left < c && left + w > a && y - 11 < d && y + 11 > b);
    const left = [x + radius + 3, x - radius - 3 - w].find(free);
    if (left === undefined) continue;
    taken.push([left, y - 11, left + w, y + 11]);
    const plain = gap.holds === "surely";
    tape(g, left, y - 11, gap.words, plain ? ink.plain : gapColour(gap, ink), plain ? ink.text : "#220500");
  }
}

/** A piece in the pose that says how grave something is. */
function pose(g: Draw, how: "stands" | "leans" | "lies", colour: string) {
  g.fillStyle = colour;
  if (how === "lies") g.fillRect(-8, 1, 16, 6);
  else {
    if (how === "leans") g.rotate(0.55);
    g.fillRect(-3, -8, 6, 16);
  }
}

function drawMark(g: Draw, place: Place, mark: Mark, ink: Ink) {
  const [x, y] = place(mark.at);
  const colour = mark.severity === "must" ? ink.must : mark.severity === "should" ? ink.should : ink.dim;
  if (mark.chosen) {
    g.beginPath();
    g.arc(x, y, 22, 0, 2 * Math.PI);
    g.lineWidth = 7;
    g.strokeStyle = CASING;
    g.stroke();
    g.lineWidth = 3;
    g.strokeStyle = ink.tape;
    g.stroke();
  }
  // The pose says how grave it is: lying, leaning, standing.
  g.save();
  g.translate(x, y);
  g.fillStyle = CASING;
  g.fillRect(-12, -12, 24, 24);
  g.strokeStyle = colour;
  g.lineWidth = 1.5;
  g.strokeRect(-12, -12, 24, 24);
  pose(g, mark.severity === "must" ? "lies" : mark.severity === "should" ? "leans" : "stands", colour);
  g.restore();
}
