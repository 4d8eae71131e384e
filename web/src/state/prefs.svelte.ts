/** How this browser shows things: look, language, unit system. Never part of the plan. */
import type { Language } from "../i18n";
import type { System } from "../kernels/units";
import { keep, kept } from "./kept";

export type Look = "dark" | "light" | "hall";

const pick = <T extends string>(value: string | null, all: readonly T[], usual: T): T =>
  all.find((v) => v === value) ?? usual;

class Prefs {
  look = $state<Look>(pick(kept("look"), ["dark", "light", "hall"], "dark"));
  language = $state<Language>(
    pick(kept("language") ?? navigator.language.slice(0, 2), ["en", "de"], "en"),
  );
  system = $state<System>(pick(kept("system"), ["metric", "imperial"], "metric"));
  /** Whether keys without Ctrl act also while the floor has not the focus; who dictates or trembles turns that off. */
  singles = $state(kept("singles") !== "off");

  setLook(look: Look) {
    this.look = look;
    keep("look", look);
    this.apply();
  }

  setLanguage(language: Language) {
    this.language = language;
    keep("language", language);
    this.apply();
  }

  setSystem(system: System) {
    this.system = system;
    keep("system", system);
  }

  /** Paper is light, whatever the screen is. */
  onPaper(printing: boolean) {
    document.documentElement.dataset.look = printing ? "light" : this.look;
  }

  setSingles(on: boolean) {
    this.singles = on;
    keep("singles", on ? "on" : "off");
  }

  /** Puts look and language on the page itself. */
  apply() {
    document.documentElement.dataset.look = this.look;
    document.documentElement.lang = this.language;
  }
}

export const prefs = new Prefs();
