import { describe, expect, it } from "vitest";
import { byGroup, clashes, pressedAction, reaches, type Action } from "./actions";
import type { Press } from "./keys";

const action = (id: string, ...keys: string[]): Action => ({ id, group: "help", words: "close", keys, run: () => {} });
const press = (key: string, held: Partial<Press> = {}): Press => ({ key, ctrlKey: false, metaKey: false, shiftKey: false, altKey: false, ...held });

describe("a list of actions", () => {
  it("tells keys and names that are there twice, and keys that are none", () => {
    expect(clashes([action("a", "T"), action("b", "F6", "/")])).toEqual([]);
    expect(clashes([action("a", "T"), action("b", "T")])).toEqual(["T is the key of a and of b"]);
    expect(clashes([action("a"), action("a")])).toEqual(["a is there twice"]);
    expect(clashes([action("a", "Ctrl+Z")])).toEqual(["Ctrl+Z of a is no key"]);
  });
  it("is reached by letters from the floor always, from elsewhere only where nothing takes them", () => {
    expect(reaches("T", "floor", false)).toBe(true);
    expect(reaches("T", "text", true)).toBe(false);
    expect(reaches("T", "control", true)).toBe(true);
    expect(reaches("T", "free", false)).toBe(false);
    expect(reaches("Space", "control", true)).toBe(false);
    expect(reaches("Space", "free", true)).toBe(true);
    expect(reaches("F6", "text", false)).toBe(true);
    expect(reaches("Mod+K", "text", false)).toBe(true);
  });
  it("leaves undo in a field of text to the field", () => {
    expect(reaches("Mod+Z", "text", true)).toBe(false);
    expect(reaches("Mod+Z", "control", true)).toBe(true);
  });
  it("gives the action of a key, the newest list first", () => {
    const list = [action("old", "T"), action("other", "Mod+Z"), action("new", "T")];
    expect(pressedAction(list, press("t"), "floor", "other", true)?.id).toBe("new");
    expect(pressedAction(list, press("z", { ctrlKey: true }), "free", "other", true)?.id).toBe("other");
    expect(pressedAction(list, press("q"), "floor", "other", true)).toBeNull();
  });
  it("comes in groups, in their order", () => {
    const views: Action = { ...action("v"), group: "views" };
    expect(byGroup([action("h"), views]).map((g) => [g.group, g.actions.length])).toEqual([["views", 1], ["help", 1]]);
  });
});
