/** What can be done, as one list: it feeds keys, menus, the sheet of keys and the command list. */
import type { Key } from "../i18n";
import { isForControls, isForText, isSingle, pressed, readKeys, type Platform, type Press } from "./keys";

/** Groups in the order in which they are shown. */
export const GROUPS = ["views", "plan", "tools", "edit", "floor", "picture", "fall", "read", "files", "settings", "help"] as const;
export type Group = (typeof GROUPS)[number];

/** One thing that can be done. */
export interface Action {
  /** "undo", "go.plan"; the buttons for it carry it as `data-action`. */
  id: string;
  group: Group;
  words: Key;
  /** Keys like "Mod+Z", "T", "/"; each of them does it. */
  keys?: readonly string[];
  /** More about it just now: what would be undone. */
  now?: () => string;
  /** Other words that people look for. */
  also?: Key;
  /** Where it lives, in words. */
  lives?: Key;
  /** Brings what shows it into view, if it is not there already. */
  show?: () => void;
  /** True, or the words that say why it cannot be done just now. */
  when?: () => true | Key;
  /** It only moves or steps: of use as a key, not as an entry of the command list. */
  keyOnly?: boolean;
  /** It stands in the menu of the bare floor: as something that is done there, or that is added there. */
  bare?: "do" | "add";
  /** Holding its keys does it again and again. */
  repeats?: boolean;
  run: () => void;
}

/** Where the keys go: to the floor, to a field of text, to another control, or to nothing. */
export type Focus = "floor" | "text" | "control" | "free";

/** Keys that two actions claim, and keys that nobody can press; in words for whoever writes actions. */
export function clashes(actions: readonly Action[]): string[] {
  const told: string[] = [];
  const ids = new Set<string>();
  const taken = new Map<string, string>();
  for (const action of actions) {
    if (ids.has(action.id)) told.push(`${action.id} is there twice`);
    ids.add(action.id);
    for (const key of action.keys ?? []) {
      const other = taken.get(key);
      if (other !== undefined) told.push(`${key} is the key of ${other} and of ${action.id}`);
      else if (!readKeys(key)) told.push(`${key} of ${action.id} is no key`);
      taken.set(key, action.id);
    }
  }
  return told;
}

/** Whether keys reach an action while the focus is there. `singles`: whether keys without Ctrl act outside the floor. */
export function reaches(keys: string, focus: Focus, singles: boolean): boolean {
  if (focus === "text") return !isSingle(keys) && !isForText(keys);
  if (!isSingle(keys) || focus === "floor") return true;
  return singles && !(focus === "control" && isForControls(keys));
}

/** The action whose keys were pressed; the list that came last is asked first. */
export function pressedAction(actions: readonly Action[], event: Press, focus: Focus, platform: Platform, singles: boolean): Action | null {
  for (let i = actions.length - 1; i >= 0; i--) {
    const action = actions[i]!;
    if (action.keys?.some((keys) => pressed(keys, event, platform) && reaches(keys, focus, singles))) return action;
  }
  return null;
}

/** The actions by group, in the order of the groups; groups without any are left out. */
export function byGroup(actions: readonly Action[]): { group: Group; actions: Action[] }[] {
  return GROUPS.map((group) => ({ group, actions: actions.filter((a) => a.group === group) })).filter((g) => g.actions.length > 0);
}

/** What the menu of what is chosen offers, or that of the bare floor: all that can be done just now, in the order in which it is shown. */
export function inMenu(actions: readonly Action[], of: "chosen" | "floor"): Action[] {
  const possible = actions.filter((a) => !a.keyOnly && (a.when?.() ?? true) === true);
  if (of === "floor") return (["do", "add"] as const).flatMap((how) => possible.filter((a) => a.bare === how));
  // What chooses comes after what does.
  const later = (a: Action) => Number(a.id === "edit.all" || a.id === "edit.alike");
  return possible.filter((a) => a.group === "edit").sort((a, b) => later(a) - later(b));
}
