import { describe, expect, it } from "vitest";
import type { Change } from "../api/generated/Change";
import type { ItemDraft } from "../api/generated/ItemDraft";
import type { ItemRow } from "../api/generated/ItemRow";
import type { State } from "../api/generated/State";
import type { FeedWays } from "../api/generated/FeedWays";
import { fill, WORDS, type Language } from "../i18n";
import type { Pair } from "../kernels/floor";
import { noteLines, noteSize, shapeOf } from "../kernels/marks";
import { under } from "../kernels/pick";
import { usualStock } from "../kernels/usual";
import { camera, fan } from "./camera";
import { dimension } from "./dimension";
import { WISH } from "./drafts";
import { feed } from "./feed";
import { gap } from "./gap";
import { hallTool } from "./hall";
import { MOST_SIGNS, note, printable, signs } from "./note";
import { placeholder } from "./placeholder";
import { start } from "./start";
import { stopper } from "./stopper";
import { surface } from "./surface";
import type { Env, Hit, Press, Spot, Step, Tool } from "./tool";
import { FIRST, type Uses } from "./uses";

const STATE = {
  name: "", hall: "Larkmeadow Hall", floor: "#8a7a62", floor_plan: { outline: [], parts: [], grip: { floor: [0.15, 0.3], piece: [0.2, 0.3] } },
  kinds: [{ id: 1, name: "Standard", thickness: 7.5, width: 24, height: 48 }], colours: [{ id: 3 }], items: [], surfaces: [], sections: [],
} as unknown as State;

const env = (plan: Partial<State> = {}, more: Partial<Env> = {}): Env => ({ plan: { ...STATE, ...plan } as State, uses: FIRST, scale: 1, drafts: new Map(), chosen: [], snap: () => null, ink: () => null, say: (key, values) => fill(WORDS.en[key], values), ...more });
const spot = (at: Pair, more: Partial<Spot> = {}): Spot => ({ at, raw: at, snap: null, on: null, shift: false, touch: false, ...more });

/** A tool at work: presses in turn, with what it is to remember of figures. */
function at<S>(tool: Tool<S>, first: Env) {
  let state = tool.start();
  let now = first;
  const sent: Change[] = [];
  const press = (p: Press): Step<S> => {
    const step = tool.on(state, p, now);
    state = step.state;
    if (step.uses) now = { ...now, uses: { ...now.uses, ...step.uses } };
    if (step.change) sent.push(step.change);
    return step;
  };
  return {
    sent, press,
    click: (p: Pair, more: Partial<Spot> = {}) => (press({ is: "down", spot: spot(p, more) }), press({ is: "up", spot: spot(p, more) })),
    drag: (a: Pair, b: Pair, on: Partial<Spot> = {}, to: Partial<Spot> = on) => (press({ is: "down", spot: spot(a, on) }), press({ is: "drag", spot: spot(b, to) }), press({ is: "up", spot: spot(b, to) })),
    type: (id: string, value: number) => press({ is: "number", id, value }),
    answer: (id: string, value: string) => press({ is: "answer", id, value }),
    finish: () => press({ is: "finish" }),
    sketch: () => tool.sketch(state, now),
    busy: () => tool.busy(state),
    takes: () => tool.takes?.(state, now) ?? false,
    /** The plan goes on. */
    plan: (plan: Partial<State>) => (now = { ...now, plan: { ...now.plan, ...plan } as State }),
    uses: (uses: Partial<Uses>) => (now = { ...now, uses: { ...now.uses, ...uses } }),
    env: () => now,
  };
}
const only = <T>(all: readonly T[]): T => {
  expect(all).toHaveLength(1);
  return all[0]!;
};
const put = (change: Change | undefined): ItemDraft => {
  if (change?.do !== "put") throw new Error(`not put: ${JSON.stringify(change)}`);
  return only(change.items);
};
type Hall = Extract<Change, { do: "hall" }>;
const row = (item: Partial<ItemRow>): ItemRow => ({ name: "River", outline: [], ports: [], gaps: [], x: 0, y: 0, heading: 0, pitch: [15, 0], locked: false, group: null, body: { is: "plain" }, ...item }) as ItemRow;

const WALLS: [number, number][] = [[0, 0], [27_000, 0], [27_000, 15_000], [0, 15_000]];

describe("the hall", () => {
  it("is a box by a drag", () => {
    const t = at(hallTool, env());
    t.drag([0, 15_000], [27_000, 0]);
    const made = only(t.sent) as Hall;
    expect(made).toMatchObject({ do: "hall", name: "Larkmeadow Hall", floor: "#8a7a62", outline: WALLS, parts: [], grip: { floor: [0.15, 0.3] } });
    t.plan({ floor_plan: { ...STATE.floor_plan, outline: made.outline } });
    expect(t.takes()).toBe(true);
    t.press({ is: "take" });
    expect((t.sent[1] as Hall).outline).toEqual([]);
  });
  it("is a box by one corner and typed sizes, without a pointer", () => {
    const t = at(hallTool, env());
    t.click([0, 0]);
    t.type("width", 27_000);
    t.type("depth", 15_000);
    t.finish();
    expect((only(t.sent) as Hall).outline).toEqual(WALLS);
  });
  it("is an outline by clicks that ends at its first corner, counter-clockwise", () => {
    const t = at(hallTool, env());
    for (const p of [[0, 0], [0, 4000], [3000, 4000], [3000, 0], [2, 3]] as Pair[]) t.click(p);
    expect((only(t.sent) as Hall).outline).toEqual([[3000, 0], [3000, 4000], [0, 4000], [0, 0]]);
  });
  it("takes typed legs, and the last corner back", () => {
    const t = at(hallTool, env());
    t.click([0, 0]);
    t.type("length", 5000);
    t.type("angle", 0);
    t.click([100, 80]);
    t.click([5000, 900]);
    t.press({ is: "back" });
    t.type("length", 2000);
    t.type("angle", 90);
    t.click([0, 0]);
    t.finish();
    const { outline } = only(t.sent) as Hall;
    expect(outline.map((p) => p.map(Math.round))).toEqual([[0, 0], [5000, 0], [5000, 2000]]);
  });
  it("says what is no area, and keeps what was drawn", () => {
    const t = at(hallTool, env());
    t.click([0, 0]);
    t.click([100, 0]);
    t.finish();
    expect(t.sent).toEqual([]);
    expect(t.sketch().trouble?.words).toBe("trouble.noarea");
    expect(t.sketch().points).toHaveLength(2);
    t.click([100, 100]);
    t.finish();
    expect(t.sent).toHaveLength(1);
  });
  it("says when it is dragged out of every plan, and keeps the corner", () => {
    const t = at(hallTool, env());
    t.drag([0, 0], [1e9, 1e9]);
    expect(t.sent).toEqual([]);
    expect(t.sketch().trouble?.words).toBe("trouble.far");
    expect(t.busy()).toBe(true);
  });

  const parts = [
    { name: "Exit 1", is: "exit", outline: [[0, 5000], [200, 5000], [200, 7000], [0, 7000]] as Pair[], height: 2100 },
    { name: "Aisle 1", is: "aisle", outline: [[0, 0], [27_000, 0], [27_000, 1500], [0, 1500]] as Pair[], height: 0 },
    { name: "Stage", is: "surface", outline: [[9000, 9000], [9900, 9000], [9900, 9900]] as Pair[], height: 400 },
  ];
  const filled = () => env({ floor_plan: { ...STATE.floor_plan, outline: WALLS, parts: parts as never } });
  it("names the next exit, keeps the other parts and leaves out what items stand on", () => {
    const t = at(hallTool, filled());
    t.uses({ part: "exit", partHeight: 2100 });
    t.drag([26_800, 5000], [27_000, 7000]);
    const made = only(t.sent) as Hall;
    expect(made.parts.map((p) => [p.name, p.is])).toEqual([["Exit 1", "exit"], ["Aisle 1", "aisle"], ["Exit 2", "exit"]]);
    expect(made.outline).toEqual(WALLS);
    expect(made.parts[2]!.height).toBe(2100);
  });
  it("chooses a part by a click; moves, resizes, renames and removes it", () => {
    const t = at(hallTool, filled());
    t.click([100, 6000]);
    expect(t.sketch().asks?.[0]).toMatchObject({ is: "text", value: "Exit 1" });
    expect(t.sketch().caution).toBe("caution.exits");
    t.drag([200, 7000], [200, 7400]);
    t.drag([100, 6000], [100, 6500]);
    t.type("depth", 1800);
    t.type("height", 2300);
    t.answer("name", "West way out");
    t.answer("is", "door");
    t.press({ is: "take" });
    const first = (c: Change) => (c as Hall).parts[0]!;
    expect(first(t.sent[0]!).outline).toEqual([[0, 5000], [200, 5000], [200, 7400], [0, 7400]]);
    expect(first(t.sent[1]!).outline).toEqual([[0, 5500], [200, 5500], [200, 7500], [0, 7500]]);
    expect(first(t.sent[2]!).outline).toEqual([[0, 5000], [200, 5000], [200, 6800], [0, 6800]]);
    expect(first(t.sent[3]!).height).toBe(2300);
    expect(first(t.sent[4]!).name).toBe("West way out");
    expect(first(t.sent[5]!).is).toBe("door");
    expect((t.sent[6] as Hall).parts.map((p) => p.name)).toEqual(["Aisle 1"]);
    expect(t.busy()).toBe(false);
  });
  it("chooses the walls near them, and lets a corner of a box keep it a box", () => {
    const t = at(hallTool, filled());
    t.click([13_000, 14_998]);
    t.drag([27_000, 15_000], [30_000, 16_000]);
    expect((only(t.sent) as Hall).outline).toEqual([[0, 0], [30_000, 0], [30_000, 16_000], [0, 16_000]]);
  });
  it("does not let a corner make nothing of a part", () => {
    const t = at(hallTool, filled());
    t.click([100, 6000]);
    t.drag([200, 7000], [0, 5000]);
    expect(t.sent).toEqual([]);
    expect(t.sketch().trouble?.words).toBe("trouble.noarea");
    expect(t.sketch().points).toEqual(parts[0]!.outline);
  });
});

it("a surface is drawn, chosen, raised and taken away", () => {
  const t = at(surface, env());
  t.drag([0, 0], [1200, 600]);
  expect(only(t.sent)).toEqual({ do: "put-surface", id: null, name: "Table 1", is: "table", height: 740, slope: 0, uphill: 0, outline: [[0, 0], [1200, 0], [1200, 600], [0, 600]] });
  const made = t.sent[0] as Extract<Change, { do: "put-surface" }>;
  t.plan({ surfaces: [{ ...made, id: 7 }] });
  t.type("height", 900);
  t.answer("name", "Long table");
  expect(t.sent[1]).toMatchObject({ do: "put-surface", id: 7, height: 900, name: "Table 1" });
  expect(t.sent[2]).toMatchObject({ id: 7, name: "Long table", height: 740 });
  const ids = (): string[] => t.sketch().numbers.map((n) => n.id);
  expect([ids().includes("slope"), ids().includes("uphill")]).toEqual([true, false]);
  t.type("slope", 5);
  expect(t.sent[3]).toMatchObject({ id: 7, slope: 5, uphill: 0 });
  t.plan({ surfaces: [{ ...made, id: 7, slope: 5 }] });
  expect(ids()).toContain("uphill");
  t.type("uphill", 90);
  expect(t.sent[4]).toMatchObject({ id: 7, slope: 5, uphill: 90 });
  t.plan({ surfaces: [{ ...made, id: 7, name: "Long table", slope: 5, uphill: 90 }] });
  t.drag([600, 300], [700, 300]);
  expect(t.sent[5]).toMatchObject({ id: 7, slope: 5, uphill: 90, outline: [[100, 0], [1300, 0], [1300, 600], [100, 600]] });
  t.press({ is: "take" });
  expect(t.sent[6]).toEqual({ do: "remove-surface", id: 7 });
});

describe("a placeholder", () => {
  it("has its way in and out in the middle of its short sides", () => {
    const t = at(placeholder, env());
    t.drag([1000, 2000], [2200, 2300]);
    const made = put(t.sent[0]);
    expect(made).toMatchObject({ x: 1000, y: 2000, heading: 0, body: { is: "placeholder", length: 1200, width: 300, height: 300 } });
    // Half a piece of 7.5 mm beyond it stands the next one.
    expect(made.body).toMatchObject({ ports: [{ name: "in", flow: "in", x: 0, y: 150 }, { name: "out", flow: "out", x: 1203.75, y: 150 }] });
  });
  it("lies along its longer side, and takes typed sizes without a pointer", () => {
    const t = at(placeholder, env());
    t.type("height", 450);
    t.click([500, 500]);
    t.type("width", 400);
    t.type("depth", 900);
    t.finish();
    expect(put(t.sent[0])).toMatchObject({ x: 900, y: 500, heading: 90, body: { length: 900, width: 400, height: 450 } });
  });
  it("of no size is said to be none", () => {
    const t = at(placeholder, env());
    t.click([500, 500]);
    t.click([500, 900]);
    expect(t.sent).toEqual([]);
    expect(t.sketch().trouble?.words).toBe("trouble.noarea");
    t.click([900, 900]);
    expect(t.sent).toHaveLength(1);
  });
});

describe("a start", () => {
  const river = row({ id: 9, sort: "line", ports: [{ name: "start", enters: true, at: [1000, 500], heading: 90, width: 78 }, { name: "start left", enters: true, at: [985, 500], heading: 90, width: 78 }, { name: "end", enters: false, at: [1000, 900], heading: 90, width: 78 }] });
  const met = (port: string, p: Pair, enters: boolean): Partial<Spot> => ({ snap: { at: p, kind: "port", guides: [], target: { at: p, kind: "port", item: 9, port, enters, heading: 90 } } });
  it("stands 20 mm before the first piece of a line, heads along it and is as wide", () => {
    for (const port of ["start", "start left"]) {
      const t = at(start, env({ items: [river] }));
      t.click([1000, 500], met(port, [1000, 500], true));
      const made = put(t.sent[0]);
      expect([made.x, made.y, made.heading]).toEqual([1000, 480, 90]);
      expect(made.body).toEqual({ is: "start", width: 78, after: 0 });
    }
  });
  it("on bare floor heads where it is dragged, or as typed", () => {
    const t = at(start, env());
    t.type("angle", 30);
    t.type("push", 300);
    t.click([0, 0]);
    expect(put(t.sent[0])).toMatchObject({ x: 0, y: 0, heading: 30, body: { width: 300 } });
    t.drag([0, 0], [0, -200]);
    expect(put(t.sent[1])).toMatchObject({ heading: -90 });
  });
});

it("a stopper stands across the line where it is clicked", () => {
  const t = at(stopper, env({}, { piece: (item, piece) => (item === 9 && piece === 4 ? { at: [60, 2], heading: 45, of: 20 } : null) }));
  t.type("stopperThickness", 30);
  t.answer("fixed", "fixed");
  t.click([62, 5], { on: { item: 9, piece: 4 } });
  expect(put(t.sent[0])).toMatchObject({ x: 60, y: 2, heading: 45, body: { is: "stopper", thickness: 30, width: 60, height: 50, fixed: true } });
});

describe("a safety gap", () => {
  // Two lanes of 20: pieces of a line go lane by lane, rank by rank.
  const line = { id: 9, name: "River", gaps: [{ first: 12, count: 3, stopper: false }], x: 0, y: 0, heading: 0, built: null, body: { is: "line", kind: 1, lanes: 2 } } as unknown as ItemDraft;
  const piece = (item: number, n: number) => (item === 9 && n < 40 ? { at: [15 * (n % 20), 26 * Math.floor(n / 20)] as Pair, heading: 0, of: 40 } : null);
  const known = (more: Partial<Env> = {}) => env({ items: [row({ id: 9, sort: "line", pieces: 40 })] }, { drafts: new Map([[9, line]]), piece, ...more });
  const on = (n: number): Partial<Spot> => ({ on: { item: 9, piece: n } satisfies Hit });
  const hover = (t: ReturnType<typeof at>, n: number) => t.press({ is: "hover", spot: spot([0, 0], on(n)) });
  it("begins at the piece that is clicked, in whichever lane", () => {
    for (const n of [5, 25]) {
      const t = at(gap, known());
      hover(t as never, n);
      t.click([75, 0], on(n));
      expect(put(t.sent[0]).gaps).toEqual([{ first: 5, count: 7, stopper: false }, { first: 12, count: 3, stopper: false }]);
    }
  });
  it("is as long as it is dragged, and ends where the line or the next gap does", () => {
    const t = at(gap, known());
    hover(t as never, 2);
    t.drag([30, 0], [105, 0], on(2), on(7));
    expect(put(t.sent[0]).gaps[0]).toEqual({ first: 2, count: 6, stopper: false });
    hover(t as never, 10);
    t.click([150, 0], on(10));
    expect(put(t.sent[1]).gaps[0]).toEqual({ first: 10, count: 2, stopper: false });
    hover(t as never, 18);
    t.type("count", 9);
    t.answer("stopper", "with");
    t.click([270, 0], on(18));
    expect(put(t.sent[2]).gaps[1]).toEqual({ first: 18, count: 2, stopper: true });
  });
  it("is taken away by a click on it, after it said what it holds", () => {
    const t = at(gap, known({ gap: () => ({ item: 9, gap: 0, ranks: [13, 15], pieces: 6, holds: "surely", open: 52.5, block: "none", needed: 40 }) }));
    hover(t as never, 13);
    expect(t.sketch().tells).toEqual({ words: "gapopen.surely", lengths: { open: 52.5 } });
    t.click([195, 0], on(13));
    expect(put(t.sent[0]).gaps).toEqual([]);
  });
  it.each<[Language, string, string]>([
    ["en", "Open a safety gap of River", "Close a safety gap of River"],
    ["de", "Sicherheitslücke in River öffnen", "Sicherheitslücke in River schließen"],
  ])("is named for the history in the language of the page: %s", (language, opens, closes) => {
    const t = at(gap, known({ say: (key, values) => fill(WORDS[language][key], values) }));
    for (const n of [5, 13]) {
      hover(t as never, n);
      t.click([15 * n, 0], on(n));
    }
    expect(t.sent.map((change) => (change.do === "put" ? change.label : null))).toEqual([opens, closes]);
  });
  it("says how far it opens: (k + 1) p - t", () => {
    // Trade arithmetic for a straight line: 4 pieces out at a pitch of 15 mm leave 5 * 15 - 7.5 mm.
    const t = at(gap, known());
    hover(t as never, 0);
    expect(t.sketch().tells?.lengths?.open).toBe(112.5);
  });
  it("by keys or a finger shows first what it would be, and opens at the second press", () => {
    const t = at(gap, known({ drafts: new Map() }));
    t.click([75, 0], on(5));
    expect([t.sent, t.busy(), t.sketch().wants]).toEqual([[], true, [9]]);
    const later = at(gap, known());
    later.click([75, 0], on(5));
    expect(later.sent).toEqual([]);
    expect(later.sketch().items[0]!.gaps).toHaveLength(2);
    later.click([75, 0], on(5));
    expect(put(later.sent[0]).gaps[0]!.first).toBe(5);
    // Also when a pointer lies somewhere else on the line, where the gap is shown meanwhile.
    const both = at(gap, known());
    hover(both as never, 2);
    both.click([75, 0], on(5));
    expect(both.sent).toEqual([]);
    both.click([75, 0], on(5));
    expect(put(both.sent[0]).gaps[0]!.first).toBe(5);
  });
  it("is none where no piece stands", () => {
    const t = at(gap, known());
    t.click([5000, 5000]);
    expect(t.sketch().trouble?.words).toBe("trouble.gap");
  });
  it("counts ranks of a field by where its pieces stand", () => {
    const field = { id: 4, name: "Sea", gaps: [], x: 100, y: 100, heading: 90, built: null, body: { is: "field", kind: 1, lanes: 4, ranks: 10, pitch_along: 15, pitch_across: 26 } } as unknown as ItemDraft;
    // Heading north: rank 3 of lane 2 stands 45 mm north and 52 mm west of the first.
    const t = at(gap, env({ items: [row({ id: 4, sort: "field" })] }, { drafts: new Map([[4, field]]), piece: () => ({ at: [48, 145], heading: 90, of: 31 }) }));
    t.press({ is: "hover", spot: spot([48, 145], { on: { item: 4, piece: 17 } }) });
    t.click([48, 145], { on: { item: 4, piece: 17 } });
    expect(put(t.sent[0]).gaps).toEqual([{ first: 3, count: 7, stopper: false }]);
  });
});

describe("a feed", () => {
  const body = { is: "field", kind: 1, lanes: 4, ranks: 6, pitch_along: 15, pitch_across: 26, course: "together", wish: WISH };
  const mill = { id: 4, name: "Mill", section: 2, surface: 0, x: 100, y: 100, heading: 90, gaps: [], built: null, body } as unknown as ItemDraft;
  const ways: FeedWays = {
    pitch: 15.5,
    ways: [
      { means: { is: "feed", way: { is: "brick", enter: "middle" } }, works: "sure", slick: [80, 80], normal: [80, 80], slow: [1.5, 1.7], pieces: 30, why: "Fine.", said: [] },
      { means: { is: "course", course: "in-turn" }, works: "unsure", slick: null, normal: null, slow: [4, 4], pieces: 9, why: "Slow.", said: [] },
      { means: { is: "feed", way: { is: "echelon", side: "left", turn: 50 } }, works: "no", slick: null, normal: null, slow: null, pieces: 0, why: "Too wide.", said: [] },
    ],
  };
  const around = (draft = mill) => env({ items: [row({ id: 4, sort: "field", x: 100, y: 100, heading: 90, body: body as never })] }, { drafts: new Map([[4, draft]]), feeds: () => ways });
  const on: Partial<Spot> = { on: { item: 4, piece: 0 } };
  it("is laid in the best way, in the pitch that suits, for the side that was clicked", () => {
    const t = at(feed, around());
    // Heading north, left of the middle is west of it.
    t.click([40, 120], on);
    expect(t.sketch().feeds).toEqual({ field: 4, side: "left" });
    expect(t.sketch().asks?.[1]).toMatchObject({ value: "brick", choices: [{ value: "brick", values: { works: "sure", least: 1.5, most: 1.7, pieces: 30 } }, { value: "in-turn" }, { value: "echelon" }] });
    t.answer("enter", "left");
    t.finish();
    expect(put(t.sent[0])).toMatchObject({ name: "Mill feed", x: 100, y: 100, heading: 90, section: 2, body: { is: "feed", of: 4, way: { is: "brick", enter: "left" }, kind: 1, colour: 3, pitch: 15.5 } });
  });
  it("of lanes in turn is another course of the field", () => {
    const t = at(feed, around());
    t.click([99, 120], on);
    expect(t.sketch().feeds?.side).toBe("right");
    t.answer("way", "in-turn");
    t.finish();
    expect(put(t.sent[0])).toMatchObject({ id: 4, name: "Mill", body: { is: "field", course: "in-turn" } });
  });
  it("turns the lanes first where that is the way, and goes on with the edges of the same field", () => {
    const opposed: FeedWays = { ...ways, ways: [{ means: { is: "course", course: "opposed" }, works: "sure", slick: [80, 80], normal: [80, 80], slow: [1.3, 1.3], pieces: 89, why: "Both.", said: [] }, ...ways.ways] };
    const turned = { ...mill, body: { ...mill.body, course: "opposed" } } as ItemDraft;
    let draft = mill;
    const t = at(feed, { ...around(), get drafts() { return new Map([[4, draft]]); }, feeds: () => opposed } as Env);
    t.click([99, 120], on);
    t.finish();
    expect(put(t.sent[0])).toMatchObject({ id: 4, body: { course: "opposed" } });
    draft = turned;
    expect([t.busy(), t.sketch().hint]).toEqual([true, "tool.feed.turned"]);
    t.finish();
    expect((t.sent[1] as Extract<Change, { do: "put" }>).items.map((i) => i.name)).toEqual(["Mill feed", "Mill feed, far edge"]);
  });
  it("of opposed lanes is laid at both edges", () => {
    const t = at(feed, around({ ...mill, body: { ...mill.body, course: "opposed" } } as ItemDraft));
    t.click([99, 120], on);
    t.finish();
    const made = t.sent[0] as Extract<Change, { do: "put" }>;
    expect(made.items.map((i) => [i.name, i.heading])).toEqual([["Mill feed", 90], ["Mill feed, far edge", -90]]);
  });
  it("does not lay what is not possible, and says so", () => {
    const t = at(feed, around());
    t.click([99, 120], on);
    t.answer("way", "echelon");
    t.finish();
    expect(t.sent).toEqual([]);
    expect(t.sketch().trouble?.words).toBe("trouble.noway");
    expect(t.busy()).toBe(true);
  });
});

describe("a dimension", () => {
  it("goes from one click to the other: 3, 4, 5", () => {
    const t = at(dimension, env());
    t.click([0, 0]);
    t.click([3000, 4000]);
    const made = put(t.sent[0]);
    expect(made.body).toEqual({ is: "dimension", to: [5000, 0] });
    expect(made.heading).toBeCloseTo((Math.atan2(4, 3) * 180) / Math.PI, 2);
  });
  it("takes a typed length, and says when it has none", () => {
    const t = at(dimension, env());
    t.click([0, 0]);
    t.finish();
    expect(t.sketch().trouble?.words).toBe("trouble.nolength");
    t.type("length", 2500);
    t.type("angle", 180);
    t.finish();
    expect(put(t.sent[0])).toMatchObject({ heading: 180, body: { to: [2500, 0] } });
  });
});

describe("a note", () => {
  const write = (text: string) => {
    const t = at(note, env());
    t.click([10, 20]);
    t.answer("text", text);
    t.finish();
    return t;
  };
  it("keeps any words as words", () => {
    for (const text of ["<b>Mind</b> & \"step\"", "שלום עולם", "🌊 Sea 👩‍🔧", "one\ntwo"]) expect(put(write(text).sent[0])).toMatchObject({ x: 10, y: 20, body: { is: "note", text } });
  });
  it("takes 10 000 signs, however wide they are, and no more; nothing is lost", () => {
    expect(put(write("🌊".repeat(MOST_SIGNS)).sent[0]).body).toMatchObject({ is: "note" });
    const t = write("🌊".repeat(MOST_SIGNS + 1));
    expect(t.sent).toEqual([]);
    expect(t.sketch().trouble).toEqual({ words: "trouble.long", values: { n: MOST_SIGNS + 1, most: MOST_SIGNS } });
    expect(t.sketch().asks?.[0]?.value).toHaveLength(2 * (MOST_SIGNS + 1));
  });
  it("is not empty, and its place may change while it is written", () => {
    const t = write("  \n ");
    expect(t.sketch().trouble?.words).toBe("trouble.empty");
    t.answer("text", "Tea at ten");
    t.click([500, 600]);
    t.finish();
    expect(put(t.sent[0])).toMatchObject({ x: 500, y: 600, body: { text: "Tea at ten" } });
  });
  it("loses only signs that cannot be printed", () => expect(printable("a\r\nb\tc\u0007d\u200f")).toBe("a\nb\tcd\u200f"));
  it("counts signs as code points", () => expect(signs("a🌊ü")).toBe(3));
  it("is drawn in a few lines however long it is, and can be pressed on its slip", () => {
    const lines = noteLines("word ".repeat(2000));
    expect(lines).toHaveLength(6);
    expect(lines[5]).toMatch(/…$/);
    expect(noteLines("x".repeat(10_000)).every((l) => l.length <= 32)).toBe(true);
    expect(noteLines("Tea at ten")).toEqual(["Tea at ten"]);
    const item = { x: 1000, y: 1000, heading: 0, body: { is: "note" as const, text: "Tea at ten" } };
    const [w, h] = noteSize(["Tea at ten"]);
    const pick = (p: Pair) => under([{ id: 1, at: [1000, 1000], outline: [], more: shapeOf(item, 0.1) }], p, 1);
    expect(pick([1000 + (w - 1) * 10, 1000 + (h - 1) * 10])).toBe(1);
    expect(pick([1000 + (w + 1) * 10, 1000])).toBe(null);
  });
});

it("a dimension can be pressed along its stroke", () => {
  const more = shapeOf({ x: 0, y: 0, heading: 90, body: { is: "dimension", to: [1000, 0] } }, 1);
  const pick = (p: Pair) => under([{ id: 1, at: [0, 0], outline: [], more }], p, 8);
  expect([pick([5, 500]), pick([5, 999]), pick([20, 500]), pick([0, 1100])]).toEqual([1, 1, null, null]);
});

describe("a camera", () => {
  it("looks where the second click is, from the height that is typed", () => {
    const t = at(camera, env());
    t.type("lens", 3000);
    t.click([0, 0]);
    t.click([0, 2000]);
    expect(put(t.sent[0])).toMatchObject({ heading: 90, body: { is: "camera", height: 3000, look: [2000, 0], look_height: 0, field_of_view: 60 } });
    expect(t.sketch().caution).toBe("caution.overhead");
  });
  it("sees as wide as it says", () => {
    const [, a, b] = fan([0, 0], [1000, 0], 90);
    // 45 degrees to either side.
    expect([a![0], a![1], b![0], b![1]].map(Math.round)).toEqual([707, -707, 707, 707]);
  });
});

it("usual pieces have codes that nobody takes for a figure, and say what is owned", () => {
  for (const language of ["en", "de"] as const) {
    const rows = usualStock(language, 0).trim().split("\n").slice(1).map((r) => r.split(","));
    expect(rows).toHaveLength(10);
    expect(new Set(rows.map((r) => r[1])).size).toBe(10);
    expect(new Set(rows.map((r) => r[0])).size).toBe(10);
    for (const [, code, hex, count] of rows) expect([/^[A-Z]$/.test(code!) && !/[IOQZ]/.test(code!), /^#[0-9a-f]{6}$/.test(hex!), count]).toEqual([true, true, "0"]);
  }
  expect(usualStock("en", 250)).toContain(",250\n");
});
