/** A camera that circles a point of the floor: turn, height, distance. Millimetres and radians. */

export interface Orbit {
  /** What it looks at. */
  x: number;
  y: number;
  /** How far away it is. */
  far: number;
  /** From which side it looks: 0 from the south, counter-clockwise. */
  turn: number;
  /** How steeply it looks down: 0 along the floor, pi / 2 straight down. */
  steep: number;
}

const NEAREST = 150;
const FARTHEST = 400_000;
const between = (low: number, value: number, high: number) => Math.min(high, Math.max(low, value));

/** Where the camera is. */
export function eye(o: Orbit): [number, number, number] {
  const flat = o.far * Math.cos(o.steep);
  return [o.x + flat * Math.sin(o.turn), o.y - flat * Math.cos(o.turn), o.far * Math.sin(o.steep)];
}

export const circle = (o: Orbit, turn: number, steep: number): Orbit => ({ ...o, turn: o.turn + turn, steep: between(0.06, o.steep + steep, 1.55) });
export const approach = (o: Orbit, factor: number): Orbit => ({ ...o, far: between(NEAREST, o.far / factor, FARTHEST) });

/** Slides along the floor by shares of the distance: right and away from the camera. */
export function slide(o: Orbit, right: number, away: number): Orbit {
  const [c, s] = [Math.cos(o.turn), Math.sin(o.turn)];
  return { ...o, x: o.x + o.far * (right * c - away * s), y: o.y + o.far * (right * s + away * c) };
}
