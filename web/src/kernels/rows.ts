/** Spans side by side on few lines, as many as have room. Pure. */

/** Where a span with its words begins and ends, pixels. */
export type Span = readonly [from: number, to: number];

/**
 * The line of each span, from 0: the first one on which it meets no span before it in the list, so that those come first that
 * matter most; null where none of the lines has room.
 */
export function onLines(spans: readonly Span[], lines: number): (number | null)[] {
  const taken: Span[][] = Array.from({ length: Math.max(0, lines) }, () => []);
  return spans.map((span) => {
    const line = taken.findIndex((on) => on.every(([from, to]) => span[1] <= from || to <= span[0]));
    if (line < 0) return null;
    taken[line]!.push(span);
    return line;
  });
}
