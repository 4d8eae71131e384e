/** Tools that draw lines: sequences of presses, and the items that come of them. */
import { describe, expect, it } from "vitest";
import type { Change } from "../api/generated/Change";
import type { ItemDraft } from "../api/generated/ItemDraft";
import type { State } from "../api/generated/State";
import type { TriedRow } from "../api/generated/TriedRow";
import { fill as fillWords, WORDS } from "../i18n";
import type { Pair } from "../kernels/floor";
import { apart } from "../kernels/frames";
import { along, spiralCentre, stations } from "../kernels/paths";
import type { Snap } from "../kernels/snap";
import type { Ink } from "../kernels/thin";
import { arc, overChord } from "./arc";
import { fill } from "./fill";
import { freehand } from "./freehand";
import { letters } from "./letters";
import { line } from "./line";
import { pick } from "./pick";
import { spiral } from "./spiral";
import type { Env, Press, Spot, Tool } from "./tool";
import { FIRST, type Uses } from "./uses";

const plan = { items: [], kinds: [{ id: 1, thickness: 7.5 }], colours: [{ id: 3 }] } as unknown as State;
/** A picture of words: a bar for each sign but blanks, two thirds as wide as it is high. */
const ink = (text: string, height: number): Ink | null => {
  const w = Math.round((height * 2) / 3);
  const width = w * text.length;
  const on = new Uint8Array(width * height);
  for (let y = 6; y < height - 6; y++) for (let x = 0; x < width; x++) if (text[Math.floor(x / w)] !== " " && Math.abs((x % w) - w / 2) < 4) on[y * width + x] = 1;
  return { width, height, ink: on };
};
const env = (uses: Partial<Uses> = {}): Env => ({ plan, uses: { ...FIRST, ...uses }, scale: 0.1, drafts: new Map(), chosen: [], snap: () => null, ink, say: (key, values) => fillWords(WORDS.en[key], values) });
const spot = (at: Pair, more: Partial<Spot> = {}): Spot => ({ at, raw: at, snap: null, on: null, shift: false, touch: false, ...more });
const port = (at: Pair, enters: boolean, heading: number): Snap => ({ at, kind: "port", guides: [], target: { at, kind: "port", item: 9, port: enters ? "start" : "end", enters, heading } });
const at = (is: "down" | "drag" | "up" | "hover", p: Pair, more: Partial<Spot> = {}): Press => ({ is, spot: spot(p, more) });
const click = (p: Pair, more: Partial<Spot> = {}): Press[] => [at("hover", p, more), at("down", p, more), at("up", p, more)];
const type = (id: string, value: number): Press => ({ is: "number", id, value });
const FINISH: Press = { is: "finish" };

/** Presses one after another; gives what is sent at last, and how often something was sent. */
function play<S>(tool: Tool<S>, presses: readonly Press[], e: Env = env()): { items: ItemDraft[]; sent: number; state: S; then: Change | null } {
  let state = tool.start();
  let [items, sent, then] = [[] as ItemDraft[], 0, null as Change | null];
  for (const press of presses) {
    const step = tool.on(state, press, e);
    state = step.state;
    // The sketch is asked for after each press, as the floor does.
    tool.sketch(state, e);
    if (step.change?.do === "put") [items, sent, then] = [step.change.items, sent + 1, step.then?.([77]) ?? null];
  }
  return { items, sent, state, then };
}
const lineOf = (d: ItemDraft | undefined) => {
  if (d?.body.is !== "line") throw new Error("not a line");
  return { ...d, body: d.body, end: stations(d, d.body.path)[d.body.path.length]! };
};

describe("a line", () => {
  it("goes through what is clicked, and a double click adds no point", () => {
    const made = play(line, [...click([0, 0]), ...click([1000, 0]), ...click([1000, 800]), ...click([1010, 805]), FINISH]);
    expect(made.sent).toBe(1);
    expect(lineOf(made.items[0]).body.path).toEqual([{ is: "through", points: [[1000, 0], [1000, 800]] }]);
  });
  it("ends by a double click whose second press snaps elsewhere, and takes the same place again once its point was taken back", () => {
    // Two pixels of ten millimetres beside the first press, at a corner 74 mm off.
    const twice = [...click([1000, 800]), ...click([1074, 800], { raw: [1015, 810] })];
    expect(lineOf(play(line, [...click([0, 0]), ...click([1000, 0]), ...twice, FINISH]).items[0]).body.path).toEqual([{ is: "through", points: [[1000, 0], [1000, 800]] }]);
    const filled = play(fill, [...click([0, 0]), ...click([2000, 0]), ...twice, FINISH]);
    expect(filled.state.points).toEqual([[0, 0], [2000, 0], [1000, 800]]);
    // As far on the screen once the view came nearer, it is another point.
    const near = { ...env(), scale: 1 };
    expect(line.on(play(line, [...click([0, 0]), ...click([1000, 0]), ...click([1000, 800])]).state, at("down", [1074, 800], { raw: [1015, 810] }), near).state.points).toHaveLength(4);
    const back = play(line, [...click([0, 0]), ...click([1000, 0]), { is: "back" }, ...click([1000, 0]), FINISH]);
    expect(lineOf(back.items[0]).body.path).toEqual([{ is: "straight", length: 1000 }]);
    // A figure that was typed says that the next press is meant, wherever it is.
    expect(play(line, [...click([0, 0]), at("hover", [3, 0]), type("length", 400), at("down", [3, 0])]).state.points).toEqual([[0, 0], [400, 0]]);
  });
  it("takes a typed length and angle for its next point", () => {
    const made = play(line, [...click([0, 0]), at("hover", [300, 0]), type("length", 500), type("angle", 90), ...click([300, 10]), FINISH]);
    const l = lineOf(made.items[0]);
    expect([l.heading, l.body.path]).toEqual([90, [{ is: "straight", length: 500 }]]);
  });
  it("carries on from a port in its direction, and ends at one without a point on it", () => {
    const begin = { snap: port([0, 0], false, 0) };
    const made = play(line, [...click([0, 0], begin), ...click([1000, 300]), ...click([2000, 300], { snap: port([2000, 300], true, 0) })]);
    const l = lineOf(made.items[0]);
    expect(made.sent).toBe(1);
    expect(l.heading).toBe(0);
    expect(l.body).toMatchObject({ from: { item: 9, port: "end" }, to: { item: 9, port: "start" }, path: [{ is: "through", points: [[1000, 300]] }] });
    // From port to port there is nothing in between.
    expect(lineOf(play(line, [...click([0, 0], begin), ...click([2000, 300], { snap: port([2000, 300], true, 0) })]).items[0]).body.path).toEqual([]);
    // A port where the fall enters gives no beginning.
    expect(lineOf(play(line, [...click([0, 0], { snap: port([0, 0], true, 0) }), ...click([9, 900]), FINISH]).items[0]).body.from).toBeNull();
  });
  it("closes on its first point, smooth or with rounded corners", () => {
    for (const curve of ["smooth", "corners"] as const) {
      const made = play(line, [...click([0, 0]), ...click([2000, 0]), ...click([2000, 1500]), ...click([20, 30])], env({ curve }));
      const l = lineOf(made.items[0]);
      expect(made.sent).toBe(1);
      expect(apart([l.end.x, l.end.y], [l.x, l.y])).toBeLessThan(0.1);
    }
  });
  it("rounds corners, also from a port", () => {
    const begin = { snap: port([0, 0], false, 0) };
    const l = lineOf(play(line, [...click([0, 0], begin), ...click([1000, 200]), ...click([2000, -900]), FINISH], env({ curve: "corners" })).items[0]);
    expect(l.heading).toBe(0);
    expect(l.body.path[0]!.is).toBe("arc");
    expect(apart([l.end.x, l.end.y], [2000, -900])).toBeLessThan(1);
  });
  it("takes one point back at a time, and is given up without points", () => {
    const made = play(line, [...click([0, 0]), ...click([500, 0]), { is: "back" }, ...click([0, 700]), FINISH]);
    expect(lineOf(made.items[0]).body.path).toEqual([{ is: "straight", length: 700 }]);
    const none = play(line, [...click([0, 0]), { is: "back" }, FINISH]);
    expect([none.sent, line.busy(none.state)]).toEqual([0, false]);
  });
});

describe("a drag over bare floor", () => {
  it("moves the view or chooses, as it was chosen for the pointer and for a finger", () => {
    const lets = (uses: Partial<Uses>, touch: boolean) => pick.lets!({ is: "idle" }, spot([0, 0], { touch }), env(uses));
    expect([lets({}, false), lets({}, true)]).toEqual([false, true]);
    expect([lets({ area: "lasso", areaTouch: "lasso" }, false), lets({ area: "lasso", areaTouch: "lasso" }, true)]).toEqual([false, false]);
    expect(lets({ area: "pan" }, false)).toBe(true);
  });
});

describe("a step back", () => {
  it("is one of what is being drawn, and none of what is only chosen", () => {
    const e = env();
    const drawn = play(line, [...click([0, 0]), ...click([500, 0])]).state;
    expect(line.undo).toBeUndefined();
    expect(line.on(drawn, { is: "back" }, e).state.points).toHaveLength(1);
    expect(pick.undo!({ is: "idle" }, e)).toBeNull();
    const handle = { is: "point", at: [0, 0], leg: 0, i: 0 } as const;
    expect(pick.undo!({ is: "shape", item: 1, handle, to: [0, 0], typed: {}, now: null, held: false }, e)).toBeNull();
    expect(pick.undo!({ is: "shape", item: 1, handle, to: [0, 0], typed: {}, now: null, held: true }, e)).toEqual({ is: "idle" });
  });
  it("is not needed for what can stand once another tool is taken", () => {
    const e = env();
    expect(line.keeps!(play(line, click([0, 0])).state, e)).toBeNull();
    expect(line.keeps!(play(line, [...click([0, 0]), ...click([500, 0]), at("hover", [900, 900])]).state, e)?.change).toMatchObject({ do: "put", items: [{ body: { path: [{ is: "straight", length: 500 }] } }] });
    expect(fill.keeps!(play(fill, [...click([0, 0]), ...click([900, 0])]).state, e)).toBeNull();
    expect(fill.keeps!(play(fill, [...click([0, 0]), ...click([900, 0]), ...click([900, 900]), at("hover", [0, 900])]).state, e)?.change).toMatchObject({ items: [{ body: { outline: [[0, 0], [900, 0], [900, 900]] } }] });
  });
});

describe("an arc", () => {
  it("passes start, bulge and end", () => {
    const l = lineOf(play(arc, [...click([1000, 0]), ...click([-1000, 0]), ...click([0, 1000])]).items[0]);
    expect(l.heading).toBe(90);
    expect(l.body.path).toEqual([{ is: "arc", radius: 1000, turn: 180 }]);
  });
  it("over a chord has the radius or the turn that is typed", () => {
    // Chord 1000 and radius 1000: a sixth of the circle. Turn 90: 1000 / sqrt 2.
    expect(overChord(1000, { radius: 1000, large: false, left: true }).turn).toBeCloseTo(60, 9);
    expect(overChord(1000, { turn: -90 }).radius).toBeCloseTo(1000 / Math.SQRT2, 9);
    for (const [typed, radius, turn] of [[type("radius", 1000), 1000, 60], [type("turn", -90), 707.11, -90]] as const) {
      const l = lineOf(play(arc, [...click([0, 0]), ...click([1000, 0]), at("hover", [500, -100]), typed, FINISH]).items[0]);
      const leg = l.body.path[0]!;
      expect(leg).toMatchObject({ is: "arc", turn: expect.closeTo(turn, 2) as number, radius });
      expect(apart([l.end.x, l.end.y], [1000, 0])).toBeLessThan(0.2);
    }
  });
  it("from a port sets out in its direction and ends where it is clicked", () => {
    const l = lineOf(play(arc, [...click([0, 0], { snap: port([0, 0], false, 0) }), ...click([600, 600])]).items[0]);
    expect(l.body).toMatchObject({ from: { item: 9 }, path: [{ is: "arc", radius: 600, turn: 90 }] });
    const typed = play(arc, [...click([0, 0], { snap: port([0, 0], false, 0) }), at("hover", [600, 600]), type("radius", 250), type("turn", -120), FINISH]);
    expect(lineOf(typed.items[0]).body.path).toEqual([{ is: "arc", radius: 250, turn: -120 }]);
  });
  it("into a port leaves the leg to the program and sets out as a circle would", () => {
    const l = lineOf(play(arc, [...click([0, 0]), ...click([600, 600], { snap: port([600, 600], true, 90) })]).items[0]);
    expect([l.heading, l.body.path, l.body.to]).toEqual([0, [], { item: 9, port: "start" }]);
  });
});

describe("a spiral", () => {
  it("inwards begins at its outer radius and ends at its inner one, on either hand", () => {
    for (const hand of ["left", "right"] as const) {
      const l = lineOf(play(spiral, [...click([5000, 3000]), ...click([5000, 3700])], env({ hand, ring: 60 })).items[0]);
      expect([l.x, l.y]).toEqual([5000, 3700]);
      const leg = l.body.path[0]!;
      if (leg.is !== "spiral") throw new Error("not a spiral");
      expect(leg).toEqual({ is: "spiral", radius: 700, ring: -60, turns: 10, hand });
      expect(apart(spiralCentre(l, leg.radius, leg.ring, hand), [5000, 3000])).toBeLessThan(0.05);
      expect(apart([l.end.x, l.end.y], [5000, 3000])).toBeCloseTo(100, 1);
    }
  });
  it("outwards ends where it is clicked", () => {
    for (const hand of ["left", "right"] as const) {
      const l = lineOf(play(spiral, [...click([0, 0]), ...click([500, 400])], env({ hand, inwards: "out", ring: 50 })).items[0]);
      expect(apart([l.end.x, l.end.y], [500, 400])).toBeLessThan(1);
      expect(apart([l.x, l.y], [0, 0])).toBeCloseTo(100, 0);
    }
  });
  it("takes typed figures, and never winds past its middle", () => {
    const l = lineOf(play(spiral, [...click([0, 0]), at("hover", [10, 0]), type("radius", 900), type("ring", 40), type("turns", 12.5), FINISH]).items[0]);
    expect(l.body.path).toEqual([{ is: "spiral", radius: 900, ring: -40, turns: 12.5, hand: "left" }]);
    const far = lineOf(play(spiral, [...click([0, 0]), at("hover", [300, 0]), type("turns", 400), FINISH], env({ ring: 70 })).items[0]).body.path[0]!;
    expect(far.is === "spiral" && far.radius + far.ring * far.turns).toBeGreaterThanOrEqual(0);
  });
  it("from a port turns to the side of the pointer", () => {
    const begin = { snap: port([0, 0], false, 0) };
    const l = lineOf(play(spiral, [...click([0, 0], begin), ...click([0, -600])]).items[0]);
    expect(l.heading).toBe(0);
    expect(l.body.from).toEqual({ item: 9, port: "end" });
    expect(l.body.path[0]).toMatchObject({ hand: "right", radius: 600 });
  });
});

describe("by hand", () => {
  const wave = Array.from({ length: 120 }, (_, i): Pair => [i * 30, 400 * Math.sin(i / 12)]);
  it("a drag becomes a curve of few points that stays beside the stroke", () => {
    const made = play(freehand, [at("down", wave[0]!), ...wave.slice(1).map((p) => at("drag", p)), at("up", wave[119]!)]);
    const l = lineOf(made.items[0]);
    expect(made.sent).toBe(1);
    const leg = l.body.path[0]!;
    expect(leg.is === "through" && leg.points.length).toBeLessThan(40);
    const curve = along(l, l.body.path, 10);
    // 40 mm of tolerance at this scale, and what the curve swings out beside its chords.
    for (const p of wave) expect(Math.min(...curve.map((q) => apart(p, q)))).toBeLessThan(60);
  });
  it("by clicks or keys the pen is set down and lifted", () => {
    const made = play(freehand, [...click(wave[0]!), ...wave.slice(1).map((p) => at("hover", p)), at("down", wave[119]!)]);
    expect(made.sent).toBe(1);
    expect(play(freehand, click([0, 0])).sent).toBe(0);
  });
  it("that comes back to its beginning is a loop", () => {
    const ring = Array.from({ length: 61 }, (_, i): Pair => [1000 * Math.cos(i / 9.6), 1000 * Math.sin(i / 9.6)]);
    const l = lineOf(play(freehand, [at("down", ring[0]!), ...ring.slice(1).map((p) => at("drag", p)), at("up", ring[60]!)]).items[0]);
    expect(apart([l.end.x, l.end.y], [l.x, l.y])).toBeLessThan(0.1);
  });
});

describe("a fill", () => {
  const tried = (pieces: number): Press => ({ is: "tried", items: [{ pieces } as TriedRow] });
  it("takes a box by a drag, or corners by clicks, counter-clockwise", () => {
    const box = play(fill, [at("down", [0, 0]), at("drag", [4000, -3000]), at("up", [4000, -3000]), FINISH]);
    const body = box.items[0]!.body;
    expect(body).toMatchObject({ is: "fill", with: { is: "waves", course: 0 }, ring: 130, outline: [[0, -0], [4000, -0], [4000, 3000], [0, 3000]].map((p) => p.map((v) => v + 0)) });
    const clicked = play(fill, [...click([0, 0]), ...click([0, 2000]), ...click([2000, 2000]), ...click([20, 20]), ...click([500, 1000])], env({ filling: "spiral" }));
    expect(clicked.sent).toBe(1);
    expect(clicked.items[0]!.body).toMatchObject({ with: { is: "spiral" }, outline: [[2000, 2000], [0, 2000], [0, 0]] });
  });
  it("looks for a number of pieces by few trials", () => {
    const e = env();
    let { state } = play(fill, [at("down", [0, 0]), at("drag", [4000, 3000]), at("up", [4000, 3000])]);
    const takes = () => {
      const body = fill.sketch(state, e).items[0]!.body;
      return body.is === "fill" ? Math.floor(2900 / body.ring) * 265 : 0;
    };
    state = fill.on(state, type("pieces", 9000), e).state;
    let rounds = 0;
    for (; state.aim && !state.aim.over && rounds < 20; rounds++) state = fill.on(state, tried(takes()), e).state;
    expect(rounds).toBeLessThanOrEqual(8);
    expect(Math.abs(takes() - 9000)).toBeLessThanOrEqual(265);
    // Typed rings end the search.
    state = fill.on(state, type("ring", 80), e).state;
    expect(state.aim).toBeNull();
  });
  it("is never so fine that nobody could lay it", () => {
    const made = play(fill, [at("down", [0, 0]), at("drag", [100_000, 100_000]), at("up", [100_000, 100_000]), type("ring", 1), FINISH]);
    const body = made.items[0]!.body;
    expect(body.is === "fill" && body.ring).toBeGreaterThan(300);
  });
});

describe("letters", () => {
  const words = (text: string): Press => ({ is: "words", text });
  const writing = (text: string) => ({ text, at: [0, 0] as Pair, next: null, dragging: false, typed: {} });
  it("as lines are one line for each stroke, in one step and one group", () => {
    const made = play(letters, [words("I I"), ...click([1000, 2000])], env({ letters: 600, linked: false, strokes: "single", lanes: 3 }));
    expect(made.sent).toBe(1);
    expect(made.items.map((i) => [i.name, i.group])).toEqual([["I I 1", 1], ["I I 2", 1]]);
    const [a, b] = made.items.map(lineOf);
    // Two signs further; from below, where a link would come in; and always a single lane.
    expect(b!.x - a!.x).toBeCloseTo(800, 0);
    expect(a!.heading).toBeCloseTo(90, 0);
    expect(a!.x - 1000).toBeCloseTo(200, -1);
    expect([a!.body.lanes, a!.body.from, b!.body.from]).toEqual([1, null, null]);
  });
  it("linked carry on from one another below the words, within what is sent together", () => {
    const single = env({ letters: 600, strokes: "single" });
    const made = play(letters, [words("I I"), ...click([1000, 2000])], single);
    expect(made.sent).toBe(1);
    const all = made.items.map(lineOf);
    const links = all.map((l) => l!.body.from);
    // A link that splits: one branch is the first sign, the other leads on and is the second one.
    expect(links).toEqual([null, { item: 0, port: "end left", sent: true }, { item: 0, port: "end right", sent: true }]);
    expect(all[0]!.y).toBeLessThan(2000 - 100);
    expect(letters.sketch(writing("I I"), single).tells).toEqual({ words: "tool.letters.perhaps" });
  });
  it("are laid where they are shown when they are done before a place was chosen, and nowhere before one was seen", () => {
    const hover = at("hover", [1000, 2000]);
    expect(play(letters, [words("I"), FINISH], env({ letters: 600 })).sent).toBe(0);
    const made = play(letters, [hover, words("I"), FINISH], env({ letters: 600 }));
    expect([made.sent, made.items]).toEqual([1, play(letters, [words("I"), ...click([1000, 2000])], env({ letters: 600 })).items]);
  });
  it("there and back are one line, which one start fells", () => {
    const made = play(letters, [words("I I"), ...click([1000, 2000])], env({ letters: 600 }));
    expect([made.sent, made.items.length, lineOf(made.items[0]).body.from]).toEqual([1, 1, null]);
    expect(letters.sketch(writing("I I"), env()).tells).toEqual({ words: "tool.letters.one" });
    // Twice as large pieces fly twice as far: all is twice as large.
    const plain = lineOf(made.items[0]);
    const large = { ...env({ letters: 1200, spacing: 30 }), plan: { ...plan, kinds: [{ id: 1, thickness: 15, width: 48, height: 96 }] } as unknown as State };
    const twice = lineOf(play(letters, [words("I I"), ...click([1000, 2000])], large).items[0]);
    const lengths = (l: typeof plain) => l.body.path.map((leg) => (leg.is === "straight" ? leg.length : leg.is === "arc" ? leg.radius : 0));
    expect(lengths(twice).length).toBe(lengths(plain).length);
    lengths(twice).forEach((mm, i) => expect(mm / lengths(plain)[i]!).toBeCloseTo(2, 1));
  });
  it("too low tell from which height on they fit, and from there they do", () => {
    const told = letters.sketch(writing("I I"), env({ letters: 60, spacing: 15 })).tells;
    if (told && told.words !== "tool.letters.one") {
      const { least } = told.lengths ?? {};
      if (least !== undefined) expect(letters.sketch(writing("I I"), env({ letters: least })).tells?.words).not.toBe("tool.letters.low");
    }
    // So close that pieces stand in one another at every height.
    expect(letters.sketch(writing("I"), env({ letters: 600, spacing: 60 })).tells?.words).not.toBe("tool.letters.low");
  });
  it.each([["10 000 signs", "I".repeat(10_000)], ["pictures alone", "🁣🁤"], ["from right to left", "שלום"], ["nothing but marks", "\u0301\u0302"]])("takes %s, at any height that can be typed", (_, text) => {
    for (const height of [50, 20_000]) {
      const state = letters.on(letters.start(), words(text), env()).state;
      expect([...state.text].length).toBeLessThanOrEqual(80);
      const sketch = letters.sketch({ ...state, at: [0, 0] }, env({ letters: height }));
      expect(sketch.tells).not.toBeNull();
    }
  }, 30_000);
  it("that the font cannot draw are told", () => {
    const without = { ...env(), ink: (text: string, height: number) => (text === "I" ? ink(text, height) : null) };
    expect(letters.sketch(writing("🁣"), without).tells).toEqual({ words: "tool.letters.blank" });
    // While the font is on its way nothing is known.
    expect(letters.sketch(writing("🁣"), { ...env(), ink: () => null }).tells).toBeNull();
  });
  it("standing are a field, and then its cells in the chosen colour", () => {
    const made = play(letters, [words("I"), ...click([0, 0])], env({ letters: 520, lettering: "standing", colour: 3, fieldAlong: 15, fieldAcross: 26 }));
    expect(made.items[0]!.body).toMatchObject({ is: "field", lanes: 20, ranks: 23 });
    if (made.then?.do !== "paint") throw new Error("nothing painted");
    expect(made.then).toMatchObject({ item: 77, colour: 3 });
    // The bar of the sign, 8 of 48 pixels wide, stands in the middle ranks of most lanes.
    const ranks = new Set(made.then.cells.map((c) => c % 23));
    expect([...ranks].every((r) => r > 7 && r < 15)).toBe(true);
    expect(new Set(made.then.cells.map((c) => Math.floor(c / 23))).size).toBeGreaterThan(14);
  });
  it("standing are surrounded by another colour, by none when it is asked for, in one change of cells", () => {
    const two = { ...env({ letters: 520, lettering: "standing", colour: 3 }), plan: { ...plan, colours: [{ id: 3 }, { id: 4 }] } as unknown as State };
    const made = play(letters, [words("I"), ...click([0, 0])], two);
    if (made.then?.do !== "draw") throw new Error("nothing drawn");
    const [ground, sign] = made.then.strokes;
    expect(ground).toEqual({ colour: 4, runs: [0, 460] });
    expect(sign!.colour).toBe(3);
    // Left out, taken, left out …: all within the field, and as many as are painted without a ground.
    const none = play(letters, [words("I"), ...click([0, 0])], { ...two, uses: { ...two.uses, ground: -1 } });
    if (none.then?.do !== "paint") throw new Error("nothing painted");
    const cells: number[] = [];
    sign!.runs.reduce((at, n, i) => { if (i % 2) for (let k = 0; k < n; k++) cells.push(at + k); return at + n; }, 0);
    expect(cells).toEqual(none.then.cells);
    expect([two, { ...two, uses: { ...two.uses, ground: -1 } }].map((e) => letters.sketch(writing("I"), e).tells?.words)).toEqual(["tool.letters.full", "tool.letters.bare"]);
  });
  it("wait for words, and run along a drag", () => {
    expect(play(letters, click([0, 0])).sent).toBe(0);
    const made = play(letters, [words("I"), at("down", [0, 0]), at("drag", [0, 900]), at("up", [0, 900])]);
    // The link runs along the words.
    expect(lineOf(made.items[0]).heading).toBeCloseTo(90, 0);
  });
});
