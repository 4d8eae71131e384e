/** The cells of a field while they are edited: tool, colour, choice, what is being drawn, and what was sent. */
import * as api from "../api/client";
import type { Change } from "../api/generated/Change";
import type { DrawnWith } from "../api/generated/DrawnWith";
import {
  brushed, chosen, cut, flipped, flood, joined, lasso, line, mirrored, moreOf, rectangle, sameColour, stamped, toRuns, toStrokes, turned,
  type Joining, type Mask, type Patch, type Size, type Spot, type Symmetry,
} from "../kernels/cells";
import { cellAt } from "../kernels/grid";
import { jobs } from "./jobs.svelte";
import { outbox } from "./outbox.svelte";
import { plan, type FieldItem } from "./plan.svelte";
import { tn } from "./say.svelte";
import { toasts } from "./toasts.svelte";

export const DRAWING = ["brush", "line", "rectangle", "fill", "replace", "stamp"] as const;
export const CHOOSING = ["box", "lasso", "same"] as const;
export type Tool = (typeof DRAWING)[number] | (typeof CHOOSING)[number] | "pick" | "hand";
/** A colour id, 0 for no piece, null for release. */
export type Paint = number | null;
export type Drawn = ReadonlyMap<number, Paint>;

export const WIDTHS = [1, 2, 3, 5, 9] as const;
export const JOININGS = ["new", "add", "subtract"] as const;
export const SYMMETRIES = ["none", "sides", "ends", "both"] as const;
const NOTHING: Drawn = new Map();

export class CellEditor {
  tool = $state<Tool>("brush");
  paint = $state<Paint>(0);
  width = $state<number>(1);
  symmetry = $state<Symmetry>("none");
  joining = $state<Joining>("new");
  filled = $state(true);
  /** Colour ids in picture order; null until they have come. */
  cells = $state.raw<Uint16Array | null>(null);
  /** The look of the field to which the cells belong. */
  look = $state("");
  /** 1 where a cell was set by hand, in picture order. */
  byHand = $state.raw<Mask | null>(null);
  choice = $state.raw<Mask | null>(null);
  patch = $state.raw<Patch | null>(null);
  cursor = $state.raw<Spot>([0, 0]);
  /** Where the stroke went so far; null while nothing is drawn. */
  path = $state.raw<readonly Spot[] | null>(null);
  /** Cells that were sent and are not in `cells` yet. */
  private layers = $state.raw<readonly { change: Change; drawn: Drawn }[]>([]);
  private readonly sent: Drawn = $derived.by(() => {
    const stand = this.layers.filter((l) => !outbox.back.has(l.change));
    return stand.length === 0 ? NOTHING : new Map(stand.flatMap((l) => [...l.drawn]));
  });
  private flying = 0;
  private before: Tool = "brush";
  private asked = 0;

  constructor(readonly field: () => FieldItem) {
    const b = field().body;
    this.cursor = [b.columns >> 1, b.rows >> 1];
    this.paint = plan.state?.colours[0]?.id ?? 0;
  }

  readonly size: Size = $derived.by(() => ({ columns: this.field().body.columns, rows: this.field().body.rows }));
  readonly chosenCells = $derived(chosen(this.choice));
  /** What the stroke sets if it ends here. */
  readonly drawing: Drawn = $derived.by(() => (this.path === null ? NOTHING : this.stroke(this.path)));
  /** Everything that is not in `cells` yet. */
  readonly pending: Drawn = $derived.by(() => (this.sent.size === 0 ? this.drawing : new Map([...this.sent, ...this.drawing])));
  /** What the stamp would set at the cursor. */
  readonly ghost: Drawn = $derived.by(() => (this.tool === "stamp" && this.patch && this.path === null ? this.images(stamped(this.patch, this.cursor, this.size)) : NOTHING));
  /** The choice as it would be if the stroke ended here. */
  readonly shownChoice: Mask | null = $derived.by(() => {
    if (this.path === null || (this.tool !== "box" && this.tool !== "lasso" && !(this.tool === "stamp" && !this.patch))) return this.choice;
    return this.tool === "stamp" ? joined(null, this.area(this.path), "new", this.size) : joined(this.choice, this.area(this.path), this.joining, this.size);
  });

  /** Needed, left and short of the chosen colour, with what is being drawn; null for no piece and release. */
  readonly counts = $derived.by(() => {
    const { paint } = this;
    if (!paint || !this.cells) return null;
    const rows = (plan.stock?.rows ?? []).filter((r) => r.colour === paint);
    const row = rows.find((r) => r.takers.some(([item]) => item === this.field().id)) ?? rows[0];
    const needed = (row?.needed ?? 0) + moreOf(paint, this.pending, this.cells);
    const usable = row?.usable ?? 0;
    return { needed, left: Math.max(0, usable - needed), short: Math.max(0, needed - usable) };
  });

  /** Fetches the cells anew. Answers that come late are left aside. */
  async load() {
    const { id, body } = this.field();
    const mine = ++this.asked;
    const count = this.size.columns * this.size.rows;
    const [cells, hand] = await Promise.all([api.getCells(id, body.look), api.getByHand(id)]);
    // The grid may have changed meanwhile; the next answer is for it.
    if (mine !== this.asked || cells.length !== count || hand.length !== count) return;
    const [colours, marks] = [new Uint16Array(count), new Uint8Array(count)];
    for (let i = 0; i < count; i++) {
      const at = this.order(i);
      colours[i] = cells[at]!;
      marks[i] = hand[at]!;
    }
    if (this.choice && this.choice.length !== count) this.choice = null;
    const { columns, rows } = this.size;
    this.cursor = [Math.min(columns - 1, this.cursor[0]), Math.min(rows - 1, this.cursor[1])];
    [this.cells, this.byHand, this.look] = [colours, marks, body.look];
    // What is still on its way is not among them.
    if (this.flying === 0 && outbox.count === 0) this.layers = [];
  }

  /** The number of a cell on the wire: lane by lane. */
  private order(cell: number): number {
    return cellAt(this.field().body, cell % this.size.columns, Math.floor(cell / this.size.columns));
  }

  index(at: Spot): number {
    return at[1] * this.size.columns + at[0];
  }

  /** The colour at a spot, as it will be once everything has arrived. */
  colourAt(at: Spot): number {
    const i = this.index(at);
    return this.pending.get(i) ?? this.cells?.[i] ?? 0;
  }

  use(tool: Tool) {
    this.cancel();
    if (tool !== "pick" && tool !== "hand") this.before = tool;
    this.tool = tool;
  }

  /** The tool that was in use before the last look around or pick. */
  back() {
    this.use(this.before);
  }

  choosePaint(paint: Paint) {
    this.paint = paint;
    if (this.tool === "pick" || this.tool === "hand" || CHOOSING.some((t) => t === this.tool)) this.use("brush");
  }

  nextPaint(by: 1 | -1) {
    const all: Paint[] = [...(plan.state?.colours ?? []).map((c) => c.id), 0, null];
    this.paint = all[(all.indexOf(this.paint) + by + all.length) % all.length] ?? 0;
  }

  nextWidth(by: 1 | -1) {
    const at = WIDTHS.findIndex((w) => w === this.width) + by;
    this.width = WIDTHS[Math.min(WIDTHS.length - 1, Math.max(0, at))]!;
  }

  nextJoining() {
    this.joining = JOININGS[(JOININGS.indexOf(this.joining) + 1) % JOININGS.length]!;
  }

  nextSymmetry() {
    this.symmetry = SYMMETRIES[(SYMMETRIES.indexOf(this.symmetry) + 1) % SYMMETRIES.length]!;
  }

  // Strokes: by pointer, and by keys at the cursor.

  begin(at: Spot) {
    this.cursor = at;
    this.path = [at];
  }

  move(to: Spot) {
    const { path } = this;
    this.cursor = to;
    if (!path) return;
    const last = path.at(-1)!;
    if (last[0] === to[0] && last[1] === to[1]) return;
    this.path = this.tool === "brush" || this.tool === "lasso" ? [...path, to] : [path[0]!, to];
  }

  /** Ends the stroke: what it drew goes to the plan, or what it went around is chosen. */
  async end() {
    const { path, tool } = this;
    if (!path) return;
    const drawn = this.drawing;
    const at = path.at(-1)!;
    if (tool === "pick") {
      const colour = this.colourAt(at);
      this.path = null;
      this.paint = colour;
      this.back();
    } else if (tool === "box" || tool === "lasso") {
      this.choice = this.shownChoice;
      this.path = null;
      if (this.chosenCells === 0) this.choice = null;
    } else if (tool === "same") {
      this.choice = joined(this.choice, sameColour(this.cells ?? [], this.colourAt(at)), this.joining, this.size);
      this.path = null;
    } else if (tool === "stamp" && !this.patch) {
      this.patch = cut(this.cells ?? [], this.size, this.shownChoice!);
      this.path = null;
    } else {
      this.path = null;
      await this.send(drawn, tool === "hand" ? "brush" : tool);
    }
  }

  /** Stops what is half done; false when nothing was. */
  cancel(): boolean {
    const was = this.path !== null;
    this.path = null;
    return was;
  }

  /** One step back from whatever is going on: the stroke, the patch, the choice. */
  stop() {
    if (this.cancel()) return;
    if (this.tool === "stamp" && this.patch) this.patch = null;
    else if (this.tool === "pick" || this.tool === "hand") this.back();
    else this.choice = null;
  }

  /** What Enter does: dabs, begins or ends. Strokes with two ends want it twice. */
  async act() {
    const twice = this.tool === "line" || this.tool === "rectangle" || this.tool === "box" || this.tool === "lasso" || (this.tool === "stamp" && !this.patch);
    if (this.path === null) {
      this.begin(this.cursor);
      if (twice) return;
    }
    await this.end();
  }

  /** Puts the brush down, or lifts it, so that the cursor draws as it moves. */
  async pen() {
    if (this.path) return this.end();
    if (this.tool === "brush") this.begin(this.cursor);
    else await this.act();
  }

  go(by: Spot) {
    const to = (at: number, step: number, n: number) => Math.min(n - 1, Math.max(0, at + step));
    this.move([to(this.cursor[0], by[0], this.size.columns), to(this.cursor[1], by[1], this.size.rows)]);
  }

  /** Cells that the present path goes over or around. */
  private area(path: readonly Spot[]): Set<number> {
    const [from, to] = [path[0]!, path.at(-1)!];
    if (this.tool === "lasso") return lasso(path, this.size);
    return rectangle(from, to, this.size);
  }

  private stroke(path: readonly Spot[]): Drawn {
    const { cells, paint, size } = this;
    if (!cells) return NOTHING;
    const [from, to] = [path[0]!, path.at(-1)!];
    const one = (set: Iterable<number>) => this.images(new Map([...set].map((cell) => [cell, paint])));
    switch (this.tool) {
      case "brush":
        return one(brushed(path, this.width, size));
      case "line":
        return one(brushed(line(from, to), this.width, size));
      case "rectangle":
        return one(rectangle(from, to, size, this.filled));
      case "fill": {
        // Each image of the place fills the region that lies there.
        const seeds = mirrored(this.index(to), size, this.symmetry).map((cell): Spot => [cell % size.columns, Math.floor(cell / size.columns)]);
        return new Map(seeds.flatMap((seed) => [...flood(cells, size, seed, this.choice)].map((cell) => [cell, paint] as const)));
      }
      case "replace":
        return new Map([...sameColour(cells, cells[this.index(to)] ?? 0, this.choice)].map((cell) => [cell, paint]));
      case "stamp":
        return this.patch ? this.images(stamped(this.patch, to, size)) : NOTHING;
      default:
        return NOTHING;
    }
  }

  /** The cells with their mirror images, within the choice. */
  private images(drawn: Drawn): Drawn {
    const out = new Map<number, Paint>();
    for (const [cell, paint] of drawn) {
      for (const image of mirrored(cell, this.size, this.symmetry)) if (!this.choice || this.choice[image] === 1) out.set(image, paint);
    }
    return out;
  }

  private async send(drawn: Drawn, using: DrawnWith) {
    if (drawn.size === 0) return;
    const strokes = toStrokes(drawn, (cell) => this.order(cell));
    const change: Change = { do: "draw", item: this.field().id, with: using, strokes };
    this.layers = [...this.layers, { change, drawn }];
    this.flying += 1;
    const done = await plan.do(change);
    this.flying -= 1;
    // Without a connection it waits to be sent, and stays in sight.
    if (!done && outbox.count === 0) this.layers = [];
  }

  // What is done with the chosen cells.

  private *those(): Iterable<number> {
    const { choice } = this;
    if (choice) for (let i = 0; i < choice.length; i++) if (choice[i] === 1) yield i;
  }

  chooseAll() {
    this.choice = new Uint8Array(this.size.columns * this.size.rows).fill(1);
  }

  chooseByHand() {
    const { byHand } = this;
    if (byHand) this.choice = joined(this.choice, [...byHand.keys()].filter((i) => byHand[i] === 1), this.joining, this.size);
    if (this.chosenCells === 0) this.choice = null;
  }

  invert() {
    this.choice = Uint8Array.from(this.choice ?? new Uint8Array(this.size.columns * this.size.rows), (bit) => 1 - bit);
  }

  /** Sets the chosen cells; without a choice the cell at the cursor. */
  set(paint: Paint): Promise<void> {
    const cells = this.choice ? [...this.those()] : [this.index(this.cursor)];
    return this.send(new Map(cells.map((cell) => [cell, paint])), "selection");
  }

  /** Copies the chosen cells for the stamp. */
  copy() {
    if (!this.choice || !this.cells) return;
    this.patch = cut(this.cells, this.size, this.choice);
    // Else the stamp would only set where it was cut.
    this.choice = null;
    this.use("stamp");
  }

  turn() {
    if (this.patch) this.patch = turned(this.patch);
  }

  flip() {
    if (this.patch) this.patch = flipped(this.patch);
  }

  /** Matches the chosen cells again under the stock that is left; all others stay. */
  async matchAgain() {
    if (!this.choice) return;
    const n = this.chosenCells;
    const only = toRuns(Uint32Array.from(this.those(), (cell) => this.order(cell)).sort());
    await jobs.match({ items: [this.field().id], goal: null, fewer_changes: null, lay: true, only }, (why) => {
      if (why === null) toasts.say(tn("cells.matched", n), true);
      else toasts.trouble(why);
    });
  }
}
