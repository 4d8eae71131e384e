import { describe, expect, it } from "vitest";
import { WORDS } from "../../i18n";
import { clashes, GROUPS, inMenu } from "../../kernels/actions";
import { appActions, type AppDoes } from "./app";
import { LISTS } from "./index";

const everywhere = LISTS.filter((l) => l.view === null).flatMap((l) => l.actions);

describe("the lists of actions", () => {
  it("give no key to two actions, everywhere and in each view", () => {
    expect(clashes(everywhere)).toEqual([]);
    for (const list of LISTS.filter((l) => l.view !== null)) expect([list.view, clashes([...everywhere, ...list.actions])]).toEqual([list.view, []]);
  });
  it("have words, groups and places that are there in both languages", () => {
    for (const { actions } of LISTS) {
      for (const a of actions) {
        for (const key of [a.words, a.also, a.lives]) if (key !== undefined) expect([a.id, key in WORDS.en, key in WORDS.de]).toEqual([a.id, true, true]);
        expect(GROUPS).toContain(a.group);
      }
    }
  });
});

describe("the menu of the floor", () => {
  it("pastes, chooses and shows all, then adds; what changes items is not in it, and what cannot be done is not either", () => {
    const list = LISTS.find((l) => l.view === "plan")!.actions;
    const can = list.map((a) => ({ ...a, when: a.id === "edit.show" ? () => "not.hidden" as const : () => true as const }));
    const ids = inMenu(can, "floor").map((a) => a.id);
    expect(ids).toEqual(expect.arrayContaining(["edit.paste", "edit.all", "floor.fit", "tool.line", "tool.note", "tool.hall"]));
    expect(ids.findIndex((id) => id.startsWith("tool."))).toBeGreaterThan(ids.indexOf("floor.fit"));
    for (const not of ["tool.pick", "tool.gap", "tool.feed", "edit.take", "edit.show"]) expect(ids).not.toContain(not);
    expect(inMenu(can, "chosen").map((a) => a.id).at(-1)).toBe("edit.alike");
  });
});

describe("the actions of the program", () => {
  const done: string[] = [];
  const now = { view: "plan", planner: true, canWrite: true, undo: "Move Mill" as string | null, redo: null as string | null, empty: false, look: "dark" as const, language: "en" as const, system: "metric" as const, singles: true };
  const say = (what: string) => (x?: unknown) => void done.push(x === undefined ? what : `${what} ${String(x)}`);
  const does: AppDoes = {
    go: say("go"), open: say("open"), findings: say("findings"), undo: say("undo"), redo: say("redo"), copy: say("copy"), example: say("example"),
    drawHall: say("hall"), look: say("look"), language: say("language"), system: say("system"), singles: say("singles"), now: () => now,
  };
  const list = appActions(does);
  const of = (id: string) => list.find((a) => a.id === id)!;

  it("say what would be undone, and why something cannot be done", () => {
    expect(of("undo").when?.()).toBe(true);
    expect(of("undo").now?.()).toBe("Move Mill");
    expect(of("redo").when?.()).toBe("redo.none");
    expect(of("example").when?.()).toBe("not.empty");
    expect(of("look.dark").when?.()).toBe("not.already");
    expect(of("look.light").when?.()).toBe(true);
    now.canWrite = false;
    expect(of("undo").when?.()).toBe("not.written");
    now.planner = false;
    expect(of("undo").when?.()).toBe("not.planner");
    expect(of("go.read-choose").when?.() ?? true).toBe(true);
  });
  it("do each its own thing", () => {
    for (const a of list) a.run();
    expect(done).toHaveLength(list.length);
    // Sheets are a view and the way to export.
    expect(new Set(done).size).toBe(done.length - 1);
  });
});
