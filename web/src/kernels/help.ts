/** The pages of help and the figures that it explains, in their order. */

export const TOPICS = ["first", "hall", "draw", "items", "lines", "fields", "stock", "fall", "touch", "sheets", "tablets", "together", "keys", "figures", "safety"] as const;
export type Topic = (typeof TOPICS)[number];

export const FIGURES = [
  "piece", "pitch", "across", "stagger", "band", "turn", "step", "clearance", "feeds", "grip", "speed", "chance", "hold", "counts", "accidents",
  "hours", "mass", "crates", "spare", "alike", "difference", "distance", "eye", "goal", "fewer", "weight", "contrast", "reach",
] as const;
export type FigureId = (typeof FIGURES)[number];

/** A part of a page; exactly one of its kinds. */
export type Part =
  | { h: string }
  | { p: string }
  | { steps: readonly string[] }
  | { list: readonly string[] }
  | { caution: string }
  | { figures: readonly FigureId[] }
  | { sheet: true };

/** A figure: what it means, what it is when nobody changed it, and where that comes from. */
export interface Figure {
  what: string;
  usual: string;
  source: string;
}

export interface Book {
  pages: Record<Topic, { lead: string; parts: readonly Part[] }>;
  figures: Record<FigureId, Figure>;
}

export const isTopic = (text: string | undefined): text is Topic => (TOPICS as readonly string[]).includes(text ?? "");
export const isFigure = (text: string | null): text is FigureId => (FIGURES as readonly string[]).includes(text ?? "");
