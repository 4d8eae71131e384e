/** What of a piece is drawn at a size on screen; 10 % of hysteresis, so that nothing flickers between two levels. */

export type Level = "colour" | "cell" | "runs" | "pieces" | "edges";

const FROM: readonly [Level, number][] = [
  ["colour", 0],
  ["cell", 3],
  ["runs", 8],
  ["pieces", 16],
  ["edges", 40],
];

/** The level for pieces of `px` on screen, given the level that is drawn now. */
export function level(px: number, now?: Level): Level {
  const at = FROM.findIndex(([name]) => name === now);
  let best = 0;
  FROM.forEach(([, from], i) => {
    const edge = at < 0 ? from : i > at ? from * 1.1 : from * 0.9;
    if (px >= edge) best = i;
  });
  return FROM[best]![0];
}
