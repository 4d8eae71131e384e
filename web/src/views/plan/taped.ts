/** The hall as measured, over the floor: marks, tapes with what they say, and the walls where they would lie. */
import type { TapedHall } from "../../api/generated/TapedHall";
import { toScreen, type Pair, type Size, type View } from "../../kernels/floor";
import { offOf, strokeOf, wordsOn } from "../../kernels/taped";
import { tape, tapeWidth, type Ink } from "./floor";

const CASING = "#0b0c0a";
/** Half the stroke across the end of a tape, pixels. */
const END = 6;
/** How high a strip with words is, pixels. */
const HIGH = 22;
/** So many tapes say their length on the floor, those that clash first: each looks for room among the others. */
const SAID = 300;

type Draw = CanvasRenderingContext2D;

function stroke(g: Draw, points: readonly (readonly [number, number])[], ink: string, width: number, dash: readonly number[] = [], closed = false) {
  for (const [colour, wide, gaps] of [[CASING, width + 3, []], [ink, width, dash]] as const) {
    g.beginPath();
    points.forEach((p, i) => (i ? g.lineTo(p[0], p[1]) : g.moveTo(p[0], p[1])));
    if (closed) g.closePath();
    g.setLineDash([...gaps]);
    g.strokeStyle = colour;
    g.lineWidth = wide;
    g.stroke();
  }
  g.setLineDash([]);
}

/** Draws it; `length` gives lengths in words. */
export function drawTaped(g: Draw, view: View, size: Size, ink: Ink, told: TapedHall, length: (mm: number) => string) {
  const place = (p: Pair) => toScreen(view, size, p);
  if (told.walls.length > 2) stroke(g, told.walls.map(place), ink.tape, 2, [9, 6], true);
  const labels: { ends: [Pair, Pair]; words: string; clash: boolean }[] = [];
  for (const one of told.tapes) {
    const ends = strokeOf(told, one);
    if (!ends) continue;
    const [a, b] = [place(ends[0]), place(ends[1])];
    const long = Math.hypot(b[0] - a[0], b[1] - a[1]);
    if (long < 1) continue;
    const clash = one.is !== "fine";
    const [nx, ny] = [(-(b[1] - a[1]) / long) * END, ((b[0] - a[0]) / long) * END];
    // What clashes is wide and dashed, and its words say by how much: not told by colour alone.
    stroke(g, [a, b], clash ? ink.must : ink.stroke, clash ? 3 : 1.25, clash ? [10, 5] : []);
    for (const [x, y] of [a, b]) stroke(g, [[x - nx, y - ny], [x + nx, y + ny]], clash ? ink.must : ink.stroke, 1.5);
    labels.push({ ends: [a, b], words: clash ? `✕ ${length(one.length)} ${(one.misfit ?? 0) < 0 ? "−" : "+"}${length(Math.abs(one.misfit ?? 0))}` : length(one.length), clash });
  }
  for (const mark of told.marks) {
    const [x, y] = place(mark.at);
    const off = offOf(mark);
    if (off) {
      const to = place(mark.fitted!);
      stroke(g, [[x, y], to], ink.tape, 1.5, [3, 3]);
      stroke(g, [[to[0] - 5, to[1]], [to[0] + 5, to[1]]], ink.tape, 2);
      stroke(g, [[to[0], to[1] - 5], [to[0], to[1] + 5]], ink.tape, 2);
    }
    // A cross in a box: a place to hold a tape at. One that nothing fixes is open.
    stroke(g, [[x - 6, y - 6], [x + 6, y - 6], [x + 6, y + 6], [x - 6, y + 6]], ink.stroke, 1.5, mark.loose ? [3, 3] : [], true);
    if (!mark.loose) {
      stroke(g, [[x - 6, y - 6], [x + 6, y + 6]], ink.stroke, 1);
      stroke(g, [[x - 6, y + 6], [x + 6, y - 6]], ink.stroke, 1);
    }
  }
  // Words come last, so that no stroke crosses them; marks first, then what clashes.
  const taken: [number, number, number, number][] = [];
  for (const mark of told.marks) {
    const [x, y] = place(mark.at);
    const words: [number, number] = [x + 10, y - 8 - HIGH];
    tape(g, ...words, mark.name, ink.plain, ink.text);
    if (taken.length < SAID) taken.push([...words, words[0] + tapeWidth(g, mark.name), y - 8]);
  }
  labels.sort((a, b) => Number(b.clash) - Number(a.clash));
  for (const { ends, words, clash } of labels.slice(0, SAID)) {
    const w = tapeWidth(g, words);
    const room = wordsOn(ends, w, HIGH, taken);
    if (!room) continue;
    taken.push([...room.box]);
    tape(g, room.at[0] - w / 2, room.at[1] - HIGH / 2, words, clash ? ink.must : ink.plain, clash ? ink.onMust : ink.text);
  }
}
