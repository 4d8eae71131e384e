import { describe, expect, it } from "vitest";
import { ariaKeys, isForControls, isForText, isSingle, keyCaps, keyWays, platformOf, pressed, readKeys, type Press } from "./keys";

const press = (key: string, held: Partial<Press> = {}): Press => ({ key, ctrlKey: false, metaKey: false, shiftKey: false, altKey: false, ...held });

describe("keys", () => {
  it("are read, and nonsense is none", () => {
    expect(readKeys("Mod+Shift+Z")).toEqual({ mod: true, shift: true, alt: false, key: "z" });
    expect(readKeys("+")?.key).toBe("+");
    expect(readKeys("Mod++")?.key).toBe("+");
    expect(readKeys("F6")?.key).toBe("F6");
    for (const text of ["", "z", "Ctrl+Z", "Mod+Mod+Z", "F13", "Foo", "Mod+"]) expect([text, readKeys(text)]).toEqual([text, null]);
  });
  it("are pressed with exactly what is held", () => {
    expect(pressed("Mod+Z", press("z", { ctrlKey: true }), "other")).toBe(true);
    expect(pressed("Mod+Z", press("z", { metaKey: true }), "other")).toBe(false);
    expect(pressed("Mod+Z", press("z", { metaKey: true }), "apple")).toBe(true);
    expect(pressed("Mod+Z", press("Z", { ctrlKey: true, shiftKey: true }), "other")).toBe(false);
    expect(pressed("Mod+Shift+Z", press("Z", { ctrlKey: true, shiftKey: true }), "other")).toBe(true);
    expect(pressed("T", press("t"), "other")).toBe(true);
    expect(pressed("T", press("t", { ctrlKey: true }), "other")).toBe(false);
    expect(pressed("Space", press(" "), "other")).toBe(true);
  });
  it("leave Shift with signs to the layout", () => {
    expect(pressed("/", press("/"), "other")).toBe(true);
    expect(pressed("/", press("/", { shiftKey: true }), "other")).toBe(true);
    expect(pressed("/", press("/", { ctrlKey: true }), "other")).toBe(false);
    expect(pressed("[", press("[", { ctrlKey: true, altKey: true }), "other")).toBe(true);
  });
  it("go by the place of the key where the script has no such letter", () => {
    expect(pressed("Mod+Z", press("я", { ctrlKey: true, code: "KeyZ" }), "other")).toBe(true);
    expect(pressed("Mod+Z", press("я", { ctrlKey: true, code: "KeyQ" }), "other")).toBe(false);
    // On German keys Z and Y change places: the letter counts, not the place.
    expect(pressed("Mod+Z", press("y", { ctrlKey: true, code: "KeyZ" }), "other")).toBe(false);
  });
  it("are sorted by what else would take them", () => {
    expect(["T", "/", "Space", "Shift+T", "Mod+T", "F1", "Alt+T"].map(isSingle)).toEqual([true, true, true, true, false, false, false]);
    expect(["Space", "Enter", "ArrowUp", "T", "/", "F6"].map(isForControls)).toEqual([true, true, true, false, false, false]);
    expect(["Mod+Z", "Mod+Shift+Z", "Mod+K", "Z"].map(isForText)).toEqual([true, true, false, false]);
  });
  it("are shown in the style of the platform and the language", () => {
    expect(keyCaps("Mod+Shift+Z", "other", "en")).toEqual(["Ctrl", "Shift", "Z"]);
    expect(keyCaps("Mod+Shift+Z", "other", "de")).toEqual(["Strg", "Umschalt", "Z"]);
    expect(keyCaps("Mod+Shift+Z", "apple", "de")).toEqual(["⌘", "⇧", "Z"]);
    expect(keyCaps("+", "other", "en")).toEqual(["+"]);
    expect(ariaKeys(["/", "Mod+K"], "other")).toBe("/ Control+K");
  });
  it("show all four arrows as one way", () => {
    const arrows = ["ArrowLeft", "ArrowRight", "ArrowUp", "ArrowDown"];
    expect(keyWays(["F", ...arrows.map((a) => `Shift+${a}`)], "other", "en")).toEqual([["F"], ["Shift", "←", "→", "↑", "↓"]]);
    expect(keyWays(arrows.slice(0, 2), "other", "en")).toEqual([["←"], ["→"]]);
  });
  it("know the platform by its names", () => {
    expect(platformOf("MacIntel")).toBe("apple");
    expect(platformOf("Linux x86_64")).toBe("other");
  });
});
