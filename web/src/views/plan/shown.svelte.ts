/** What the floor shows: pieces in their colours or by what a touch takes, findings in place, gaps, and what is being drawn. */
import { untrack } from "svelte";
import { brief, ON_TAPE } from "../../kernels/brief";
import { itemOf } from "../../kernels/columns";
import type { Pair, View } from "../../kernels/floor";
import { gapPlace } from "../../kernels/built";
import { CLASSES, heatClass, worst } from "../../kernels/heat";
import { DIM, ink, packed } from "../../kernels/swatch";
import { covered, Drawing, surface } from "../../parts/drawing.svelte";
import { board } from "../../state/board.svelte";
import { built } from "../../state/built.svelte";
import { Chosen, pieceItem } from "../../state/chosen.svelte";
import { hall, role } from "../../state/hall.svelte";
import { plan, type FieldItem } from "../../state/plan.svelte";
import { prefs } from "../../state/prefs.svelte";
import { len, num, t, tapedLen } from "../../state/say.svelte";
import { shift } from "../../state/shift.svelte";
import { taped } from "../../state/taped.svelte";
import { handle } from "../../tools/pick";
import { flat } from "./flat";
import { drawOver, drawUnder, frame, type GapMark, type Ink, type Mark } from "./floor";
import type { FloorView } from "./floorview.svelte";
import type { PiecesAbove } from "./pieces";
import { nearness, sizesKey, sizesOf } from "./sizes";
import { drawMoved, drawSketch, drawWaiting } from "./sketch";
import { drawTaped } from "./taped";

/** A view that did not move for so long rests: then many pieces are drawn anew at its scale, ms. */
const REST = 150;
/** A mark of a finding is pressed within so many pixels. */
const MARK = 16;
/** Most pieces that carry their codes at once, and the pitch from which on they do, pixels. */
const CODES = { most: 6_000, pitch: 16 };

/** The canvases, and what the hands hold over them. */
export interface Ground {
  room: HTMLElement;
  under: HTMLCanvasElement;
  over: HTMLCanvasElement;
  /** Somebody can draw. */
  draws: boolean;
  /** The place that keys press is shown. */
  cross: boolean;
  /** Where a picture would go that is dropped now. */
  dropOn: FieldItem | "new" | null;
}

export class Shown {
  /** Pieces are coloured by what a touch of them takes. */
  heat = $state(false);
  readonly chosen = new Chosen(() => (this.heat ? built.query : ""));
  readonly drawing = new Drawing<PiecesAbove>(() => import("./pieces").then((m) => m.PiecesAbove));
  private rested = 0;

  /** `finding` is the one that is looked at. */
  constructor(
    private readonly view: FloorView,
    private readonly finding: () => number | null,
  ) {}

  readonly pieces = $derived(hall.pieces);
  private readonly gone = $derived(plan.drafts.flatMap((d) => (d.id > 0 && !d.row ? [d.id] : [])));
  /** Items whose pieces are not shown: hidden ones, those that a change takes away that the plan does not tell of yet, and those that stand elsewhere by what waits for the connection. */
  private readonly away = $derived<ReadonlySet<number>>(this.gone.length || plan.elsewhere.size ? new Set([...board.hidden, ...this.gone, ...plan.elsewhere]) : board.hidden);
  // By what they are made of and not by every new state of the plan: most changes leave them, and then no piece is loaded or
  // painted anew.
  private readonly sized = $derived(plan.state && sizesKey(plan.state.items, plan.state.kinds, this.away));
  readonly sizes = $derived(this.sized === null ? null : untrack(() => sizesOf(plan.state!.items, plan.state!.kinds, this.away)));
  private readonly coloured = $derived(plan.state?.colours);
  readonly findings = $derived(plan.findings);
  /** Items that are being drawn anew: what was found of them before is of no use any more. */
  private readonly redrawn = $derived(new Set((board.sketch?.items ?? []).map((i) => i.id)));
  private readonly marks = $derived<Mark[]>([
    ...this.findings.flatMap((f, i) => (f.at && !(f.item !== null && (this.redrawn.has(f.item) || board.hidden.has(f.item))) ? [{ at: f.at, severity: f.severity, chosen: i === this.finding() }] : [])),
    ...(this.redrawn.size ? board.tried.findings.flatMap((f) => (f.at ? [{ at: f.at, severity: f.severity, chosen: false }] : [])) : []),
  ]);
  readonly counts = $derived(this.heat ? hall.losses : null);
  /** The worst place of each item, worst first. */
  readonly worst = $derived(this.counts && this.pieces ? worst(this.counts.most, this.pieces.items) : []);
  private readonly labels = $derived(new Map(this.pieces && !hall.counting ? this.worst.map((w) => [itemOf(this.pieces!, w.piece)!, `${brief(pieceItem(w.piece), ON_TAPE)} ${num(w.count)}`]) : []));
  private readonly unbuilt = $derived(new Set(this.heat ? built.items.filter((i) => !built.stands(i.id)).map((i) => i.id) : []));
  /** The gaps of what stands, while they are open. */
  private readonly gapMarks = $derived<GapMark[]>(
    this.heat && built.gapsOpen && plan.state
      ? (hall.gaps?.gaps ?? []).flatMap((g) => {
          const at = built.stands(g.item) && g.pieces > 0 ? gapPlace(plan.items.get(g.item)?.gaps[g.gap]) : null;
          return at ? [{ at, holds: g.holds, words: g.open === null ? t(`gap.${g.holds}`) : t("gap.mark", { holds: t(`gap.${g.holds}`), open: len(g.open) }) }] : [];
        })
      : [],
  );

  /** Loads and paints what changes, and draws when anything of it does. `ground` is null until its canvases are there. */
  keep(ground: () => Ground | null) {
    hall.keep(() => (this.heat ? ["pieces", "touch", "gaps"] : board.tool.id === "gap" ? ["pieces", "gaps"] : ["pieces"]));
    $effect(() => {
      const { by } = this.drawing;
      if (by && this.pieces && this.sizes) by.load(this.pieces, this.sizes);
    });
    $effect(() => {
      void [prefs.look, this.coloured];
      const { by } = this.drawing;
      if (by && this.pieces && this.sizes) by.paint(this.colours());
    });
    $effect(() => {
      const on = ground();
      const view = this.view.now;
      if (!plan.state || !view || !on || this.view.width === 0) return;
      void [this.drawing.by, this.pieces, this.marks, this.labels, this.gapMarks, this.unbuilt, this.heat, prefs.look, this.counts, this.chosen.piece, this.chosen.info];
      void [board.sketch, board.rows, board.ghosts, board.met, board.hidden, shift.tried, taped.told, plan.drafts, plan.now];
      const frame = requestAnimationFrame(() => this.draw(on, view));
      return () => {
        cancelAnimationFrame(frame);
        clearTimeout(this.rested);
      };
    });
  }

  /** The finding whose mark lies at a place of the screen, or -1. */
  markAt([x, y]: Pair): number {
    if (!this.view.now) return -1;
    return this.findings.findIndex((f) => {
      if (!f.at) return false;
      const [mx, my] = this.view.spot(f.at);
      return Math.hypot(mx - x, my - y) < MARK;
    });
  }

  /** The piece at a place of the screen: the nearest one that a finger can mean. */
  pieceAt(at: Pair): number | null {
    const [x, y] = this.view.place(at);
    return hall.finder?.nearest(x, y, Math.max(14, 14 / (this.view.now?.scale ?? 1))) ?? null;
  }

  private inks(): Ink {
    const { heat } = this;
    return {
      floor: role(heat ? "scene" : "floor"), mark: role(heat ? "scene-2" : "floor-mark"), edge: role(heat ? "scene-line" : "hall-edge"), line: role(heat ? "scene-2" : "grid"),
      text: role(heat ? "scene-text" : "text"), dim: role(heat ? "scene-text" : "text-3"), tape: role("tape"), onTape: role("on-tape"), plain: role(heat ? "scene-line" : "tape-plain"),
      must: role("scene-must"), onMust: role("on-must"), should: role("tape-2"), ok: role("ok-fill"), stroke: role("scene-text"),
    };
  }

  /** The colour of each piece: its own, or the class of what a touch takes. */
  private colours(): (piece: number) => number {
    if (this.counts) {
      const classes = CLASSES.map((_, i) => packed(role(`heat-${i}`)));
      const nothing = packed(role("scene-2"));
      const { most } = this.counts;
      return (p) => (most[p] ? classes[heatClass(most[p])]! : nothing);
    }
    const dim = prefs.look === "hall" ? DIM : 1;
    const own = new Map((this.coloured ?? []).map((c) => [c.id, packed(c.back, dim)]));
    const column = this.pieces!.colour;
    return (p) => own.get(column[p]!) ?? 0x808078;
  }

  private draw(on: Ground, v: View) {
    const whole = plan.now;
    const { size } = this.view;
    const { sizes, pieces } = this;
    const [a, b] = [surface(on.under, size), surface(on.over, size)];
    if (!whole || !a || !b) return;
    // Without the items that are hidden.
    const state = board.hidden.size ? { ...whole, items: whole.items.filter((i) => !board.hidden.has(i.id)) } : whole;
    const with_ = this.inks();
    drawUnder(a, state, v, size, with_);
    const near = nearness(v.scale * (sizes?.least ?? 15));
    const { by } = this.drawing;
    if (by?.draw(v, size, near)) this.rested = window.setTimeout(() => by.draw(v, size, near, true), REST);
    else if (this.drawing.failed && pieces && sizes) flat(a, pieces, sizes, v, size, near, this.colours());
    drawOver(b, state, v, size, with_, { marks: this.marks, labels: this.labels, gaps: this.gapMarks, unbuilt: this.unbuilt, covered: covered(on.room), hidden: board.hidden, length: len });
    if (!this.heat) this.codes(b, v);
    if (on.draws) this.drawn(b, v, with_, on);
    const p = this.chosen.piece;
    if (p === null || !pieces || !sizes || p >= pieces.n) return;
    const [along, across] = sizes.piece(pieces.kind[p]!, pieces.pose[p]!).map((mm) => Math.max(14, mm * v.scale + 8)) as [number, number];
    frame(b, this.view.spot([pieces.x[p]!, pieces.y[p]!]), along, across, role("tape"), pieces.yaw[p]!);
  }

  /** What is being drawn and what is chosen. */
  private drawn(g: CanvasRenderingContext2D, v: View, with_: Ink, { cross, dropOn }: Ground) {
    const { size } = this.view;
    const picks = board.tool.id === "pick";
    drawWaiting(g, v, size, with_, plan.drafts.filter((d) => !board.hidden.has(d.id)));
    if (taped.told) drawTaped(g, v, size, with_, taped.told, tapedLen);
    if (board.sketch && board.env)
      drawSketch(g, v, size, with_, {
        sketch: board.sketch, chosen: dropOn !== null && dropOn !== "new" ? [...board.rows, plan.items.get(dropOn.id) ?? []].flat() : board.rows, ghosts: board.ghosts, kinds: plan.state?.kinds ?? [], met: board.busy || !picks ? board.met : null,
        handle: picks && !board.busy ? handle(board.env) : null, cross: cross ? [v.x, v.y] : null,
        colour: (id) => plan.colour(id)?.back ?? "#808078",
      });
    if (shift.on && shift.tried) drawMoved(g, v, size, with_, shift.tried.items);
  }

  /** Codes of colours on pieces that are large enough to carry them. */
  private codes(g: CanvasRenderingContext2D, v: View) {
    const { pieces, sizes } = this;
    const pitch = v.scale * (sizes?.least ?? 0);
    // The finder is made when it is first asked for: not for pieces too small to carry a code.
    if (!pieces || pitch < CODES.pitch || !hall.finder) return;
    const [x0, y1] = this.view.place([0, 0]);
    const [x1, y0] = this.view.place([this.view.width, this.view.height]);
    const found = hall.finder.inside({ x0, y0, x1, y1 }, CODES.most);
    if (!found) return;
    g.textAlign = "center";
    g.textBaseline = "middle";
    g.font = `700 ${Math.round(Math.min(18, pitch * 0.62))}px "Atkinson Next", system-ui, sans-serif`;
    for (const p of found) {
      const colour = plan.colour(pieces.colour[p]!);
      if (!colour || (this.away.size && this.away.has(itemOf(pieces, p) ?? 0))) continue;
      const [x, y] = this.view.spot([pieces.x[p]!, pieces.y[p]!]);
      g.fillStyle = ink(colour.back, prefs.look === "hall");
      g.fillText(colour.code, x, y);
    }
  }
}
