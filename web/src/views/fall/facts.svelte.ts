/** What the view knows of the fall: worked out once for each state of the plan, never while it plays. */
import type { PieceName } from "../../api/generated/PieceName";
import type { StandsRow } from "../../api/generated/StandsRow";
import { eased, frontSteps } from "../../kernels/front";
import { stallTimes, type Moment } from "../../kernels/moments";
import { slopesOf } from "../../kernels/slopes";
import { motion, orderOf, perStep, spans } from "../../kernels/topple";
import { hall, role } from "../../state/hall.svelte";
import { plan } from "../../state/plan.svelte";
import { num, t } from "../../state/say.svelte";
import { body } from "../plan/sizes";
import type { FallScene } from "./scene";

/** Reasons that say where the fall stops; the others follow from them, or nothing was meant to fall there. */
const STOPS = (s: StandsRow) => s.why !== "no-start" && s.why !== "not-fed" && s.why !== "after-stall";
/** A second after the last hit all lie. */
const REST = 1;

export class FallFacts {
  readonly order = $derived(hall.fall ? orderOf(hall.fall.hit) : new Uint32Array(0));
  /** Times of all hits in order, µs. */
  readonly sorted = $derived.by(() => {
    const hit = hall.fall?.hit;
    return hit ? this.order.map((p) => hit[p]!) : new Uint32Array(0);
  });
  /** Placeholders through which it runs, at the middle of their times. */
  private readonly passes = $derived((hall.report?.passes ?? []).map((p) => ({ id: p.item, from: (p.from[0] + p.from[1]) / 2, to: (p.to[0] + p.to[1]) / 2 })));
  readonly end = $derived(hall.fall && this.sorted.length ? Math.max(hall.fall.last / 1e6, ...this.passes.map((p) => p.to)) + REST : 0);
  readonly step = $derived(this.end > 240 ? 2 : this.end > 30 ? 1 : 0.25);
  readonly bars = $derived(perStep(this.sorted, this.step));
  readonly rows = $derived(
    hall.pieces && hall.fall ? [...spans(hall.pieces, hall.fall), ...this.passes].map((s) => ({ ...s, name: plan.itemName(s.id), pieces: plan.items.get(s.id)?.pieces ?? 0 })).sort((a, b) => a.from - b.from) : [],
  );
  readonly nostart = $derived(hall.report !== null && hall.report.starts === 0);
  /** What stays standing, and when the fall comes nearest to it, s; the end where it never does. */
  readonly stands = $derived.by(() => {
    const report = hall.report;
    if (!report || !hall.pieces || !hall.fall) return [];
    const at = stallTimes(hall.pieces, hall.fall, report.stands.map((s) => s.at));
    return report.stands.map((row, i) => ({ row, stop: STOPS(row), at: at[i] ?? this.rows.find((r) => r.id === row.item)?.to ?? this.end }));
  });
  readonly stalls = $derived(this.stands.filter((s) => s.stop).sort((a, b) => a.at - b.at));
  /** The first place where the fall stops; where it stops nowhere, the first that it never reaches. */
  readonly firstStall = $derived(this.stalls[0] ?? this.stands[0] ?? null);
  readonly moments = $derived<Moment[]>(
    [
      ...this.rows.flatMap((r): Moment[] => [{ at: r.from, is: "enters", item: r.id }, { at: r.to, is: "leaves", item: r.id }]),
      ...this.stalls.map((s): Moment => ({ at: s.at, is: "stall", item: s.row.item })),
    ].sort((a, b) => a.at - b.at),
  );
  private readonly steps = $derived(hall.pieces && hall.fall && this.order.length ? frontSteps(hall.pieces, hall.fall, this.order) : null);

  /** The path of the front, smoother the faster it is watched. */
  front(speed: number) {
    return this.steps && eased(this.steps, Math.max(0.8, 0.8 * speed));
  }

  /** Moments at a time, in words; empty between them. */
  said(seconds: number): string {
    const words: Record<Moment["is"], "moment.enters" | "moment.leaves" | "moment.stall"> = { enters: "moment.enters", leaves: "moment.leaves", stall: "moment.stall" };
    const now = this.moments.filter((m) => Math.abs(m.at - seconds) < 1e-3);
    return [...new Set(now.map((m) => t(words[m.is], { item: plan.itemName(m.item) })))].slice(0, 3).join(" · ");
  }

  /** Hits that may fail, with why in words. */
  readonly unsure = $derived((hall.report?.unsure ?? []).map((row) => ({ row, place: this.piece(row.piece), why: t(`doubt.${row.why}`, { by: row.by ? this.piece(row.by) : "" }) })));

  /** "River, lane 1, piece 4". */
  private piece(p: PieceName): string {
    return t("fall.piece", { item: plan.itemName(p.item), lane: num(p.lane), rank: num(p.rank) });
  }

  /** "Lanes 3–5 of Mill." */
  place(s: StandsRow): string {
    const lanes = s.lanes.slice(0, 4).map(([a, b]) => (a === b ? num(a) : `${num(a)}–${num(b)}`)).join(", ") + (s.lanes.length > 4 ? " …" : "");
    const one = s.lanes.length === 1 && s.lanes[0]![0] === s.lanes[0]![1];
    return t(one ? "fall.lane" : "fall.lanes", { lanes, item: plan.itemName(s.item) });
  }

  /** What stands on slopes. */
  readonly slopes = $derived(hall.pieces && plan.state ? slopesOf(hall.pieces, plan.state.items, plan.state.surfaces) : null);

  /** How each piece comes to rest. */
  private readonly moves = $derived.by(() => {
    if (!hall.pieces || !hall.fall) return null;
    const kinds = new Map((plan.state?.kinds ?? []).map((k) => [k.id, k]));
    const known = new Map<number, { thickness: number; height: number }>();
    const upright = (kind: number, pose: number) => {
      const key = kind * 4 + pose;
      let size = known.get(key);
      if (!size) {
        const [thickness, , height] = body(kinds.get(kind), pose);
        known.set(key, (size = { thickness, height }));
      }
      return size;
    };
    const finder = hall.finder;
    return motion(hall.pieces, hall.fall, upright, this.order, (x, y, within) => finder?.nearest(x, y, within) ?? null, this.slopes);
  });

  /** Gives a scene everything there is; false while something of it is missing. */
  load(scene: FallScene): boolean {
    if (!hall.pieces || !plan.state || (hall.times && !hall.fall)) return false;
    const tones = { scene: role("scene"), second: role("scene-2"), line: role("scene-line"), text: role("scene-text"), must: role("scene-must"), lamp: role("tape") };
    scene.load({ pieces: hall.pieces, times: hall.fall, motion: this.moves, slopes: this.slopes, state: plan.state, tones, known: this.sorted.length > 0 });
    return true;
  }
}
