/** What can be done while the fall is open. Pure, like the list for everywhere. */
import type { Key } from "../../i18n";
import type { Action } from "../../kernels/actions";

/** Ways to look at the fall; `place` is a camera of the plan. */
export type CameraMode = "orbit" | "walk" | "follow" | "place";

/** What the list needs of the view. Steps are 1 on and -1 back. */
export interface FallDoes {
  play: () => void;
  frame: (step: 1 | -1) => void;
  piece: (step: 1 | -1) => void;
  moment: (step: 1 | -1) => void;
  by: (seconds: number) => void;
  start: () => void;
  end: () => void;
  stall: () => void;
  speed: (step: 1 | -1) => void;
  camera: (mode: "orbit" | "walk" | "follow") => void;
  nextPlace: () => void;
  keep: () => void;
  whole: () => void;
  above: () => void;
  front: () => void;
  nearer: (step: 1 | -1) => void;
  choose: () => void;
  put: () => void;
  studio: (wanted: "picture" | "film") => void;
  timed: () => void;
  /** Brings the keys of the camera into view. */
  showCameras: () => void;
  now: () => { end: number; playing: boolean; mode: CameraMode; places: number; canWrite: boolean; stall: boolean; speed: string; space: boolean };
}

export function fallActions(does: FallDoes): Action[] {
  const falls = (): true | Key => (does.now().end > 0 ? true : "not.fall");
  const space = (): true | Key => (does.now().space ? true : "hall.nogl");
  const time = (id: string, words: Key, keys: readonly string[], run: () => void, more: Partial<Action> = {}): Action => ({ id: `fall.${id}`, group: "fall", words, keys, lives: "lives.timeline", when: falls, run, ...more });
  const view = (id: string, words: Key, keys: readonly string[], run: () => void, more: Partial<Action> = {}): Action => ({ id: `fall.${id}`, group: "fall", words, keys, lives: "lives.cameras", show: does.showCameras, when: space, run, ...more });
  const camera = (mode: "orbit" | "walk" | "follow", words: Key, key: string, also: Key): Action =>
    view(mode, words, [key], () => does.camera(mode), { also, when: () => (!does.now().space ? "hall.nogl" : does.now().mode === mode ? "not.already" : mode === "follow" ? falls() : true) });
  return [
    time("play", "keys.play", ["Space"], does.play, { also: "do.fall.play.also" }),
    time("frame.on", "fall.frame.on", ["."], () => does.frame(1), { repeats: true }),
    time("frame.back", "fall.frame.back", [","], () => does.frame(-1), { repeats: true }),
    time("piece.on", "fall.piece.on", ["N"], () => does.piece(1), { repeats: true }),
    time("piece.back", "fall.piece.back", ["Shift+N"], () => does.piece(-1), { repeats: true }),
    time("moment.on", "fall.moment.on", ["]"], () => does.moment(1), { also: "do.fall.moment.also" }),
    time("moment.back", "fall.moment.back", ["["], () => does.moment(-1), { also: "do.fall.moment.also" }),
    time("stall", "keys.stall", ["J"], does.stall, { also: "do.fall.stall.also", when: () => (does.now().stall ? true : "not.stall") }),
    time("ten.on", "fall.ten.on", ["PageUp"], () => does.by(10), { repeats: true }),
    time("ten.back", "fall.ten.back", ["PageDown"], () => does.by(-10), { repeats: true }),
    time("start", "fall.tostart", ["Home"], does.start),
    time("end", "fall.toend", ["End"], does.end),
    time("slower", "fall.slower", ["<"], () => does.speed(-1), { now: () => does.now().speed, also: "do.fall.speed.also" }),
    time("faster", "fall.faster", [">"], () => does.speed(1), { now: () => does.now().speed, also: "do.fall.speed.also" }),
    camera("orbit", "fall.orbit", "O", "do.fall.orbit.also"),
    camera("walk", "fall.walk", "W", "do.fall.walk.also"),
    camera("follow", "fall.follow", "L", "do.fall.follow.also"),
    view("place", "fall.place.next", ["C"], does.nextPlace, { also: "do.fall.place.also", when: () => (!does.now().space ? "hall.nogl" : does.now().places > 0 ? true : "not.camera") }),
    view("keep", "fall.keep", ["K"], does.keep, { also: "do.fall.place.also", when: () => (!does.now().space ? "hall.nogl" : does.now().canWrite ? true : "not.written") }),
    view("fit", "plan.fit", ["F"], does.whole),
    view("above", "fall.above", ["A"], does.above),
    view("front", "fall.front", ["V"], does.front, { when: () => (space() === true ? falls() : space()) }),
    view("closer", "plan.closer", ["+", "="], () => does.nearer(1), { repeats: true }),
    view("farther", "plan.farther", ["-"], () => does.nearer(-1), { repeats: true }),
    view("picture", "fall.picture", ["P"], () => does.studio("picture"), { also: "do.fall.picture.also" }),
    view("film", "fall.film", ["M"], () => does.studio("film"), { also: "do.fall.film.also", when: () => (space() === true ? falls() : space()) }),
    { id: "fall.timed", group: "fall", words: "timed.begin", keys: ["T"], also: "do.fall.timed.also", lives: "lives.report", run: does.timed },
    { id: "fall.choose", group: "fall", words: "keys.choose", keys: ["Enter"], run: does.choose },
    { id: "fall.put", group: "fall", words: "keys.put", keys: ["Escape"], run: does.put },
  ];
}
