/** The drawing board: the tool at hand, what is chosen, what it would cost; the one place that sends what tools finish. */
import { tick, untrack } from "svelte";
import * as api from "../api/client";
import type { Change } from "../api/generated/Change";
import type { FeedWays } from "../api/generated/FeedWays";
import type { ItemDraft } from "../api/generated/ItemDraft";
import type { Side } from "../api/generated/Side";
import type { Tried } from "../api/generated/Tried";
import { itemOf, type HallPieces } from "../kernels/columns";
import type { Pair } from "../kernels/floor";
import { shapeOf } from "../kernels/marks";
import { under } from "../kernels/pick";
import { gridFor, snap, type Snap, type Target, type Targets } from "../kernels/snap";
import { chosenRows } from "../tools/pick";
import { TOOLS, pick } from "../tools";
import { again, type Env, type Hit, type Press, type Sketch, type Spot, type Standing, type Step, type Tool } from "../tools/tool";
import type { Uses } from "../tools/uses";
import { parseLength, parseNumber } from "../kernels/units";
import { draftLeft } from "../kernels/waiting";
import { glyphs } from "./glyphs.svelte";
import { hall } from "./hall.svelte";
import { outbox } from "./outbox.svelte";
import { plan } from "./plan.svelte";
import { prefs } from "./prefs.svelte";
import { listed, t } from "./say.svelte";
import { toasts } from "./toasts.svelte";
import { uses } from "./uses.svelte";

/** Pixels within which a pointer meets something, and a finger. */
const WITHIN = 10;
const FINGER = 20;
/** Items of which more than so many are chosen are not asked for whole. */
const WHOLE = 64;

/** Presses that wait at the most. */
const LATER = 500;
/** Pieces up to which drafts are shown piece by piece. */
const GHOSTS = 20_000;

const AREAS = ["box", "lasso", "pan"] as const satisfies readonly Uses["area"][];
/** Milliseconds within which two clicks are a double click; what systems usually take. */
const TWICE = 500;
/** True for a change that adds items. */
const makes = (change: Change | undefined): boolean => change?.do === "put" && change.items.some((i) => i.id === null);
const NO_ITEMS: ReadonlyMap<number, ItemDraft> = new Map();
const NONE: Tried = { items: [], findings: [], refused: null };

class Board {
  tool = $state.raw<Tool>(pick as Tool);
  private at = $state.raw<unknown>(pick.start());
  chosen = $state.raw<readonly number[]>([]);
  hidden = $state.raw<ReadonlySet<number>>(new Set());
  /** Pixels a millimetre, as the floor says. */
  scale = $state(0.05);
  /** Nothing snaps while the key for it is held, or when it was put off. */
  snapping = $state(true);
  held = $state(false);
  touch = $state(matchMedia("(pointer: coarse)").matches);
  /** The pointer drew last, not the keys, since the tool was taken. */
  pointed = $state(false);
  /** What was drawn costs so much, and is wrong in this; of the sketch just before at the most. */
  tried = $state.raw<Tried>(NONE);
  ghosts = $state.raw<HallPieces | null>(null);
  /** Where the pointer met something. */
  met = $state.raw<Snap | null>(null);
  /** Whole items as they were told, and the change that they are of. */
  private told = $state.raw<{ of: number; whole: ReadonlyMap<number, ItemDraft> }>({ of: 0, whole: new Map() });
  /** Those of the plan as it stands: what was told of an earlier one would undo what was done since. */
  private readonly whole = $derived.by((): ReadonlyMap<number, ItemDraft> => {
    if (this.told.of !== (plan.state?.saved.change ?? 0)) return NO_ITEMS;
    const { leaves } = outbox;
    if (leaves.length === 0) return this.told.whole;
    const ids = new Set([...this.told.whole.keys(), ...outbox.kept.flatMap((one) => (one.id < 0 ? [one.id] : []))]);
    return new Map([...ids].flatMap((id) => { const d = draftLeft(id, this.told.whole.get(id), leaves); return d ? [[id, d] as const] : []; }));
  });
  /** An item as it was told, and as what waits for the connection leaves it. */
  private known(id: number): ItemDraft | undefined {
    return draftLeft(id, this.told.whole.get(id), outbox.kept);
  }

  readonly env = $derived.by((): Env | null => {
    const state = plan.now;
    if (!state) return null;
    const feeds = this.ways;
    return {
      plan: state, uses: uses.now, scale: this.scale, drafts: this.whole, chosen: this.chosen, snap: (p) => this.meet(p), piece: standing,
      gap: (item, gap) => hall.gaps?.gaps.find((g) => g.item === item && g.gap === gap) ?? null,
      feeds: (field, side) => feeds.get(`${field} ${side}`) ?? null,
      ink: glyphs.ink, say: t,
    };
  });
  readonly sketch = $derived.by((): Sketch | null => (this.env ? this.tool.sketch(this.at, this.env) : null));
  readonly busy = $derived(this.tool.busy(this.at));
  private sending = $state(false);
  /** Delete takes away what the tool itself has chosen, be it only once the plan has taken it. */
  readonly takes = $derived(this.env !== null && ((this.tool.takes?.(this.at, this.env) ?? false) || (this.sending && this.tool.whole === true && this.tool.takes !== undefined && this.busy)));
  /** There is no piece to draw with: the tool asks for the stock first, and what a trial says of its draft is of no use. */
  readonly bare = $derived(plan.state?.kinds.length === 0 && (this.tool.uses.includes("kind") || this.tool.id === "feed"));
  readonly rows = $derived(this.env ? chosenRows(this.env) : []);
  /** The one chosen item, whole; null until it was told. */
  readonly one = $derived(this.chosen.length === 1 ? (this.known(this.chosen[0]!) ?? null) : null);
  /** All chosen items, whole; null until they were told. */
  readonly drafts = $derived.by(() => {
    const found = this.chosen.flatMap((id) => this.known(id) ?? []);
    return found.length === this.chosen.length ? found : null;
  });

  private readonly targets = $derived.by((): Targets => {
    const state = plan.now;
    if (!state) return { points: [], edges: [] };
    const loose = new Set(this.loose);
    const points: Target[] = [];
    const edges: [Pair, Pair][] = [];
    const ring = (outline: readonly Pair[], item?: number) =>
      outline.forEach((a, i) => {
        const b = outline[(i + 1) % outline.length]!;
        const of = item === undefined ? {} : { item };
        points.push({ at: a, kind: "corner", ...of }, { at: [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2], kind: "middle", ...of });
        edges.push([a, b]);
      });
    for (const item of state.items) {
      if (loose.has(item.id) || this.hidden.has(item.id)) continue;
      for (const p of item.ports) points.push({ at: p.at, kind: "port", item: item.id, port: p.name, enters: p.enters, heading: p.heading });
      if (item.outline.length) ring(item.outline, item.id);
      else points.push({ at: [item.x, item.y], kind: "end", item: item.id });
    }
    if (state.floor_plan.outline.length > 2) ring(state.floor_plan.outline);
    for (const part of state.floor_plan.parts) ring(part.outline);
    for (const mark of state.floor_plan.marks) points.push({ at: mark.at, kind: "end" });
    return { points, edges };
  });
  private loose = $state.raw<readonly number[]>([]);

  private meet(p: Pair, shift = false): Snap | null {
    if (!this.snapping || this.held) return null;
    const within = (this.touch ? FINGER : WITHIN) / this.scale;
    // Read apart from the sketch, which asks for this.
    const from = this.from;
    return snap(p, this.targets, { within, grid: gridFor(this.scale, prefs.system === "imperial"), from, only: shift && from ? 15 : null });
  }
  private from: Pair | null = null;

  private readonly pickable = $derived(
    (plan.now?.items ?? []).filter((i) => !this.hidden.has(i.id)).map((i) => ({ id: i.id, at: [i.x, i.y] as const, outline: i.outline, more: shapeOf(i, this.scale) })),
  );

  /** What lies under a place. */
  hit(p: Pair): Hit | null {
    const reach = (this.touch ? FINGER : WITHIN) / this.scale;
    const pieces = hall.pieces;
    const near = pieces && hall.finder ? hall.finder.nearest(p[0], p[1], Math.max(14, reach)) : null;
    if (near !== null && pieces) {
      const item = itemOf(pieces, near)!;
      const row = pieces.items.find((i) => i.id === item);
      if (!this.hidden.has(item) && !plan.elsewhere.has(item) && plan.items.has(item)) return { item, piece: row ? near - row.first : null };
    }
    const found = under(this.pickable, p, reach);
    return found === null ? null : { item: found, piece: null };
  }

  spot(raw: Pair, event: { shiftKey: boolean; ctrlKey: boolean; metaKey: boolean; pointerType?: string }): Spot {
    this.held = event.ctrlKey || event.metaKey;
    if (event.pointerType !== undefined) this.touch = event.pointerType === "touch";
    const met = this.meet(raw, event.shiftKey);
    return { at: met?.at ?? [Math.round(raw[0] * 10) / 10, Math.round(raw[1] * 10) / 10], raw, snap: met, on: this.hit(raw), shift: event.shiftKey, touch: this.touch };
  }

  /** True when a drag from there moves the view. */
  lets(spot: Spot): boolean {
    return this.env !== null && (this.tool.lets?.(this.at, spot, this.env) ?? false);
  }

  press(press: Press) {
    if (!this.env) return;
    if (this.sending && this.tool.whole) {
      if (press.is !== "hover") this.wait(() => this.press(press));
      return;
    }
    if (press.is !== "hover" && press.is !== "tried") this.forget();
    // Whoever clicks, lets go or ends means the figure that is being typed; one that says nothing is dropped.
    if (press.is === "down" || press.is === "up" || press.is === "finish") this.typed();
    if ("spot" in press) this.met = press.spot.snap;
    if (press.is === "down" && this.repeats(press.spot)) return;
    const step = this.tool.on(this.at, press, this.env);
    if ("spot" in press && makes(step.change)) this.ended = { at: press.spot.raw, when: performance.now() };
    else if (press.is === "down") this.ended = null;
    this.take(step);
  }

  /** The press that ended what was drawn last; null once another one came. */
  private ended: { at: Pair; when: number } | null = null;
  /** True for the second press of a double click whose first one ended an item: it begins none. */
  private repeats(spot: Spot): boolean {
    return this.ended !== null && this.env !== null && performance.now() - this.ended.when < TWICE && again(this.ended.at, spot, this.env);
  }

  /** What a step back would leave; null when nothing is being drawn. */
  private readonly before = $derived.by(() => {
    if (!this.env) return null;
    if (this.tool.undo) return this.tool.undo(this.at, this.env);
    return this.busy ? this.tool.on(this.at, { is: "back" }, this.env).state : null;
  });
  readonly begun = $derived(this.before !== null);
  /** What was taken back of what is being drawn, the last one last. */
  private undone = $state.raw<readonly unknown[]>([]);
  readonly again = $derived(this.undone.length > 0);

  /** Takes back the last step of what is being drawn; false when nothing is. */
  undo(): boolean {
    const to = this.before;
    if (to === null) return false;
    this.undone = [...this.undone, this.at];
    this.typing = null;
    this.take({ state: to });
    return true;
  }

  /** Brings the step again that was taken back last; false when there is none. */
  redo(): boolean {
    const state = this.undone.at(-1);
    if (state === undefined) return false;
    this.undone = this.undone.slice(0, -1);
    this.typing = null;
    this.take({ state });
    return true;
  }

  /** What was taken back comes no more. */
  forget() {
    if (this.undone.length > 0) this.undone = [];
  }

  private take(step: Step<unknown>) {
    const before = this.at;
    this.at = step.state;
    if (step.uses) uses.set(step.uses);
    if (step.choose && !step.change) this.choose(step.choose);
    const sketch = this.sketch;
    this.from = sketch?.from ?? null;
    const loose = sketch?.loose ?? [];
    if (loose.length !== this.loose.length || loose.some((id, i) => id !== this.loose[i])) this.loose = loose;
    if (step.change) void this.send(step, before);
  }

  /** Presses and keys that wait until the plan has taken the change before. */
  private later: (() => void)[] = [];
  /** Among them is a figure that is not typed to its end. */
  private typesLater = false;

  /** Does it once the change before is taken, unless another tool was taken meanwhile. */
  private wait(again: () => void) {
    const { tool } = this;
    if (this.later.length < LATER) this.later.push(() => this.tool === tool && again());
  }

  private async send(step: Step<unknown>, before: unknown) {
    const { tool } = this;
    this.sending = true;
    try {
      await this.sends(step, before, tool);
    } finally {
      this.sending = false;
    }
    const waited = this.later;
    this.later = [];
    this.typesLater = false;
    for (const again of waited) again();
  }

  private async sends(step: Step<unknown>, before: unknown, tool: Tool) {
    const taken = this.takenTools;
    const done = await plan.do(step.change!);
    if (!done) {
      // What was refused, and why, was said; what was drawn is there to be changed. What waits for the connection is done.
      if (plan.offlineSince === null && this.tool === tool && this.at === step.state) this.at = before;
      return;
    }
    if (step.then) await plan.do(step.then(done.items));
    const next = step.choose ?? done.items;
    if (next.length) this.choose(next);
    // When a tool was taken meanwhile, be it the same one again, it is that one's turn.
    if (this.takenTools !== taken) this.picked = false;
  }

  /** Something was chosen since the tool was taken: drawn by it, or picked in a list. */
  private picked = $state(false);
  /** There is time to look at what was chosen since: the tool at hand draws nothing now. */
  readonly looks = $derived(this.picked && !this.busy && this.chosen.length > 0);

  /** How often a tool was taken. */
  private takenTools = 0;

  /** Takes another tool; what was begun with the last one is given up. */
  use(tool: Tool) {
    this.takenTools += 1;
    this.tool = tool;
    this.picked = false;
    this.ended = null;
    this.typing = null;
    this.pointed = false;
    this.forget();
    this.at = tool.start();
    this.from = null;
    this.loose = [];
    this.met = null;
  }

  /** Takes another tool as whoever draws does: what was begun and can stand is kept, as if it had been ended. */
  turnTo(tool: Tool) {
    const step = this.env && this.busy && !this.sending ? (this.tool.keeps?.(this.at, this.env) ?? null) : null;
    const before = this.at;
    const from = this.tool;
    this.use(tool);
    if (step?.change) void this.keep(step, before, from);
  }

  private async keep(step: Step<unknown>, before: unknown, from: Tool) {
    const change = step.change!;
    const done = await plan.do(change);
    if (done) toasts.plain("did.kept", { name: change.do === "put" ? (change.items[0]?.name ?? "") : "" }, true);
    // What was refused, and why, was said; whoever has begun nothing else has it back, to be changed.
    else if (plan.offlineSince === null && this.env && !this.busy) {
      this.use(from);
      this.at = before;
    }
  }

  useId(id: string) {
    const tool = TOOLS.find((t) => t.id === id);
    if (tool) this.turnTo(tool);
  }

  /** A figure that is being typed while drawing: which one, and as it stands. */
  typing = $state.raw<{ number: number; text: string } | null>(null);
  /** Its value in mm, degrees or plain; null while it says nothing clear. */
  readonly typedValue = $derived.by(() => {
    const number = this.typing && this.sketch?.numbers[this.typing.number];
    if (!number) return null;
    const value = number.kind === "length" ? parseLength(this.typing!.text, prefs.system === "imperial" ? 25.4 : 1) : parseNumber(this.typing!.text);
    return value === null || value < number.min || value > number.max ? null : value;
  });

  /** The figure that is being typed is typed to its end. */
  private typed() {
    const id = this.typing && this.sketch?.numbers[this.typing.number]?.id;
    const value = this.typedValue;
    this.typing = null;
    if (id && value !== null && this.env) this.take(this.tool.on(this.at, { is: "number", id, value }, this.env));
  }

  /** Takes a key of somebody who types a figure; false when it belongs to nobody here. */
  type(key: string): boolean {
    // What begins only once the change before is taken is typed then: letters of a unit are no shortcuts.
    if (this.sending && this.tool.whole && this.later.length > 0 && (this.typesLater || /^[0-9.,-]$/.test(key))) {
      this.typesLater = key !== "Enter" && key !== "Escape";
      this.wait(() => void this.type(key));
      return true;
    }
    const numbers = this.sketch?.numbers ?? [];
    if (!this.busy || numbers.length === 0) return false;
    const now = this.typing;
    if (!now) {
      if (!/^[0-9.,-]$/.test(key)) return false;
      this.typing = { number: 0, text: key };
      return true;
    }
    if (key.length === 1) this.typing = { ...now, text: now.text + key };
    else if (key === "Backspace") this.typing = now.text.length > 1 ? { ...now, text: now.text.slice(0, -1) } : null;
    else if (key === "Escape") this.typing = null;
    else if (key === "Enter" || key === "Tab") {
      if (this.typedValue === null) return true;
      this.press({ is: "number", id: numbers[now.number]!.id, value: this.typedValue });
      const count = this.sketch?.numbers.length ?? 0;
      this.typing = key === "Tab" && count > 1 ? { number: (now.number + 1) % count, text: "" } : null;
    } else return false;
    return true;
  }

  /** One step back out: of what was begun, of the tool, of what is chosen. False when there is nothing to leave. */
  leave(): boolean {
    if (this.busy) this.use(this.tool);
    else if (this.tool !== (pick as Tool)) this.use(pick as Tool);
    else if (this.chosen.length) this.choose([]);
    else return false;
    return true;
  }

  /** What a drag over bare floor does while picking, by what is at hand: pointer or finger. */
  readonly area = $derived(this.touch ? uses.now.areaTouch : uses.now.area);

  setArea(area: Uses["area"]) {
    uses.set({ area, areaTouch: area });
  }

  nextArea() {
    this.setArea(AREAS[(AREAS.indexOf(this.area) + 1) % AREAS.length]!);
  }

  choose(ids: readonly number[]) {
    const same = ids.length === this.chosen.length && ids.every((id, i) => id === this.chosen[i]);
    if (!same) this.chosen = [...ids];
    this.picked = true;
  }

  hide(ids: readonly number[], away: boolean) {
    const hidden = new Set(this.hidden);
    for (const id of ids)
      if (away) hidden.add(id);
      else hidden.delete(id);
    this.hidden = hidden;
    if (away) this.choose(this.chosen.filter((id) => !hidden.has(id)));
  }

  /** Changes whole items in one step. */
  async put(items: readonly ItemDraft[], label: string) {
    return plan.do({ do: "put", items: [...items], label });
  }

  /** Changes some items as one step, each as it is when its turn comes. Gives null, or why it was not taken. */
  alter(ids: readonly number[], change: (draft: ItemDraft) => ItemDraft, what: string): Promise<string | null> {
    return plan.alter(async () => {
      const now = (await this.fetch(ids)) ?? (plan.offlineSince === null ? [] : ids.flatMap((id) => this.known(id) ?? []));
      const items = now.map((d) => [d, change(d)] as const).flatMap(([before, after]) => (after === before ? [] : [after]));
      if (items.length === 0) return null;
      return { do: "put", items, label: t("did.changed", { what, names: listed(items.map((i) => i.name)) }) };
    });
  }

  /** Items, whole, as far as they are there; null without an answer. Those that only this page knows of are as they wait here. */
  private async fetch(ids: readonly number[]): Promise<ItemDraft[] | null> {
    const own = ids.flatMap((id) => (id < 0 ? (this.known(id) ?? []) : []));
    const asked = ids.filter((id) => id > 0);
    if (asked.length === 0) return own;
    try {
      return [...(await api.getItems(asked)), ...own];
    } catch {
      // The plan says that there is no connection.
      return null;
    }
  }

  /** For the floor as it begins: keeps what tools want at hand, and tries what they draw. */
  start() {
    // What is chosen and gone is chosen no more; what the plan gave an id meanwhile is chosen by that.
    let names = new Map<number, string>();
    $effect(() => {
      const { items } = plan;
      const given = this.chosen.map((id) => (items.has(id) ? id : (outbox.given.get(id) ?? id)));
      if (given.some((id, i) => id !== this.chosen[i])) {
        untrack(() => this.choose(given));
        return;
      }
      const gone = this.chosen.filter((id) => !items.has(id) && !outbox.coming.has(id));
      if (gone.length === 0) {
        names = new Map(this.chosen.map((id) => [id, items.get(id)?.name ?? ""]));
        return;
      }
      untrack(() => {
        // What is on its way has nothing left to go with: somebody else removed it.
        if (this.busy && this.tool === (pick as Tool) && this.loose.some((id) => gone.includes(id))) {
          this.use(this.tool);
          toasts.trouble(t("gone.meanwhile", { names: listed(gone.map((id) => names.get(id) ?? "")) }));
        }
        this.choose(this.chosen.filter((id) => !gone.includes(id)));
      });
    });
    $effect(() => {
      const wanted = [...new Set([...this.chosen.slice(0, WHOLE), ...(this.sketch?.wants ?? [])])];
      // As soon as a change is heard of, not only when the plan tells of it.
      const change = plan.heard;
      // What could not be told without a connection is asked for once there is one.
      void plan.offlineSince;
      untrack(() => void this.have(wanted, change));
    });
    $effect(() => {
      const wanted = this.sketch?.feeds ?? null;
      const change = plan.state?.saved.change ?? 0;
      untrack(() => void this.askFeeds(wanted, change));
    });
    $effect(() => {
      const items = this.sketch?.items ?? [];
      untrack(() => this.try(items));
    });
  }

  /** Items that are being asked for, and of which change. */
  private asked = { of: 0, ids: new Set<number>() };

  private async have(ids: readonly number[], change: number) {
    const before = this.told.of === change ? this.told.whole : NO_ITEMS;
    if (this.asked.of !== change) this.asked = { of: change, ids: new Set() };
    const { ids: asked } = this.asked;
    const missing = ids.filter((id) => id > 0 && !before.has(id) && !asked.has(id));
    if (missing.length === 0) return;
    missing.forEach((id) => asked.add(id));
    const got = await this.fetch(missing);
    missing.forEach((id) => asked.delete(id));
    if (!got || plan.heard !== change) return;
    this.told = { of: change, whole: new Map([...(this.told.of === change ? this.told.whole : NO_ITEMS), ...got.map((d): [number, ItemDraft] => [d.id!, d])]) };
  }

  private ways = $state.raw<ReadonlyMap<string, FeedWays>>(new Map());
  private waysOf = 0;
  private waysAsked = "";

  /** Has the ways to feed a field at hand, as they are for the plan as it stands. */
  private async askFeeds(wanted: { field: number; side: Side } | null, change: number) {
    if (!wanted) return;
    const key = `${wanted.field} ${wanted.side}`;
    if (this.waysOf === change && (this.ways.has(key) || this.waysAsked === key)) return;
    if (this.waysOf !== change) this.ways = new Map();
    [this.waysOf, this.waysAsked] = [change, key];
    try {
      const got = await api.getFeeds(wanted.field, wanted.side);
      if (this.waysOf === change) this.ways = new Map([...this.ways, [key, got]]);
    } catch {
      // It may be gone by now; the next wish asks again.
    } finally {
      if (this.waysAsked === key) this.waysAsked = "";
    }
  }

  private waiting: readonly ItemDraft[] | null = null;
  private trying = false;

  /** Tries drafts; one try is under way at a time, and the last wish counts. */
  private try(items: readonly ItemDraft[]) {
    if (items.length === 0) {
      this.waiting = null;
      if (this.tried !== NONE) this.tried = NONE;
      if (this.ghosts) this.ghosts = null;
      return;
    }
    this.waiting = items;
    if (!this.trying) void this.tries();
  }

  private async tries() {
    this.trying = true;
    let failed = 0;
    while (this.waiting) {
      const items = this.waiting;
      this.waiting = null;
      try {
        await this.tryOnce([...items]);
        failed = 0;
      } catch (error) {
        // Without an answer the strokes alone are shown; the plan says that there is no connection. Asked again until
        // there is one: what a tool looks for by trials would else stand still for good.
        if (!(error instanceof api.NoConnection)) continue;
        failed += 1;
        await new Promise((done) => setTimeout(done, Math.min(5_000, 250 * 2 ** failed)));
        if (!this.waiting && (this.sketch?.items.length ?? 0) > 0) this.waiting = items;
      }
    }
    this.trying = false;
  }

  private async tryOnce(items: ItemDraft[]) {
    const tried = await api.tryItems(items);
    // Nothing is shown of what was given up meanwhile.
    await tick();
    if ((this.sketch?.items.length ?? 0) === 0) return;
    // Told only of what is still on the board. A tool that goes on looking wants its next trial at once.
    if (this.tool.hears && !this.waiting) {
      this.tried = tried;
      this.press({ is: "tried", items: tried.items });
      await tick();
      if (this.waiting) return;
    }
    // Pieces that are too many to be shown, or that would not be taken, are not asked for.
    const shown = tried.refused === null && tried.items.reduce((sum, i) => sum + i.pieces, 0) <= GHOSTS;
    const ghosts = shown ? await api.tryPieces(items).catch(() => null) : null;
    await tick();
    if ((this.sketch?.items.length ?? 0) === 0) return;
    this.tried = tried;
    this.ghosts = ghosts;
  }
}

/** Where a piece of an item stands, as the floor shows it. */
function standing(item: number, piece: number): Standing | null {
  const pieces = hall.pieces;
  const row = pieces?.items.find((i) => i.id === item);
  if (!pieces || !row || piece < 0 || piece >= row.count) return null;
  const p = row.first + piece;
  return { at: [pieces.x[p]!, pieces.y[p]!], heading: (pieces.yaw[p]! * 180) / Math.PI, of: row.count };
}

export const board = new Board();
