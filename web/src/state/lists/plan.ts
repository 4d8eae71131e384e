/** What can be done on the floor: tools, and all that is done with what is chosen. Pure: what it does is handed in. */
import type { ArrangeHow } from "../../api/generated/ArrangeHow";
import type { Change } from "../../api/generated/Change";
import type { ItemRow } from "../../api/generated/ItemRow";
import type { Key } from "../../i18n";
import type { Action } from "../../kernels/actions";
import { around, taken } from "../../kernels/floor";
import { TOOLS } from "../../tools";
import type { Panel } from "../panels.svelte";

/** What the list needs of the floor. */
export interface PlanDoes {
  use: (tool: string) => void;
  may: () => true | Key;
  fit: () => void;
  fitChosen: () => void;
  touch: () => void;
  /** Shows what a touch takes, and looks for gaps to leave. */
  gaps: () => void;
  /** Opens the slip that moves a section. */
  shift: () => void;
  /** Opens the slip of the hall as measured. */
  taped: () => void;
  sections: () => number;
  bare: () => void;
  panel: (which: Panel) => void;
  shows: (which: Panel) => boolean;
  menu: () => void;
  /** What a drag over bare floor does while picking. */
  area: () => "box" | "lasso" | "pan";
  setArea: (area: "box" | "lasso" | "pan" | "next") => void;
  snapping: () => void;
  snaps: () => boolean;
  chosen: () => readonly number[];
  rows: () => readonly ItemRow[];
  items: () => readonly ItemRow[];
  all: () => readonly number[];
  choose: (ids: readonly number[]) => void;
  hide: (ids: readonly number[], away: boolean) => void;
  hidden: () => readonly number[];
  /** Copies or cuts what is chosen, and sets it down again. */
  clip: (cut: boolean) => void;
  paste: () => void;
  clipped: () => boolean;
  send: (change: Change) => Promise<{ items: number[] } | null>;
}

const PANEL_ACTIONS: readonly (readonly [Panel, Key, string | null])[] = [
  ["outline", "do.outline", "Shift+O"], ["inspector", "do.inspector", "I"], ["glass", "do.glass", "E"], ["rulers", "do.rulers", null],
];

/** Tools that add nothing to a bare floor: they change what is there. */
const CHANGES: ReadonlySet<string> = new Set(["pick", "feed", "gap"]);

const middle = (rows: readonly ItemRow[]): [number, number] => {
  const box = around(rows.flatMap(taken));
  return box ? [Math.round((box.x0 + box.x1) / 2), Math.round((box.y0 + box.y1) / 2)] : [0, 0];
};
/** How far a copy is set beside what it was copied from, mm: free of it, to the east. */
const beside = (rows: readonly ItemRow[]): [number, number] => {
  const box = around(rows.flatMap(taken));
  return [box ? Math.ceil((box.x1 - box.x0) / 50) * 50 + 300 : 500, 0];
};

export function planActions(does: PlanDoes): Action[] {
  const some = (least = 1) => (): true | Key => {
    const may = does.may();
    return may !== true ? may : does.chosen().length >= least ? true : least > 1 ? "not.chosen.two" : "not.chosen";
  };
  const arrange = (id: string, words: Key, how: (rows: readonly ItemRow[]) => ArrangeHow, more: Partial<Action> = {}, least = 1): Action => ({
    id: `edit.${id}`, group: "edit", words, when: some(least), ...more,
    run: () => {
      // The server answers with the ids of new items.
      void does.send({ do: "arrange", items: [...does.chosen()], how: how(does.rows()) }).then((done) => done && done.items.length > 0 && does.choose(done.items));
    },
  });
  const align = (edge: Extract<ArrangeHow, { is: "align" }>["edge"]): Action => arrange(`align.${edge}`, `do.align.${edge}`, () => ({ is: "align", edge }), { also: "do.align.also" }, 2);
  return [
    ...TOOLS.map((tool): Action => ({ id: `tool.${tool.id}`, group: "tools", words: tool.words, also: tool.about, keys: [tool.key], lives: "lives.comb", ...(CHANGES.has(tool.id) ? {} : { bare: "add" }), when: () => does.may(), run: () => does.use(tool.id) })),
    { id: "floor.area", group: "floor", words: "do.area", also: "do.area.also", keys: ["Shift+V"], lives: "lives.comb", when: () => does.may(), run: () => does.setArea("next") },
    ...(["box", "lasso", "pan"] as const).map((area): Action => ({ id: `floor.area.${area}`, group: "floor", words: `do.area.${area}`, also: "do.area.also", lives: "lives.comb", when: () => { const may = does.may(); return may !== true ? may : does.area() === area ? "not.already" : true; }, run: () => does.setArea(area) })),
    { id: "edit.all", group: "edit", words: "do.all", keys: ["Mod+A"], bare: "do", when: () => does.may(), run: () => does.choose(does.all()) },
    {
      id: "edit.alike", group: "edit", words: "do.alike", also: "do.alike.also", when: some(),
      run: () => {
        const sorts = new Set(does.rows().map((i) => i.sort));
        does.choose(does.items().filter((i) => sorts.has(i.sort)).map((i) => i.id));
      },
    },
    {
      id: "edit.take", group: "edit", words: "do.take", keys: ["Delete"], when: some(),
      run: () => void does.send({ do: "take", items: [...does.chosen()] }),
    },
    { id: "edit.clip", group: "edit", words: "do.clip", keys: ["Mod+C"], when: some(), run: () => does.clip(false) },
    { id: "edit.cut", group: "edit", words: "do.cut", keys: ["Mod+X"], when: some(), run: () => does.clip(true) },
    { id: "edit.paste", group: "edit", words: "do.paste", also: "do.paste.also", keys: ["Mod+V"], bare: "do", when: () => { const may = does.may(); return may !== true ? may : does.clipped() ? true : "not.clipped"; }, run: does.paste },
    arrange("copy", "do.copy", (rows) => ({ is: "copy", by: beside(rows), times: 1, turn: 0 }), { keys: ["Mod+D"], also: "do.copy.also2" }),
    arrange("left", "do.left", (rows) => ({ is: "turn", about: middle(rows), by: 90 }), { keys: ["Shift+R"] }),
    arrange("right", "do.right", (rows) => ({ is: "turn", about: middle(rows), by: -90 })),
    arrange("mirror", "do.mirror", (rows) => ({ is: "mirror", through: middle(rows), along: 90 }), { keys: ["Shift+M"], also: "do.mirror.also" }),
    arrange("flip", "do.flip", (rows) => ({ is: "mirror", through: middle(rows), along: 0 }), { also: "do.mirror.also" }),
    align("west"), align("middle-x"), align("east"), align("south"), align("middle-y"), align("north"),
    arrange("spread.x", "do.spread.x", () => ({ is: "distribute", along: "x" }), {}, 3),
    arrange("spread.y", "do.spread.y", () => ({ is: "distribute", along: "y" }), {}, 3),
    arrange("group", "do.group", () => ({ is: "group" }), { keys: ["Mod+G"] }, 2),
    arrange("ungroup", "do.ungroup", () => ({ is: "ungroup" }), { keys: ["Mod+Shift+G"] }),
    arrange("lock", "do.lock", () => ({ is: "lock" }), { keys: ["Mod+L"] }),
    arrange("unlock", "do.unlock", () => ({ is: "unlock" }), { keys: ["Mod+Shift+L"] }),
    {
      id: "edit.shift", group: "edit", words: "do.shift", also: "do.shift.also", lives: "lives.outline",
      when: () => { const may = does.may(); return may !== true ? may : does.sections() > 0 ? true : "not.sections"; },
      run: does.shift,
    },
    { id: "hall.taped", group: "edit", words: "taped", also: "do.taped.also", keys: ["Shift+T"], lives: "lives.inspector", when: () => does.may(), run: does.taped },
    { id: "edit.hide", group: "edit", words: "do.hide", keys: ["Shift+H"], when: some(), run: () => does.hide(does.chosen(), true) },
    { id: "edit.show", group: "edit", words: "do.show", bare: "do", when: () => (does.hidden().length ? true : "not.hidden"), run: () => does.hide(does.hidden(), false) },
    { id: "floor.fit", group: "floor", words: "plan.fit", keys: ["Home"], bare: "do", lives: "lives.floor", run: does.fit },
    { id: "floor.fitchosen", group: "floor", words: "do.fit.chosen", keys: ["Z"], when: () => (does.chosen().length ? true : "not.chosen"), run: does.fitChosen },
    { id: "floor.touch", group: "floor", words: "touch", keys: ["T"], lives: "lives.floor", run: does.touch },
    { id: "floor.gaps", group: "floor", words: "propose.do", also: "propose.also", lives: "lives.touch", when: () => does.may(), run: does.gaps },
    { id: "floor.bare", group: "floor", words: "do.bare", also: "do.bare.also", keys: ["0"], run: does.bare },
    ...PANEL_ACTIONS.map(([which, words, key]): Action => ({ id: `floor.${which}`, group: "floor", words, ...(key ? { keys: [key] } : {}), now: () => (does.shows(which) ? "✓" : "–"), run: () => does.panel(which) })),
    { id: "floor.menu", group: "floor", words: "do.menu", keys: ["Shift+F10"], when: () => does.may(), run: does.menu },
    { id: "floor.snapping", group: "floor", words: "do.snapping", now: () => (does.snaps() ? "✓" : "–"), run: does.snapping },
  ];
}
