/** Checked by brute force, by counting, and by what Bresenham's lines and Pick's theorem promise. */
import { describe, expect, it } from "vitest";
import {
  brushed, chosen, cut, flipped, flood, held, joined, lasso, line, mirrored, moreOf, rectangle, sameColour, stamped, toRuns, toStrokes, turned, zoomed,
  type Size, type Spot,
} from "./cells";

/** Numbers below `n` that look like chance and are the same in each run. */
function dice(seed: number) {
  let state = seed;
  return (n: number) => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return Math.floor((state / 2 ** 32) * n);
  };
}
const sorted = (cells: Iterable<number>) => [...cells].sort((a, b) => a - b);

describe("a line of cells", () => {
  it("begins and ends where it should, has no gap, and is never half a cell from the true line", () => {
    const roll = dice(1);
    for (let n = 0; n < 500; n++) {
      const [from, to]: [Spot, Spot] = [[roll(60), roll(60)], [roll(60), roll(60)]];
      const cells = line(from, to);
      const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
      expect([cells[0], cells.at(-1)]).toEqual([from, to]);
      // One cell for each step along the longer side, and each next one beside the last.
      const long = Math.max(Math.abs(dx), Math.abs(dy));
      expect(cells.length).toBe(long + 1);
      cells.slice(1).forEach((c, i) => expect(Math.max(Math.abs(c[0] - cells[i]![0]), Math.abs(c[1] - cells[i]![1]))).toBe(1));
      for (const [x, y] of cells) expect(Math.abs(dy * (x - from[0]) - dx * (y - from[1]))).toBeLessThanOrEqual(long / 2 + 1e-9);
    }
  });
});

describe("brushes and rectangles", () => {
  const size = { columns: 40, rows: 30 };
  it("are as wide as they say, and stay in the picture", () => {
    for (const width of [1, 2, 3, 5, 9]) {
      const cells = sorted(brushed([[20, 15]], width, size));
      const columns = cells.map((c) => c % 40);
      const rows = cells.map((c) => Math.floor(c / 40));
      expect(Math.max(...columns) - Math.min(...columns) + 1).toBe(width);
      expect(Math.max(...rows) - Math.min(...rows) + 1).toBe(width);
    }
    expect(sorted(brushed([[0, 0]], 3, size))).toEqual([0, 1, 40, 41]);
  });
  it("leave no gap however far the pointer leaps", () => {
    const cells = brushed([[2, 3], [37, 20], [5, 28]], 1, size);
    const [start, end] = [3 * 40 + 2, 28 * 40 + 5];
    const reached = new Set([start]);
    for (const cell of reached) for (const dx of [-1, 0, 1]) for (const dy of [-40, 0, 40]) if (cells.has(cell + dx + dy)) reached.add(cell + dx + dy);
    expect(reached.has(end)).toBe(true);
  });
  it("have the area and the edge that one counts", () => {
    expect(rectangle([3, 2], [9, 12], size).size).toBe(7 * 11);
    expect(rectangle([9, 12], [3, 2], size, false).size).toBe(2 * 7 + 2 * 11 - 4);
    expect(rectangle([5, 5], [5, 9], size, false).size).toBe(5);
    expect(rectangle([-5, -5], [100, 100], size).size).toBe(1200);
  });
});

describe("a fill", () => {
  it("takes what a slow search takes", () => {
    const roll = dice(2);
    for (let n = 0; n < 200; n++) {
      const size: Size = { columns: 1 + roll(14), rows: 1 + roll(14) };
      const cells = Array.from({ length: size.columns * size.rows }, () => roll(2));
      const within = n % 3 === 0 ? Uint8Array.from(cells, () => Number(roll(5) > 0)) : null;
      const at: Spot = [roll(size.columns), roll(size.rows)];
      const start = at[1] * size.columns + at[0];
      const slow = new Set<number>();
      const walk = (c: number, r: number) => {
        const i = r * size.columns + c;
        if (c < 0 || r < 0 || c >= size.columns || r >= size.rows || slow.has(i) || cells[i] !== cells[start] || within?.[i] === 0) return;
        slow.add(i);
        for (const [x, y] of [[1, 0], [-1, 0], [0, 1], [0, -1]] as const) walk(c + x, r + y);
      };
      walk(...at);
      expect(sorted(flood(cells, size, at, within))).toEqual(sorted(slow));
    }
  });
  it("of a million cells ends, and a colour is found wherever it is", () => {
    const size = { columns: 1000, rows: 1000 };
    expect(flood(new Uint16Array(1_000_000), size, [500, 500]).size).toBe(1_000_000);
    expect(sorted(sameColour([1, 2, 1, 3], 1))).toEqual([0, 2]);
    expect(sorted(sameColour([1, 2, 1, 3], 1, Uint8Array.from([0, 1, 1, 1])))).toEqual([2]);
  });
});

describe("a lasso", () => {
  const size = { columns: 50, rows: 50 };
  it("of corners joined by level, upright and slant lines has the area of Pick's theorem", () => {
    // Cells on these outlines lie exactly on lattice points: cells = A + B / 2 + 1.
    for (const path of [
      [[5, 5], [20, 5], [20, 30], [5, 30]],
      [[10, 2], [25, 17], [10, 32]],
      [[20, 5], [35, 20], [20, 35], [5, 20]],
      [[2, 2], [30, 2], [30, 10], [12, 10], [12, 40], [2, 40]],
    ] as Spot[][]) {
      const next = (i: number) => path[(i + 1) % path.length]!;
      const area = Math.abs(path.reduce((sum, p, i) => sum + p[0] * next(i)[1] - next(i)[0] * p[1], 0)) / 2;
      const edge = path.reduce((sum, p, i) => sum + Math.max(Math.abs(p[0] - next(i)[0]), Math.abs(p[1] - next(i)[1])), 0);
      expect(lasso(path, size).size).toBe(area + edge / 2 + 1);
    }
  });
  it("holds every cell whose middle lies inside, and no other but those it goes over", () => {
    const roll = dice(3);
    for (let n = 0; n < 60; n++) {
      const path: Spot[] = Array.from({ length: 3 + roll(5) }, () => [roll(50), roll(50)]);
      const over = new Set<number>();
      path.forEach((p, i) => line(p, path[(i + 1) % path.length]!).forEach(([x, y]) => over.add(y * 50 + x)));
      const got = lasso(path, size);
      for (let y = 0; y < 50; y++) {
        for (let x = 0; x < 50; x++) {
          // A ray a little off the lattice meets no corner; cells on an outline may go either way.
          let odd = false;
          let on = false;
          path.forEach((a, i) => {
            const b = path[(i + 1) % path.length]!;
            const ray = y + 1e-7;
            if (a[1] > ray !== b[1] > ray && x < a[0] + ((ray - a[1]) * (b[0] - a[0])) / (b[1] - a[1])) odd = !odd;
            const cross = (b[0] - a[0]) * (y - a[1]) - (b[1] - a[1]) * (x - a[0]);
            if (cross === 0) on = true;
          });
          if (!on && !over.has(y * 50 + x)) expect([path, x, y, got.has(y * 50 + x)]).toEqual([path, x, y, odd]);
        }
      }
      for (const cell of over) expect(got.has(cell)).toBe(true);
    }
  });
  it("of one cell is that cell, of none nothing, and it may leave the picture", () => {
    expect([...lasso([[4, 4]], size)]).toEqual([204]);
    expect(lasso([], size).size).toBe(0);
    expect(lasso([[-9, -9], [60, -9], [60, 60], [-9, 60]], size).size).toBe(2500);
  });
});

describe("symmetry", () => {
  it("mirrors twice to where it was, and keeps what lies on an axis", () => {
    const size = { columns: 7, rows: 5 };
    for (let cell = 0; cell < 35; cell++) {
      for (const symmetry of ["sides", "ends"] as const) expect(mirrored(mirrored(cell, size, symmetry)[1]!, size, symmetry)[1]).toBe(cell);
      const four = mirrored(cell, size, "both");
      for (const image of four) expect(sorted(mirrored(image, size, "both"))).toEqual(sorted(four));
      expect(mirrored(cell, size, "none")).toEqual([cell]);
    }
    expect(mirrored(0, size, "sides")).toEqual([0, 6]);
    expect(mirrored(0, size, "ends")).toEqual([0, 28]);
    expect(new Set(mirrored(17, size, "both"))).toEqual(new Set([17]));
  });
});

describe("choices", () => {
  const size = { columns: 4, rows: 1 };
  it("are begun, joined and taken from", () => {
    const first = joined(null, [0, 1], "new", size);
    expect([...joined(first, [2], "add", size)]).toEqual([1, 1, 1, 0]);
    expect([...joined(first, [1, 2], "subtract", size)]).toEqual([1, 0, 0, 0]);
    expect([...joined(first, [3], "new", size)]).toEqual([0, 0, 0, 1]);
    expect([...first]).toEqual([1, 1, 0, 0]);
    expect([chosen(first), chosen(null)]).toEqual([2, 0]);
  });
});

describe("stamps", () => {
  const size = { columns: 5, rows: 4 };
  const cells = Array.from({ length: 20 }, (_, i) => i + 1);
  const patch = cut(cells, size, Uint8Array.from(cells, (_, i) => Number(rectangle([1, 1], [3, 2], size).has(i) && i !== 7)))!;
  it("hold the chosen cells with the room around them", () => {
    expect(patch).toEqual({ columns: 3, rows: 2, cells: Int32Array.from([7, -1, 9, 12, 13, 14]) });
    expect(cut(cells, size, new Uint8Array(20))).toBeNull();
  });
  it("come back after four turns or two flips, and a turn is what one sees", () => {
    expect(turned(patch)).toEqual({ columns: 2, rows: 3, cells: Int32Array.from([12, 7, 13, -1, 14, 9]) });
    expect(turned(turned(turned(turned(patch))))).toEqual(patch);
    expect(flipped(patch).cells).toEqual(Int32Array.from([9, -1, 7, 14, 13, 12]));
    expect(flipped(flipped(patch))).toEqual(patch);
  });
  it("set back where they were cut change nothing, and what sticks out is left off", () => {
    for (const [cell, colour] of stamped(patch, [2, 1], size)) expect(colour).toBe(cells[cell]);
    expect(stamped(patch, [2, 1], size).size).toBe(5);
    expect(sorted(stamped(patch, [0, 0], size).keys())).toEqual([1, 5, 6]);
  });
});

describe("what travels", () => {
  const unroll = (runs: number[]) => {
    const out: number[] = [];
    let at = 0;
    runs.forEach((n, i) => {
      if (i % 2 === 1) for (let k = 0; k < n; k++) out.push(at + k);
      at += n;
    });
    return out;
  };
  it("comes back as the same cells", () => {
    const roll = dice(4);
    for (let n = 0; n < 200; n++) {
      const cells = sorted(new Set(Array.from({ length: roll(40) }, () => roll(60))));
      const runs = toRuns(cells);
      expect(unroll(runs)).toEqual(cells);
      expect(runs.slice(1).every((r) => r > 0)).toBe(true);
    }
    expect(toRuns([0, 1, 2, 7])).toEqual([0, 3, 4, 1]);
  });
  it("is sorted by colour in the order of the wire, and short for a large field", () => {
    const drawn = new Map<number, number | null>([[0, 5], [3, null], [2, 5], [1, 5]]);
    expect(toStrokes(drawn, (c) => 9 - c)).toEqual([{ colour: 5, runs: [7, 3] }, { colour: null, runs: [6, 1] }]);
    const whole = new Map(Array.from({ length: 250_000 }, (_, i) => [i, 3] as const));
    expect(JSON.stringify(toStrokes(whole, (c) => c)).length).toBeLessThan(50);
  });
  it("counts what a colour takes more", () => {
    expect(moreOf(2, new Map([[0, 2], [1, 2], [2, 3], [3, null]]), [2, 1, 2, 2])).toBe(0);
    expect(moreOf(2, new Map([[1, 2], [3, 2]]), [2, 1, 2, 1])).toBe(2);
  });
});

describe("the sight", () => {
  it("keeps what is under the pointer, and no bare edge where the picture is larger", () => {
    const before = { zoom: 4, x: -20, y: 10 };
    const after = zoomed(before, 2, [100, 50], 1, 64);
    expect((100 - before.x) / before.zoom).toBe((100 - after.x) / after.zoom);
    expect(zoomed(before, 100, [0, 0], 1, 64).zoom).toBe(64);
    expect(held({ zoom: 1, x: 50, y: -900 }, [400, 300], [200, 400])).toEqual({ zoom: 1, x: 0, y: 50 });
    expect(held({ zoom: 1, x: -300, y: 0 }, [400, 300], [200, 400]).x).toBe(-200);
  });
});
