/** Notes, dimensions and cameras on the floor: how large they are drawn, and what of them can be pressed. */
import type { ItemRow } from "../api/generated/ItemRow";
import type { Pair } from "./floor";
import { toHall } from "./frames";

/** Signs in a line of a note on the floor, and lines; the rest is told where the note is opened. */
const SIGNS = 30;
const LINES = 6;
/** Pixels: a sign, a line, and the edge around them. */
const SIGN = 7;
export const LINE = 16;
export const EDGE = 8;
/** Signs that are looked at; a note may be very long. */
const LOOK = 600;

/** The lines of a note as the floor shows them; `…` where there is more. */
export function noteLines(text: string): string[] {
  const signs = [...text.slice(0, 2 * LOOK)].slice(0, LOOK);
  let more = signs.length === LOOK && text.length > LOOK;
  const lines: string[] = [];
  for (const given of signs.join("").split("\n")) {
    let line = "";
    for (const word of given.replace(/\t/g, " ").split(" ")) {
      const rest = [...word];
      while ([...line].length + rest.length + 1 > SIGNS && (line !== "" || rest.length > SIGNS)) {
        if (line === "") line = rest.splice(0, SIGNS).join("");
        lines.push(line);
        line = "";
      }
      line = line === "" ? rest.join("") : `${line} ${rest.join("")}`;
    }
    lines.push(line);
  }
  while (lines.length > 1 && lines[lines.length - 1]!.trim() === "") lines.pop();
  if (lines.length > LINES) {
    lines.length = LINES;
    more = true;
  }
  if (more) lines[lines.length - 1] = `${lines[lines.length - 1]} …`;
  return lines;
}

/** Width and height of a note's slip, pixels. Signs that take two places are wide, as in East Asian scripts and emoji. */
export function noteSize(lines: readonly string[]): [number, number] {
  const wide = (line: string) => [...line].reduce((sum, c) => sum + (c.codePointAt(0)! > 0x2e80 ? 2 : 1), 0);
  return [Math.max(4, ...lines.map(wide)) * SIGN + 2 * EDGE, lines.length * LINE + EDGE];
}

/** What of an item without an outline can be pressed besides its place: a stroke, or an area; null for others. */
export function shapeOf(item: Pick<ItemRow, "x" | "y" | "heading" | "body">, scale: number): readonly Pair[] | null {
  const at: Pair = [item.x, item.y];
  if (item.body.is === "dimension") return [at, toHall(item, item.body.to)];
  if (item.body.is === "note") {
    const [w, h] = noteSize(noteLines(item.body.text));
    // The slip lies to the right of its place and above it, whatever the view.
    return [at, [at[0] + w / scale, at[1]], [at[0] + w / scale, at[1] + h / scale], [at[0], at[1] + h / scale]];
  }
  return null;
}

/** Where somebody comes in by a door: on the wall that lies nearest to its middle, and the way into the hall. Null without walls. */
export function entrance(walls: readonly Pair[], door: readonly Pair[]): { at: [number, number]; into: [number, number] } | null {
  if (walls.length < 3 || door.length === 0) return null;
  const mean = (i: 0 | 1) => door.reduce((sum, p) => sum + p[i], 0) / door.length;
  const [x, y] = [mean(0), mean(1)];
  let best = Infinity;
  let found: { at: [number, number]; into: [number, number] } | null = null;
  const turn = Math.sign(walls.reduce((sum, p, i) => sum + p[0] * walls[(i + 1) % walls.length]![1] - p[1] * walls[(i + 1) % walls.length]![0], 0));
  walls.forEach((a, i) => {
    const b = walls[(i + 1) % walls.length]!;
    const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
    const long = Math.hypot(dx, dy);
    if (long === 0) return;
    const along = Math.min(1, Math.max(0, ((x - a[0]) * dx + (y - a[1]) * dy) / (long * long)));
    const at: [number, number] = [a[0] + along * dx, a[1] + along * dy];
    const far = Math.hypot(at[0] - x, at[1] - y);
    // The hall lies to the left of its walls when they go round counter-clockwise.
    if (far < best) [best, found] = [far, { at, into: [(-dy / long) * turn, (dx / long) * turn] }];
  });
  return found;
}
