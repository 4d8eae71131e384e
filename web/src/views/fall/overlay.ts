/** What is written over the scene: names on tape, what stays standing with its count, the chosen piece. */
import type { FallReport } from "../../api/generated/FallReport";
import type { State } from "../../api/generated/State";
import { brief, ON_TAPE } from "../../kernels/brief";
import { NEVER, type FallTimes, type HallPieces } from "../../kernels/columns";
import type { Size, View } from "../../kernels/floor";
import { DIM, packed } from "../../kernels/swatch";
import type { Covered } from "../../parts/drawing.svelte";
import { role } from "../../state/hall.svelte";
import { tn } from "../../state/say.svelte";
import { flat } from "../plan/flat";
import { frame, tape, tapeWidth } from "../plan/floor";
import type { Sizes } from "../plan/sizes";

/** Groups that stay standing and get a tape, largest first. */
const TAPES = 12;
const INK_ON_MUST = "#220500";

export type Project = (x: number, y: number, z: number) => [number, number] | null;

/** Names where there is room for them; what stays standing first. `taken` are boxes that are covered by something else. */
export function names(g: CanvasRenderingContext2D, size: Size, project: Project, state: State, stands: FallReport["stands"], taken: Covered[]) {
  const put = (x: number, y: number, z: number, words: string, fill: string, ink: string) => {
    const at = project(x, y, z);
    if (!at || at[0] < 0 || at[1] < 20 || at[0] > size.width - 40 || at[1] > size.height) return;
    const w = tapeWidth(g, words);
    const [left, top] = [Math.min(at[0], size.width - w - 4), at[1] - 22];
    if (taken.some(([a, b, c, d]) => left < c && left + w > a && top < d && top + 22 > b)) return;
    taken.push([left, top, left + w, top + 22]);
    tape(g, left, top, words, fill, ink);
  };
  const most = [...stands].sort((a, b) => b.pieces - a.pieces).slice(0, TAPES);
  for (const s of most) put(s.at[0], s.at[1], 80, tn("fall.stay", s.pieces), role("scene-must"), INK_ON_MUST);
  for (const item of state.items) {
    if (item.sort === "feed" || !item.outline.length) continue;
    const [a, c] = [item.outline[0]!, item.outline[2]!];
    put((a[0] + c[0]) / 2, Math.max(a[1], c[1]), 90, brief(item.name, ON_TAPE), role("scene-line"), role("scene-text"));
  }
}

export function around(g: CanvasRenderingContext2D, project: Project, pieces: HallPieces, piece: number) {
  const at = project(pieces.x[piece]!, pieces.y[piece]!, pieces.z[piece]!);
  if (at) frame(g, at, 28, 40, role("tape"));
}

export interface Told {
  pieces: HallPieces;
  times: FallTimes | null;
  state: State;
  sizes: Sizes;
  /** Something falls at all. */
  falls: boolean;
}

/** Without WebGL: the same from above; what has fallen is dim, what stays standing red. */
export function fromAbove(g: CanvasRenderingContext2D, size: Size, view: View, told: Told, { seconds, dim }: { seconds: number; dim: number }) {
  const { pieces, times, state, sizes, falls } = told;
  const colours = (share: number) => new Map(state.colours.map((c) => [c.id, packed(c.back, share)]));
  const [upright, lying, must] = [colours(dim), colours(dim / 2), packed(role("scene-must"))];
  const us = seconds * 1e6;
  const colour = (p: number) => {
    const hit = times?.hit[p] ?? NEVER;
    if (falls && hit === NEVER) return must;
    return (hit <= us ? lying : upright).get(pieces.colour[p]!) ?? 0x808080;
  };
  flat(g, pieces, sizes, view, size, 0, colour);
}

/** How bright the scene is: dimmed beside a projector, at half light while it is of an older plan. */
export const brightness = (look: string, stale: boolean): number => (look === "hall" ? DIM : 1) * (stale ? 0.5 : 1);
