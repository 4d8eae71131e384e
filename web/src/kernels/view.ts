/** What a camera in the hall sees, whether it circles, walks or stands where the plan says. Millimetres, degrees where said. */
import type { CameraDraft } from "../api/generated/CameraDraft";
import { toHall } from "./frames";
import { eye, VIEW_ANGLE, type Orbit } from "./orbit";

export type Spot = readonly [number, number, number];

export interface Sight {
  /** Where the lens is. */
  at: Spot;
  /** What lies in the middle of the picture. */
  look: Spot;
  /** From the lower edge of the picture to the upper one, degrees. */
  tall: number;
}

/** Somebody who stands in the hall, or a camera that turns its head. */
export interface Walker {
  x: number;
  y: number;
  /** Height of the eyes above the floor. */
  z: number;
  /** Where it looks: 0 to the north, counter-clockwise, radians. */
  turn: number;
  /** How steeply it looks down, radians; negative upwards. */
  steep: number;
  tall: number;
}

/** Eyes of a grown person who stands; common practice, no source. */
export const EYE_HEIGHT = 1_600;
/** mm a second at a stroll; common practice, no source. */
export const STROLL = 1_200;
/** What a walker looks at lies so far away. */
const AHEAD = 3_000;
const STEEPEST = 1.5;
const between = (low: number, value: number, high: number) => Math.min(high, Math.max(low, value));
const DEGREE = Math.PI / 180;

export const ofOrbit = (o: Orbit): Sight => ({ at: eye(o), look: [o.x, o.y, 0], tall: VIEW_ANGLE });

export function ofWalker(w: Walker): Sight {
  const flat = AHEAD * Math.cos(w.steep);
  return { at: [w.x, w.y, w.z], look: [w.x - flat * Math.sin(w.turn), w.y + flat * Math.cos(w.turn), w.z - AHEAD * Math.sin(w.steep)], tall: w.tall };
}

/** A walker that sees the same as a sight, or nearly so where it looks straight down. */
export function walkerAt({ at, look, tall }: Sight): Walker {
  const [dx, dy, dz] = [look[0] - at[0], look[1] - at[1], look[2] - at[2]];
  return { x: at[0], y: at[1], z: at[2], turn: Math.atan2(-dx, dy), steep: between(-STEEPEST, Math.atan2(-dz, Math.hypot(dx, dy)), STEEPEST), tall };
}

/** Steps ahead and to the right, mm; height stays. */
export function stride(w: Walker, ahead: number, right: number): Walker {
  const [c, s] = [Math.cos(w.turn), Math.sin(w.turn)];
  return { ...w, x: w.x + right * c - ahead * s, y: w.y + right * s + ahead * c };
}

export const turnHead = (w: Walker, turn: number, steep: number): Walker => ({ ...w, turn: w.turn + turn, steep: between(-STEEPEST, w.steep + steep, STEEPEST) });

/** Where somebody stands to see what a camera looks at, on the same side and no farther off than `most`. */
export function standAt(o: Orbit, most = 4_000): Walker {
  const off = between(900, o.far * Math.cos(o.steep), most);
  return walkerAt({ at: [o.x + off * Math.sin(o.turn), o.y - off * Math.cos(o.turn), EYE_HEIGHT], look: [o.x, o.y, 0], tall: 60 });
}

/** A camera that circles what a sight looks at, from its side: where its line of sight meets the floor, if that is near. */
export function orbitOf(sight: Sight, most = 30_000): Orbit {
  const w = walkerAt(sight);
  const steep = between(0.06, w.steep, 1.55);
  const far = between(150, sight.at[2] / Math.sin(steep), most);
  const flat = far * Math.cos(steep);
  return { x: w.x - flat * Math.sin(w.turn), y: w.y + flat * Math.cos(w.turn), far, turn: w.turn, steep };
}

/** From the left edge of a picture to the right one, degrees, from its height; and back. `aspect` is width by height. */
export const wideOf = (tall: number, aspect: number): number => (2 * Math.atan(Math.tan((tall * DEGREE) / 2) * aspect)) / DEGREE;
export const tallOf = (wide: number, aspect: number): number => wideOf(wide, 1 / aspect);

export interface CameraPlace {
  x: number;
  y: number;
  /** Degrees counter-clockwise from east. */
  heading: number;
  camera: CameraDraft;
}

/** A sight as a camera item of the plan: it heads for what it looks at. */
export function placeOf({ at, look, tall }: Sight, aspect: number): CameraPlace {
  const [dx, dy] = [look[0] - at[0], look[1] - at[1]];
  const heading = Math.atan2(dy, dx) / DEGREE;
  return { x: at[0], y: at[1], heading, camera: { height: at[2], look: [Math.hypot(dx, dy), 0], look_height: look[2], field_of_view: between(1, wideOf(tall, aspect), 170) } };
}

/** What a camera item sees in a picture of some shape. `base` is the height of what it stands on. */
export function sightOf(place: CameraPlace, aspect: number, base = 0): Sight {
  const { camera } = place;
  return {
    at: [place.x, place.y, base + camera.height],
    look: [...toHall(place, camera.look), base + camera.look_height],
    tall: tallOf(camera.field_of_view, aspect),
  };
}
