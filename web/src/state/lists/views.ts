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

/** What is held down or has another sense on the time line; everything else of the fall is in its own list. */
export const FALL_KEYS: readonly Action[] = [
  own("fall", "turn", "keys.turn", ...ARROWS),
  own("fall", "slide", "keys.slide", ...FAR),
];

export const READ_KEYS: readonly Action[] = [
  own("read", "next", "read.next", "ArrowRight", "Space", "PageDown"),
  own("read", "back", "read.back", "ArrowLeft", "PageUp"),
];
