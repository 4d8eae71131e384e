import { describe, expect, it } from "vitest";
import type { ItemRow } from "../api/generated/ItemRow";
import { Clip } from "./clip";

const row = (id: number, x: number): ItemRow => ({ id, x, y: 0, outline: [[x, 0], [x + 400, 0], [x + 400, 200], [x, 200]] }) as unknown as ItemRow;
const nobody = () => Promise.resolve(null);
const server = () => Promise.resolve("31");

describe("what was copied", () => {
  it("comes with its middle to the pointer, and beside the last one while the pointer stays or is elsewhere", async () => {
    const clip = new Clip();
    const items = [row(1, 0), row(2, 1000), row(3, 5000)];
    expect([clip.empty, clip.paste(items, [0, 0])]).toEqual([true, null]);
    await clip.take(items.slice(0, 2), false, nobody);
    // Around both: 1400 by 200.
    expect(clip.paste(items, [2000, 900])).toEqual({ do: "arrange", items: [1, 2], how: { is: "copy", by: [1300, 800], times: 1, turn: 0 } });
    expect(clip.paste(items, [2000, 900])).toMatchObject({ how: { by: [1300 + 1700, 800] } });
    expect(clip.paste(items, null)).toMatchObject({ how: { by: [1300 + 3400, 800] } });
    // Where nobody keeps it, what is gone is left out, and all gone is nothing.
    expect(clip.paste([items[1]!], [1200, 100])).toMatchObject({ items: [2], how: { by: [0, 0] } });
    expect(clip.paste([items[2]!], [0, 0])).toBeNull();
  });
  it("outlives what it was copied from: it is pasted as it was, from where it lay then", async () => {
    const clip = new Clip();
    await clip.take([row(1, 0)], false, server);
    expect(clip.paste([], [1200, 100])).toEqual({ do: "paste", copied: "31", by: [1000, 0] });
    // It was moved since, and counts from where it was copied.
    expect(clip.paste([row(1, 700)], [2200, 100])).toEqual({ do: "paste", copied: "31", by: [2000, 0] });
    // The program began anew: what is in the plan is copied from there.
    clip.lost();
    expect(clip.paste([row(1, 700)], [1900, 100])).toMatchObject({ do: "arrange", how: { is: "copy", by: [1000, 0] } });
    expect(clip.paste([], [0, 0])).toBeNull();
  });
  it("moves once when it was cut, and is copied from there on; what was cut and taken away is pasted all the same", async () => {
    const clip = new Clip();
    await clip.take([row(1, 0)], true, server);
    const change = clip.paste([row(1, 0)], [1200, 100])!;
    expect(change).toEqual({ do: "arrange", items: [1], how: { is: "move", by: [1000, 0] } });
    expect(Clip.pasted(change, { items: [] } as never)).toEqual([1]);
    expect(clip.paste([row(1, 1000)], [1200, 101])).toMatchObject({ how: { is: "copy" } });
    await clip.take([row(1, 0)], true, server);
    expect(clip.paste([], [1200, 100])).toEqual({ do: "paste", copied: "31", by: [1000, 0] });
  });
  it("is shared by the windows of a plan, and what nobody can read is not", async () => {
    let text: string | null = null;
    const shelf = { get: () => text, set: (to: string) => void (text = to) };
    const [here, there] = [new Clip(shelf), new Clip(shelf)];
    await here.take([row(1, 0)], false, server);
    expect(there.paste([], [1200, 100])).toEqual({ do: "paste", copied: "31", by: [1000, 0] });
    text = "{";
    expect([there.empty, here.empty]).toEqual([false, false]);
    expect(new Clip({ get: () => "[]", set: () => undefined }).empty).toBe(true);
  });
});
