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

/** The camera's angle of view from top to bottom, degrees. */
export const VIEW_ANGLE = 42;
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

type Spot = readonly [number, number, number];

/** Three directions of a camera in space: to its right, upwards on its picture, and away from it. */
export function axes(o: Pick<Orbit, "turn" | "steep">): { right: Spot; up: Spot; away: Spot } {
  const [c, s, cs, ss] = [Math.cos(o.turn), Math.sin(o.turn), Math.cos(o.steep), Math.sin(o.steep)];
  return { right: [c, s, 0], up: [-s * ss, c * ss, cs], away: [-s * cs, c * cs, -ss] };
}

/**
 * The nearest camera of a given turn and height that sees all points within margins in pixels: left, top, right, bottom.
 * Each side of the picture is a plane through the camera; the points that lie farthest beyond it say where it must be.
 */
export function whole(points: readonly Spot[], size: { width: number; height: number }, margin: readonly [number, number, number, number], look: Pick<Orbit, "turn" | "steep">): Orbit | null {
  if (points.length === 0 || size.width <= 0 || size.height <= 0) return null;
  const { right, up, away } = axes(look);
  const dot = (a: Spot, b: Spot) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
  const b = Math.tan((VIEW_ANGLE * Math.PI) / 360);
  const a = (b * size.width) / size.height;
  // No room at all between the margins is as bad as none around: a tenth of the picture is left in any case.
  const ends = (low: number, high: number, all: number): [number, number] => {
    const [from, to] = [(2 * low) / all - 1, 1 - (2 * high) / all];
    const middle = between(-0.9, (from + to) / 2, 0.9);
    const half = Math.max(0.1, (to - from) / 2);
    return [middle - half, middle + half];
  };
  const [x0, x1] = ends(margin[0], margin[2], size.width);
  const [y0, y1] = ends(margin[3], margin[1], size.height);
  const side = (axis: Spot, low: number, high: number) => {
    let [least, most] = [Infinity, -Infinity];
    for (const p of points) {
      const [along, deep] = [dot(p, axis), dot(p, away)];
      most = Math.max(most, along - high * deep);
      least = Math.min(least, along - low * deep);
    }
    // Where along the view the camera may stand at the most, and from there where along this axis.
    return { most: (least - most) / (high - low), at: (deep: number) => (most + high * deep + least + low * deep) / 2 };
  };
  const [across, upright] = [side(right, x0 * a, x1 * a), side(up, y0 * b, y1 * b)];
  const deep = Math.min(across.most, upright.most);
  const [r, u] = [across.at(deep), upright.at(deep)];
  const camera = [0, 1, 2].map((i) => r * right[i]! + u * up[i]! + deep * away[i]!) as [number, number, number];
  const far = camera[2] / Math.sin(look.steep);
  return { x: camera[0] + far * away[0], y: camera[1] + far * away[1], far: between(NEAREST, far, FARTHEST), ...look };
}
