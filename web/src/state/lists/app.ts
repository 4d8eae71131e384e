/** What can be done from everywhere. Pure: what it does is handed in, so that the list can be tested. */
import type { Key } from "../../i18n";
import type { Action } from "../../kernels/actions";
import type { Language } from "../../kernels/numbers";
import type { System } from "../../kernels/units";
import type { Look } from "../prefs.svelte";
import type { Slip } from "../slips.svelte";

/** What the list needs of the program. */
export interface AppDoes {
  go: (address: string) => void;
  open: (slip: Slip) => void;
  findings: () => void;
  undo: () => void;
  redo: () => void;
  copy: () => void;
  example: () => void;
  drawHall: () => void;
  look: (look: Look) => void;
  language: (language: Language) => void;
  system: (system: System) => void;
  singles: () => void;
  now: () => {
    view: string;
    planner: boolean;
    canWrite: boolean;
    undo: string | null;
    redo: string | null;
    empty: boolean;
    look: Look;
    language: Language;
    system: System;
    singles: boolean;
  };
}

const VIEWS = [
  ["plan", "/plan", "view.plan"],
  ["picture", "/", "view.picture"],
  ["stock", "/stock", "view.stock"],
  ["fall", "/fall", "view.fall"],
  ["sheets", "/sheets", "view.sheets"],
  ["read-choose", "/read", "view.read"],
] as const;

/** What planners can do from everywhere, and what of it the crew can. */
export function appActions(does: AppDoes): Action[] {
  const planner = (): true | Key => (does.now().planner ? true : "not.planner");
  const writes = (): true | Key => (!does.now().planner ? "not.planner" : does.now().canWrite ? true : "not.written");
  const views = VIEWS.map(([view, address, words]): Action => ({
    id: `go.${view}`,
    group: "views",
    words,
    also: "do.go.also",
    lives: "lives.lintel",
    ...(view === "read-choose" ? {} : { when: planner }),
    run: () => does.go(address),
  }));
  const choice = (id: string, words: Key, also: Key, isNow: () => boolean, run: () => void): Action => ({
    id, group: "settings", words, also, lives: "lives.look", show: () => does.open("settings"), when: () => (isNow() ? "not.already" : true), run,
  });
  return [
    ...views,
    {
      id: "undo", group: "plan", words: "undo", keys: ["Mod+Z"], lives: "lives.lintel", now: () => does.now().undo ?? "",
      when: () => (writes() !== true ? writes() : does.now().undo === null ? "undo.none" : true), run: does.undo,
    },
    {
      id: "redo", group: "plan", words: "redo", keys: ["Mod+Shift+Z", "Mod+Y"], lives: "lives.lintel", now: () => does.now().redo ?? "",
      when: () => (writes() !== true ? writes() : does.now().redo === null ? "redo.none" : true), run: does.redo,
    },
    { id: "history", group: "plan", words: "history", also: "do.history.also", lives: "lives.saved", when: planner, run: () => does.go("/history") },
    { id: "findings", group: "plan", words: "findings", also: "do.findings.also", keys: ["F6"], lives: "lives.kerb", run: does.findings },
    {
      id: "example", group: "plan", words: "do.example", also: "do.example.also", lives: "lives.empty",
      when: () => (writes() !== true ? writes() : does.now().empty ? true : "not.empty"), run: does.example,
    },
    { id: "hall.draw", group: "plan", words: "do.hall", also: "do.hall.also", when: writes, run: does.drawHall },
    { id: "gear", group: "plan", words: "gear.do", also: "gear.do.also", lives: "lives.gear", show: () => does.go("/stock?part=gear"), when: planner, run: () => does.go("/stock?part=gear") },
    { id: "copy", group: "files", words: "backup.get", also: "do.copy.also", keys: ["Mod+S"], lives: "lives.look", show: () => does.open("settings"), when: planner, run: does.copy },
    { id: "export", group: "files", words: "do.export", also: "do.export.also", when: planner, run: () => does.go("/sheets") },
    { id: "tablets", group: "files", words: "do.tablets", also: "do.tablets.also", lives: "lives.lintel", when: planner, run: () => does.open("tablets") },
    { id: "look", group: "settings", words: "look.title", also: "do.look.also", lives: "lives.lintel", run: () => does.open("settings") },
    choice("look.dark", "do.look.dark", "do.look.also", () => does.now().look === "dark", () => does.look("dark")),
    choice("look.light", "do.look.light", "do.look.also", () => does.now().look === "light", () => does.look("light")),
    choice("look.hall", "do.look.hall", "do.look.also", () => does.now().look === "hall", () => does.look("hall")),
    choice("language.en", "do.english", "do.language.also", () => does.now().language === "en", () => does.language("en")),
    choice("language.de", "do.german", "do.language.also", () => does.now().language === "de", () => does.language("de")),
    choice("units.metric", "do.metric", "do.units.also", () => does.now().system === "metric", () => does.system("metric")),
    choice("units.imperial", "do.imperial", "do.units.also", () => does.now().system === "imperial", () => does.system("imperial")),
    { id: "keys.single", group: "settings", words: "do.singles", lives: "lives.look", show: () => does.open("settings"), now: () => (does.now().singles ? "✓" : "–"), run: does.singles },
    { id: "find", group: "help", words: "find.do", keys: ["/", "Mod+K"], lives: "lives.lintel", run: () => does.open("find") },
    { id: "keys", group: "help", words: "keys.title", also: "do.keys.also", keys: ["?"], run: () => does.open("keys") },
    { id: "help", group: "help", words: "help", also: "do.help.also", keys: ["F1"], lives: "lives.lintel", run: () => does.go("/help") },
    { id: "help.figures", group: "help", words: "do.figures", also: "do.figures.also", run: () => does.go("/help/figures") },
  ];
}
