/** The same pieces without WebGL: a box each, drawn on the flat canvas. */
import type { HallPieces } from "../../kernels/columns";
import { toScreen, type Size, type View } from "../../kernels/floor";
import { cellsOf, type Sizes } from "./sizes";

export function flat(g: CanvasRenderingContext2D, pieces: HallPieces, sizes: Sizes, view: View, size: Size, near: number, colour: (piece: number) => number) {
  const { table, row } = cellsOf(pieces, sizes);
  const ratio = devicePixelRatio;
  for (let p = 0; p < pieces.n; p++) {
    const [x, y] = toScreen(view, size, [pieces.x[p]!, pieces.y[p]!]);
    if (x < -50 || y < -50 || x > size.width + 50 || y > size.height + 50) continue;
    const at = 4 * row[p]!;
    if (at === 0) continue;
    const part = (i: number) => (table[at + i]! * (1 - near) + table[at + 2 + i]! * near) * view.scale;
    const [w, h] = [Math.max(0.6, part(0)), Math.max(0.6, part(1))];
    const [c, s] = [Math.cos(pieces.yaw[p]!), -Math.sin(pieces.yaw[p]!)];
    g.setTransform(ratio * c, ratio * s, -ratio * s, ratio * c, ratio * x, ratio * y);
    g.fillStyle = `#${colour(p).toString(16).padStart(6, "0")}`;
    g.fillRect(-w / 2, -h / 2, w, h);
  }
  g.setTransform(ratio, 0, 0, ratio, 0, 0);
}
