/** Keys of shortcuts: how they are written, when they are pressed, and how they are shown. */
import type { Language } from "./numbers";

/** Apple's machines have the Command key where others have Ctrl. */
export type Platform = "apple" | "other";

/** What of a key event matters. */
export interface Press {
  key: string;
  code?: string;
  ctrlKey: boolean;
  metaKey: boolean;
  shiftKey: boolean;
  altKey: boolean;
}

interface Chord {
  mod: boolean;
  shift: boolean;
  alt: boolean;
  /** As `KeyboardEvent.key` names it; letters are small. */
  key: string;
}

const NAMED: Record<string, string> = {
  Space: " ", Enter: "Enter", Escape: "Escape", Delete: "Delete", Backspace: "Backspace", Tab: "Tab", Home: "Home", End: "End",
  PageUp: "PageUp", PageDown: "PageDown", ArrowLeft: "ArrowLeft", ArrowRight: "ArrowRight", ArrowUp: "ArrowUp", ArrowDown: "ArrowDown",
};

/** Reads "Mod+Shift+Z", "F6", "/", "Space", "+"; null for anything else. Mod is Command on Apple's machines, else Ctrl. */
export function readKeys(text: string): Chord | null {
  const parts = text === "+" ? ["+"] : text.split(/\+(?=.)/);
  const last = parts.pop() ?? "";
  const held = new Set(parts);
  if (held.size !== parts.length || parts.some((p) => !["Mod", "Shift", "Alt"].includes(p))) return null;
  const key = NAMED[last] ?? (/^F([1-9]|1[0-2])$/.test(last) ? last : /^[A-Z]$/.test(last) ? last.toLowerCase() : /^[^\sa-zA-Z]$/.test(last) ? last : null);
  if (key === null) return null;
  return { mod: held.has("Mod"), shift: held.has("Shift"), alt: held.has("Alt"), key };
}

const isSign = (key: string) => key.length === 1 && !/[a-z0-9 ]/.test(key);

/** Whether these keys are the ones pressed. With signs the layout decides about Shift: "/" is Shift and 7 on German keys. */
export function pressed(text: string, event: Press, platform: Platform): boolean {
  const want = readKeys(text);
  if (!want) return false;
  const [mod, other] = platform === "apple" ? [event.metaKey, event.ctrlKey] : [event.ctrlKey, event.metaKey];
  let key = event.key.length === 1 ? event.key.toLowerCase() : event.key;
  // Keyboards of other scripts give no Latin letters; the place of the key then stands for its letter.
  if (/^[a-z]$/.test(want.key) && key.length === 1 && key > "\u00ff") key = /^Key([A-Z])$/.exec(event.code ?? "")?.[1]?.toLowerCase() ?? key;
  if (key !== want.key) return false;
  if (isSign(want.key)) {
    // Signs behind AltGr come with Ctrl and Alt held.
    const altGr = platform === "other" && event.ctrlKey && event.altKey && !want.mod;
    return other === false && (altGr || (mod === want.mod && event.altKey === want.alt));
  }
  return !other && mod === want.mod && event.altKey === want.alt && event.shiftKey === want.shift;
}

/** Keys that need no other key held: they must not act while somebody types. */
export function isSingle(text: string): boolean {
  const want = readKeys(text);
  return want !== null && !want.mod && !want.alt && !/^F\d+$/.test(want.key);
}

/** Keys that press, move or leave what has the focus; they act only where nothing else would take them. */
export function isForControls(text: string): boolean {
  const key = readKeys(text)?.key ?? "";
  return key === " " || (key.length > 1 && !/^F\d+$/.test(key));
}

/** Keys with which text is edited; a field of text keeps them. */
export const isForText = (text: string): boolean => /^Mod\+(Shift\+)?[ACVXYZ]$/.test(text);

const APPLE: Record<string, string> = { Mod: "⌘", Shift: "⇧", Alt: "⌥", Enter: "↩", Delete: "⌦", Backspace: "⌫", Escape: "esc", Tab: "⇥" };
const ARROWS: Record<string, string> = { ArrowLeft: "←", ArrowRight: "→", ArrowUp: "↑", ArrowDown: "↓" };
const WORDS: Record<Language, Record<string, string>> = {
  en: { Mod: "Ctrl", Delete: "Del", Escape: "Esc", PageUp: "Page up", PageDown: "Page down" },
  de: {
    Mod: "Strg", Shift: "Umschalt", Space: "Leertaste", Enter: "Eingabe", Delete: "Entf", Escape: "Esc", Backspace: "Rücktaste",
    Home: "Pos1", End: "Ende", PageUp: "Bild auf", PageDown: "Bild ab",
  },
};

/** The caps of the keys in the style of the platform: ["Ctrl", "Z"] or ["⌘", "Z"]. */
export function keyCaps(text: string, platform: Platform, language: Language): string[] {
  const parts = text === "+" ? ["+"] : text.split(/\+(?=.)/);
  return parts.map((part) => ARROWS[part] ?? (platform === "apple" ? APPLE[part] : undefined) ?? WORDS[language][part] ?? part);
}

/** For `aria-keyshortcuts`: keys apart by blanks. */
export function ariaKeys(keys: readonly string[], platform: Platform): string {
  const mod = platform === "apple" ? "Meta" : "Control";
  return keys.map((text) => (text === "+" ? "Plus" : text.replace(/^Mod/, mod))).join(" ");
}

/** Which platform a browser runs on, by the names that it gives itself. */
export const platformOf = (names: string): Platform => (/mac|iphone|ipad|ipod/i.test(names) ? "apple" : "other");

const ALL_ARROWS = ["ArrowLeft", "ArrowRight", "ArrowUp", "ArrowDown"];

/** The ways to press one of several keys, as caps; all four arrows with the same keys held are one way. */
export function keyWays(keys: readonly string[], platform: Platform, language: Language): string[][] {
  const ways: string[][] = [];
  const rest = [...keys];
  while (rest.length > 0) {
    const held = /^(.*\+)?ArrowLeft$/.exec(rest[0]!)?.[1] ?? "";
    const four = ALL_ARROWS.map((arrow) => held + arrow);
    if (rest[0]!.endsWith("ArrowLeft") && four.every((key) => rest.includes(key))) {
      ways.push([...keyCaps(held + "ArrowLeft", platform, language), ...ALL_ARROWS.slice(1).map((arrow) => ARROWS[arrow]!)]);
      for (const key of four) rest.splice(rest.indexOf(key), 1);
    } else ways.push(keyCaps(rest.shift()!, platform, language));
  }
  return ways;
}
