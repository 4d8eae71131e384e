/** Where the front of the fall is at any time, smooth enough for a camera: a function of the time alone, so that films are the same again. */
import type { FallTimes, HallPieces } from "./columns";

/** Middle and spread of what is hit in each step of time; `x`, `y` and `wide` in mm. */
export interface Front {
  step: number;
  x: Float64Array;
  y: Float64Array;
  wide: Float64Array;
}

/** The most steps: an hour in eighths of a second. */
const MOST = 30_000;

/** Pieces by steps of time; one pass over all. `order` are the pieces that are hit, in order of time. */
export function frontSteps(pieces: HallPieces, times: FallTimes, order: Uint32Array): Front {
  const last = order.length ? times.hit[order.at(-1)!]! / 1e6 : 0;
  const step = Math.max(0.05, last / MOST);
  const n = Math.floor(last / step) + 1;
  const [x, y, wide] = [new Float64Array(n), new Float64Array(n), new Float64Array(n)];
  let i = 0;
  for (let k = 0; k < n; k++) {
    let [count, sx, sy, sq] = [0, 0, 0, 0];
    // About the first of them, so that squares stay small.
    const first = order[i];
    const [x0, y0] = first === undefined ? [0, 0] : [pieces.x[first]!, pieces.y[first]!];
    for (; i < order.length && (k === n - 1 || times.hit[order[i]!]! / 1e6 < (k + 1) * step); i++) {
      const [dx, dy] = [pieces.x[order[i]!]! - x0, pieces.y[order[i]!]! - y0];
      count++;
      sx += dx;
      sy += dy;
      sq += dx * dx + dy * dy;
    }
    if (count === 0) {
      // Nothing is hit: the front waits where it was.
      [x[k], y[k], wide[k]] = k > 0 ? [x[k - 1]!, y[k - 1]!, wide[k - 1]!] : [x0, y0, 0];
      continue;
    }
    x[k] = x0 + sx / count;
    y[k] = y0 + sy / count;
    wide[k] = Math.sqrt(Math.max(0, sq / count - (sx / count) ** 2 - (sy / count) ** 2));
  }
  return { step, x, y, wide };
}

/** The same with all jumps eased over about so many seconds to both sides: three running means, close to a bell. */
export function eased(front: Front, seconds: number): Front {
  const reach = Math.max(0, Math.round(seconds / front.step / 2));
  const mean = (values: Float64Array): Float64Array => {
    const n = values.length;
    const out = new Float64Array(n);
    const at = (i: number) => values[Math.min(n - 1, Math.max(0, i))]!;
    let sum = 0;
    for (let i = -reach; i <= reach; i++) sum += at(i);
    for (let i = 0; i < n; i++) {
      out[i] = sum / (2 * reach + 1);
      sum += at(i + reach + 1) - at(i - reach);
    }
    return out;
  };
  const thrice = (values: Float64Array) => (reach === 0 ? values : mean(mean(mean(values))));
  return { step: front.step, x: thrice(front.x), y: thrice(front.y), wide: thrice(front.wide) };
}

/** Middle and spread at a time, s; between steps on a straight line. */
export function frontAt(front: Front, seconds: number): { x: number; y: number; wide: number } {
  const n = front.x.length;
  const k = Math.min(n - 1, Math.max(0, seconds / front.step - 0.5));
  const [i, f] = [Math.floor(k), k - Math.floor(k)];
  const between = (values: Float64Array) => values[i]! + f * (values[Math.min(n - 1, i + 1)]! - values[i]!);
  return { x: between(front.x), y: between(front.y), wide: between(front.wide) };
}
