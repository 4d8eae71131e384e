import { describe, expect, it } from "vitest";
import type { ItemRow } from "../api/generated/ItemRow";
import { Clip } from "./clip";

const row = (id: number, x: number): ItemRow => ({ id, x, y: 0, outline: [[x, 0], [x + 400, 0], [x + 400, 200], [x, 200]] }) as unknown as ItemRow;

describe("what was copied", () => {
  it("comes with its middle to the pointer, and beside the last one while the pointer stays or is elsewhere", () => {
    const clip = new Clip();
    const items = [row(1, 0), row(2, 1000), row(3, 5000)];
    expect([clip.empty, clip.paste(items, [0, 0])]).toEqual([true, null]);
    clip.take([1, 2], false);
    // Around both: 1400 by 200.
    expect(clip.paste(items, [2000, 900])).toEqual({ do: "arrange", items: [1, 2], how: { is: "copy", by: [1300, 800], times: 1, turn: 0 } });
    expect(clip.paste(items, [2000, 900])).toMatchObject({ how: { by: [1300 + 1700, 800] } });
    expect(clip.paste(items, null)).toMatchObject({ how: { by: [1300 + 3400, 800] } });
    // What is gone is left out, and all gone is nothing.
    expect(clip.paste([items[1]!], [1200, 100])).toMatchObject({ items: [2], how: { by: [0, 0] } });
    expect(clip.paste([items[2]!], [0, 0])).toBeNull();
  });
  it("moves once when it was cut, and is copied from there on", () => {
    const clip = new Clip();
    clip.take([1], true);
    const change = clip.paste([row(1, 0)], [1200, 100])!;
    expect(change).toEqual({ do: "arrange", items: [1], how: { is: "move", by: [1000, 0] } });
    expect(Clip.pasted(change, { items: [] } as never)).toEqual([1]);
    expect(clip.paste([row(1, 1000)], [1200, 100])).toMatchObject({ how: { is: "copy", by: [700, 0] } });
  });
});
