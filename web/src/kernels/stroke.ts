/** What a stroke adds to the plan while it is drawn. */

export interface Stroked {
  id: number | null;
  pieces: number;
  hours: readonly [number, number];
  needs: readonly { kind: number; colour: number; count: number }[];
}
export interface Before {
  pieces: number;
  hours: readonly [number, number];
}
export interface StockFigures {
  kind: number;
  colour: number;
  needed: number;
  wanted: number;
  usable: number;
}
export interface StrokeCost {
  /** Pieces more than before, or fewer. */
  pieces: number;
  hours: [number, number];
  /** What new items take, by kind and colour. */
  takes: { kind: number; colour: number; count: number }[];
  /** Colours that get short by it, or shorter; the worst first. */
  short: { kind: number; colour: number; by: number }[];
}

/** Sums a stroke. Items that are there already count with what they take more than before; their colours are not known. */
export function strokeCost(items: readonly Stroked[], before: (id: number) => Before | undefined, stock: readonly StockFigures[]): StrokeCost {
  let pieces = 0;
  const hours: [number, number] = [0, 0];
  const takes = new Map<string, { kind: number; colour: number; count: number }>();
  for (const item of items) {
    const was = item.id === null ? undefined : before(item.id);
    pieces += item.pieces - (was?.pieces ?? 0);
    hours[0] += item.hours[0] - (was?.hours[0] ?? 0);
    hours[1] += item.hours[1] - (was?.hours[1] ?? 0);
    if (was) continue;
    for (const { kind, colour, count } of item.needs) {
      const key = `${kind} ${colour}`;
      takes.set(key, { kind, colour, count: count + (takes.get(key)?.count ?? 0) });
    }
  }
  const short = [...takes.values()].flatMap(({ kind, colour, count }) => {
    const row = stock.find((r) => r.kind === kind && r.colour === colour);
    const by = Math.max((row?.needed ?? 0) + count, row?.wanted ?? 0) - (row?.usable ?? 0);
    return by > 0 ? [{ kind, colour, by }] : [];
  });
  return { pieces, hours, takes: [...takes.values()], short: short.sort((a, b) => b.by - a.by) };
}
