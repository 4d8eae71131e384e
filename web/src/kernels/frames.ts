/** An item's own frame: x along its heading, y to the left of it. */
import type { Pair } from "./floor";

export interface Frame {
  x: number;
  y: number;
  /** Degrees counter-clockwise from east. */
  heading: number;
}
const RAD = Math.PI / 180;

export function toOwn(f: Frame, p: Pair): [number, number] {
  const [c, s] = [Math.cos(f.heading * RAD), Math.sin(f.heading * RAD)];
  const [dx, dy] = [p[0] - f.x, p[1] - f.y];
  return [dx * c + dy * s, dy * c - dx * s];
}
export function toHall(f: Frame, p: Pair): [number, number] {
  const [c, s] = [Math.cos(f.heading * RAD), Math.sin(f.heading * RAD)];
  return [f.x + p[0] * c - p[1] * s, f.y + p[0] * s + p[1] * c];
}
/** The place so far from another in a direction, and so far to the left of that. */
export const off = (at: Pair, heading: number, along: number, left = 0): [number, number] => toHall({ x: at[0], y: at[1], heading }, [along, left]);
/** From one place to another, degrees counter-clockwise from east. */
export const direction = (a: Pair, b: Pair): number => Math.atan2(b[1] - a[1], b[0] - a[0]) / RAD;
export const apart = (a: Pair, b: Pair): number => Math.hypot(a[0] - b[0], a[1] - b[1]);
/** A direction between -180 and 180, rounded to a thousandth of a degree. */
export const turn = (degrees: number): number => {
  const t = Math.round((((degrees % 360) + 540) % 360) * 1000 - 180_000) / 1000;
  return t === -180 ? 180 : t;
};
/** Half a micrometre and less is nothing: a length as it is kept, mm. */
export const round = (mm: number): number => Math.round(mm * 100) / 100;
export const rounded = (p: Pair): [number, number] => [round(p[0]), round(p[1])];
