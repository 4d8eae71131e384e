/** Pointers and keys over the floor: they draw, choose, open, or move the view. */
import type { Attachment } from "svelte/attachments";
import { around, taken } from "../../kernels/floor";
import { gestures, type Spot } from "../../parts/gestures";
import { board } from "../../state/board.svelte";
import { built } from "../../state/built.svelte";
import { panels } from "../../state/panels.svelte";
import { plan } from "../../state/plan.svelte";
import { router } from "../../state/router.svelte";
import { boxAround, withGroup } from "../../tools/pick";
import type { FloorView } from "./floorview.svelte";
import type { Shown } from "./shown.svelte";

/** Pixels that an arrow moves the view, and with Shift; millimetres that it moves what is chosen. */
const STEP = { view: [60, 240], item: [1, 10], fine: 0.1 } as const;

export class Hands {
  /** Where the pointer is, in pixels; null while keys are used or it is elsewhere. */
  pointer = $state.raw<Spot | null>(null);
  /** Where the pointer is over the floor, whatever it does. */
  above = $state.raw<Spot | null>(null);
  /** The menu of what is chosen, or of the bare floor, and where it stands, pixels. */
  menu = $state.raw<{ at: Spot; of: "chosen" | "floor" } | null>(null);
  readonly on: Attachment<HTMLElement>;
  /** Where the pointer moved to last. */
  private last: Spot | null = null;

  /** `draws`: somebody can draw. `focus` gives the keys to the floor; `put` closes what was looked at. */
  constructor(
    private readonly view: FloorView,
    private readonly shown: Shown,
    private readonly can: { draws: () => boolean; focus: () => void; put: () => void },
  ) {
    this.on = gestures({
      drag: (by) => view.move(by),
      pinch: (by, at, factor) => view.pinch(by, at, factor),
      takes: (at, event) => {
        can.focus();
        // A mark of a finding is opened by who picks; whoever draws may mean the port that lies under it.
        if (!can.draws() || !view.now || (board.tool.id === "pick" && !board.busy && shown.markAt(at) >= 0)) return false;
        const spot = board.spot(view.place(at), event);
        if (board.lets(spot)) return false;
        this.pointer = at;
        board.pointed = true;
        board.press({ is: "down", spot });
        return true;
      },
      taken: (is, at, event) => {
        if (!view.now) return;
        this.pointer = event.pointerType === "touch" && is !== "drag" ? null : at;
        if (is === "stop") board.use(board.tool);
        else board.press({ is, spot: board.spot(view.place(at), event) });
      },
      hover: (at, event) => {
        // The browser tells of a pointer that lies still as well, when what is under it changes.
        const moved = this.last !== null && (this.last[0] !== at[0] || this.last[1] !== at[1]);
        this.last = at;
        if (!can.draws() || !view.now) return;
        this.pointer = at;
        if (moved) board.pointed = true;
        if (board.busy || board.tool.id !== "pick") board.press({ is: "hover", spot: board.spot(view.place(at), event) });
      },
      menu: (at) => this.openMenu(at),
      twice: () => can.draws() && board.busy && board.press({ is: "finish" }),
      click: (at) => this.pick(at),
      wheel: (at, event) => view.zoom(Math.exp(-event.deltaY * (event.ctrlKey ? 0.01 : 0.0016)), at),
    });
  }

  key(event: KeyboardEvent) {
    if (!this.view.now) return;
    if (event.key === "Control" || event.key === "Meta") board.held = true;
    if (event.key === "ContextMenu") {
      event.preventDefault();
      this.openMenu(null);
      return;
    }
    if (event.ctrlKey || event.metaKey) return;
    // Of what Alt does the floor takes the finest step alone.
    if (event.altKey && !(event.key.startsWith("Arrow") && this.can.draws() && board.tool.id === "pick" && board.chosen.length)) return;
    if (this.drawsBy(event) || this.movesBy(event)) event.preventDefault();
  }

  up(event: KeyboardEvent) {
    board.held = event.ctrlKey || event.metaKey;
  }

  /** The place that keys press: the middle of the floor. */
  private spot(event: KeyboardEvent) {
    const { x, y } = this.view.now!;
    return board.spot([x, y], event);
  }

  private drawsBy(event: KeyboardEvent): boolean {
    if (!this.can.draws()) return false;
    if (board.type(event.key)) return true;
    const picks = board.tool.id === "pick";
    if (event.key === "Enter" && !picks) {
      // Whoever draws by pointer ends by it; whoever draws by keys presses at the cross, and ends with Shift.
      if (event.shiftKey || (board.pointed && board.busy)) board.press({ is: "finish" });
      else {
        this.pointer = null;
        board.pointed = false;
        const spot = this.spot(event);
        board.press({ is: "down", spot });
        board.press({ is: "up", spot });
      }
    } else if (event.key === "Delete" && board.takes) board.press({ is: "take" });
    else if ((event.key === "Backspace" || event.key === "Delete") && board.busy) board.press({ is: "back" });
    else if ((event.key === "[" || event.key === "]") && picks && board.chosen.length === 1) board.press({ is: "step", by: event.key === "]" ? 1 : -1 });
    else if (event.key === "Enter" && board.busy) board.press({ is: "finish" });
    else if (event.key === "Escape") return board.leave();
    else if (event.key.startsWith("Arrow") && picks && board.chosen.length) {
      const step = event.altKey ? STEP.fine : STEP.item[event.shiftKey ? 1 : 0];
      const by = ({ ArrowLeft: [-step, 0], ArrowRight: [step, 0], ArrowUp: [0, step], ArrowDown: [0, -step] } as Record<string, [number, number]>)[event.key]!;
      if (board.busy) board.press({ is: "nudge", by });
      else void plan.do({ do: "arrange", items: [...board.chosen], how: { is: "move", by } });
    } else return false;
    return true;
  }

  private movesBy(event: KeyboardEvent): boolean {
    const step = STEP.view[event.shiftKey ? 1 : 0];
    const move = ({ ArrowLeft: [step, 0], ArrowRight: [-step, 0], ArrowUp: [0, step], ArrowDown: [0, -step] } as Record<string, [number, number]>)[event.key];
    if (move) {
      this.view.move(move);
      this.pointer = null;
      board.pointed = false;
      if (this.can.draws() && board.busy) board.press({ is: "hover", spot: this.spot(event) });
    } else if (event.key === "+" || event.key === "=") this.view.zoom(1.4);
    else if (event.key === "-") this.view.zoom(1 / 1.4);
    else if (event.key === "Home") this.view.fitAll();
    else if (event.key === "." || event.key === ",") this.goOn(event.key === "." ? 1 : -1);
    else if (event.key === "g" && this.shown.heat) built.setGaps(!built.gapsOpen);
    else if (event.key === "Enter") this.pick(this.view.middle);
    else if (event.key === "Escape") this.can.put();
    else return false;
    return true;
  }

  /** To the next item west to east, or the one before. */
  private goOn(step: 1 | -1) {
    const order = [...(plan.now?.items ?? [])].filter((i) => !board.hidden.has(i.id)).sort((a, b) => a.x - b.x || a.id - b.id);
    if (!order.length) return;
    const now = order.findIndex((i) => board.chosen.includes(i.id));
    const next = order[(now < 0 ? (step > 0 ? 0 : order.length - 1) : now + step + order.length) % order.length]!;
    board.choose([next.id]);
    const box = around(taken(next))!;
    this.view.go([(box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2], false);
  }

  /** Does something as if the pointer were where the menu was opened. */
  there(at: Spot, run: () => void) {
    const { above } = this;
    this.above = at;
    run();
    this.above = above;
  }

  /** The menu at a place that was pressed: of what lies there, or of the bare floor. By keys, that of what is chosen, where something is. */
  openMenu(at: Spot | null) {
    if (!this.can.draws() || !this.view.now || !board.env || board.busy) return;
    const on = at ? board.hit(this.view.place(at)) : null;
    if (on && !board.chosen.includes(on.item)) board.choose(withGroup(on.item, board.env));
    if (board.chosen.length === 0 || (at && !on)) {
      this.menu = { at: at ?? this.above ?? this.view.middle, of: "floor" };
      return;
    }
    const box = boxAround(board.rows);
    this.menu = { at: at ?? (box ? this.view.spot([(box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2]) : this.view.middle), of: "chosen" };
  }

  private pick(at: Spot) {
    if (!this.view.now) return;
    const mark = this.shown.markAt(at);
    if (mark >= 0) {
      router.go(`/plan?finding=${mark}`, true);
    } else if (this.can.draws() || (this.view.phone && !this.shown.heat)) {
      const on = board.hit(this.view.place(at));
      board.choose(on ? [on.item] : []);
      if (this.view.phone) panels.set("inspector", on !== null);
    } else {
      const piece = this.shown.pieceAt(at);
      if (piece !== null) void this.shown.chosen.choose(piece);
    }
  }
}
