import { describe, expect, it } from "vitest";
import type { Change } from "../api/generated/Change";
import type { MarkRow } from "../api/generated/MarkRow";
import type { State } from "../api/generated/State";
import { fill, WORDS } from "../i18n";
import type { Pair } from "../kernels/floor";
import { tape } from "./tape";
import type { Env, Press, Spot } from "./tool";
import { FIRST } from "./uses";

const spot = (at: Pair, more: Partial<Spot> = {}): Spot => ({ at, raw: at, snap: null, on: null, shift: false, touch: false, ...more });

function at(marks: MarkRow[]) {
  const env: Env = { plan: { floor_plan: { outline: [], parts: [], marks } } as unknown as State, uses: FIRST, scale: 0.1, drafts: new Map(), chosen: [7], snap: () => null, ink: () => null, say: (key, values) => fill(WORDS.en[key], values) };
  let state = tape.start();
  const sent: Change[] = [];
  const press = (p: Press) => {
    const step = tape.on(state, p, env);
    state = step.state;
    if (step.change) sent.push(step.change);
    return step;
  };
  const click = (p: Pair, more: Partial<Spot> = {}) => (press({ is: "down", spot: spot(p, more) }), press({ is: "up", spot: spot(p, more) }));
  return { sent, press, click, type: (value: number) => press({ is: "number", id: "length", value }), sketch: () => tape.sketch(state, env), busy: () => tape.busy(state) };
}
const A: MarkRow = { name: "A", at: [0, 0] };
const B: MarkRow = { name: "B", at: [4_000, 0] };

describe("the tape", () => {
  it("goes from one mark to another and is sent with what was typed, never with what is drawn", () => {
    const tool = at([A, B]);
    tool.click([30, -20]);
    tool.click([3_950, 40]);
    expect(tool.sketch().tells?.lengths).toEqual({ length: 4_000 });
    tool.press({ is: "finish" });
    expect(tool.sent).toEqual([]);
    expect(tool.sketch().trouble?.words).toBe("trouble.nottaped");
    expect(tool.type(3_985).choose).toEqual([7]);
    expect(tool.sent).toEqual([{ do: "put-tape", was: null, tape: { from: "A", to: "B", length: 3_985 }, marks: [] }]);
    expect(tool.busy()).toBe(false);
  });

  it("makes marks of corners that are none, under the next free letters, by one drag too", () => {
    const tool = at([A]);
    tool.press({ is: "down", spot: spot([4_000, 0]) });
    tool.press({ is: "drag", spot: spot([4_000, 2_000]) });
    tool.press({ is: "up", spot: spot([4_000, 3_000]) });
    tool.type(3_000);
    expect(tool.sent).toEqual([{ do: "put-tape", was: null, tape: { from: "B", to: "C", length: 3_000 }, marks: [{ name: "B", at: [4_000, 0] }, { name: "C", at: [4_000, 3_000] }] }]);
  });

  it("takes a corner that was met before a mark that lies close to it, and a finger reaches farther", () => {
    const corner: Pair = [60, 0];
    const met = { at: corner, kind: "corner", target: null, guides: [] } as const;
    const tool = at([A, B]);
    tool.click(corner, { snap: met, raw: [20, 0] });
    expect(tool.sketch().points).toEqual([corner]);
    const by = (touch: boolean) => {
      const one = at([A, B]);
      one.click([150, 0], { touch });
      return one.sketch().points[0];
    };
    expect([by(false), by(true)]).toEqual([[150, 0], [0, 0]]);
  });

  it("is set by names as well, refuses one mark at both ends, and goes back a step at a time", () => {
    const tool = at([A, B]);
    tool.press({ is: "answer", id: "to", value: "B" });
    tool.press({ is: "answer", id: "from", value: "B" });
    expect(tool.sketch().trouble).toEqual({ words: "trouble.samemark", values: { mark: "B" } });
    tool.press({ is: "answer", id: "from", value: "A" });
    expect(tool.sketch().trouble).toBeNull();
    tool.press({ is: "back" });
    expect(tool.sketch().points).toEqual([[0, 0]]);
    tool.press({ is: "back" });
    expect(tool.busy()).toBe(false);
    tool.type(5_000);
    tool.press({ is: "finish" });
    expect(tool.sketch().trouble?.words).toBe("trouble.noends");
    tool.press({ is: "answer", id: "from", value: "A" });
    tool.press({ is: "answer", id: "to", value: "B" });
    expect(tool.sent).toMatchObject([{ tape: { from: "A", to: "B", length: 5_000 } }]);
  });
});
