/** Keys that views take themselves while they have the focus; here for the sheet of keys and for the test of clashes. */
import type { Key } from "../../i18n";
import type { Action, Group } from "../../kernels/actions";

const own = (group: Group, id: string, words: Key, ...keys: string[]): Action => ({ id: `${group}.${id}`, group, words, keys, keyOnly: true, run: () => {} });

const ARROWS = ["ArrowLeft", "ArrowRight", "ArrowUp", "ArrowDown"];
const FAR = ARROWS.map((key) => `Shift+${key}`);

/** Keys of the floor beside its actions. */
export const PLAN_KEYS: readonly Action[] = [
  own("floor", "move", "keys.move", ...ARROWS),
  own("floor", "far", "keys.far", ...FAR),
  own("floor", "closer", "plan.closer", "+"),
  own("floor", "farther", "plan.farther", "-"),
  own("floor", "next", "keys.next", ".", ","),
  own("floor", "choose", "keys.choose", "Enter"),
  own("floor", "finish", "keys.finish", "Shift+Enter"),
  own("floor", "put", "keys.put", "Escape"),
];

export const FALL_KEYS: readonly Action[] = [
  own("fall", "play", "keys.play", "Space"),
  own("fall", "stall", "keys.stall", "J"),
  own("fall", "fit", "plan.fit", "F"),
  own("fall", "turn", "keys.turn", ...ARROWS),
  own("fall", "slide", "keys.slide", ...FAR),
  own("fall", "closer", "plan.closer", "+"),
  own("fall", "farther", "plan.farther", "-"),
  own("fall", "pages", "keys.tens", "PageUp", "PageDown"),
  own("fall", "ends", "keys.ends", "Home", "End"),
  own("fall", "choose", "keys.choose", "Enter"),
];

export const READ_KEYS: readonly Action[] = [
  own("read", "next", "read.next", "ArrowRight", "Space", "PageDown"),
  own("read", "back", "read.back", "ArrowLeft", "PageUp"),
];
