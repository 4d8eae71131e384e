/** The pages of help and the figures that it explains, in their order. */
import type { Key } from "../i18n";

export const TOPICS = ["first", "hall", "draw", "items", "lines", "fields", "stock", "gear", "fall", "touch", "sheets", "tablets", "together", "keys", "figures", "safety"] as const;
export type Topic = (typeof TOPICS)[number];

export const FIGURES = [
  "piece", "pitch", "across", "stagger", "band", "turn", "step", "clearance", "feeds", "ways", "bridge", "lanes", "radius", "ring", "courses", "swing",
  "density", "smoothing", "letters", "height", "lens", "sees", "grip", "speed", "total", "rate", "replay", "push", "after", "delay", "chance",
  "hold", "counts", "accidents", "gap", "stopper", "hours", "mass", "crates", "spare", "comb", "plank", "alike", "difference", "distance", "eye", "goal", "fewer",
  "weight", "contrast", "reach",
] as const;
export type FigureId = (typeof FIGURES)[number];

/** What a field of a figure is about, by its label; labels with more than one sense name it where they stand. */
export const ABOUT: Partial<Record<Key, FigureId>> = {
  "spacedBy.pitch": "pitch", "spacedBy.gap": "band", "use.fieldAlong": "pitch", "use.across": "across", "use.fieldAcross": "across",
  "use.ring": "ring", "use.courses": "courses", "use.radius": "radius", "tool.radius": "radius", "tool.inner": "radius", "tool.turn": "turn", "tool.swing": "swing", "tool.density": "density",
  "tool.smoothing": "smoothing", "use.letters": "letters", "tool.height": "height", "tool.push": "push", "tool.gap.count": "gap",
  "tool.stopperThickness": "stopper", "tool.stopperWidth": "stopper", "tool.stopperHeight": "stopper", "tool.lens": "lens", "tool.sees": "sees",
  "pitch.along": "pitch", "pitch.across": "across", "stagger": "stagger", "radius": "radius", "fill.swing": "swing", "gap.count": "gap",
  "bridge.from": "bridge", "bridge.deck": "bridge", "bridge.thickness": "bridge", "bridge.per": "bridge", "bridge.step": "step",
  "feed.turn": "ways", "feed.gap": "ways", "feed.poke": "ways", "feed.clear": "ways", "start.width": "push", "start.after": "after",
  "stopper.thickness": "stopper", "stopper.width": "stopper", "placeholder.least": "delay", "placeholder.most": "delay",
  "camera.height": "lens", "camera.view": "sees",
};

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
