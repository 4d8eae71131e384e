/** What was used last, so that the next item begins with it. */
import type { PatternDraft } from "../api/generated/PatternDraft";
import type { Placed } from "../api/generated/Placed";
import type { SpacedBy } from "../api/generated/SpacedBy";
import type { SurfaceIs } from "../api/generated/SurfaceIs";
import type { PartIs } from "../api/generated/PartIs";

export interface Uses {
  /** Id of the kind of piece; 0 for the first that the plan has. */
  kind: number;
  /** Id of the colour; 0 for the first that the plan has. */
  colour: number;
  /** Colours of lines; null for plain in `colour`. */
  pattern: PatternDraft | null;
  spacedBy: SpacedBy;
  /** mm: centre to centre, or clear gap. */
  spacing: number;
  placed: Placed;
  lanes: number;
  /** Between lanes of a line, mm. */
  across: number;
  /** Smooth curves through the points, or straights with rounded corners. */
  curve: "smooth" | "corners";
  /** Radius of rounded corners, mm. */
  radius: number;
  /** From ring to ring, mm. */
  ring: number;
  /** From course to course of an area, mm: their bends are half of it wide. */
  courses: number;
  /** Pitches of fields, mm. */
  fieldAlong: number;
  fieldAcross: number;
  filling: "waves" | "spiral" | "curls";
  /** Direction of the courses of a fill, degrees; and how far curls swing out, mm. */
  course: number;
  swing: number;
  /** Spirals: to which side they turn, and whether the fall goes to the middle or comes from it. */
  hand: "left" | "right";
  inwards: "in" | "out";
  /** What a part of the hall is. */
  part: PartIs | "outline";
  surface: SurfaceIs;
  /** Height of letters, mm; drawn by lines or standing in a field. */
  letters: number;
  lettering: "lines" | "standing";
  /** A link below the words feeds each of their letters. */
  linked: boolean;
  /** Line letters run there and back along every stroke, or once, with splits. */
  strokes: "back" | "single";
  /** Colour of the cells around standing letters: an id, 0 for the first colour that the letters do not have, -1 for no pieces. */
  ground: number;
  /** What a drag over bare floor does while picking. */
  area: "box" | "lasso" | "pan";
  /** The same of a finger: it moves the view until somebody chooses otherwise. */
  areaTouch: "box" | "lasso" | "pan";
  /** Section of new items. */
  section: number | null;
  /** Standing on: 0 is the floor. */
  on: number;
  /** How high a part of the hall, a surface, a placeholder is, mm; 0 when nobody knows. */
  partHeight: number;
  surfaceHeight: number;
  boxHeight: number;
  /** Width of a push, mm. */
  push: number;
  /** Direction of what is set on bare floor, degrees. */
  facing: number;
  stopperThickness: number;
  stopperWidth: number;
  stopperHeight: number;
  stopperFixed: boolean;
  /** Pieces that a safety gap leaves out, and whether a stopper stands in it. */
  gapCount: number;
  gapStopper: boolean;
  /** Height of a lens, mm, and how wide it sees, degrees. */
  lens: number;
  sees: number;
}

/** Ordinary values: pitch and lanes as they are usual with pieces of 24 by 48 by 7.5 mm, no source; rings, courses and gaps so that they keep apart and hold on the slickest floor that was measured (the page of help says the figures). */
export const FIRST: Uses = {
  kind: 0, colour: 0, pattern: null, spacedBy: "pitch", spacing: 15, placed: "comb", lanes: 1, across: 27, curve: "smooth", radius: 300,
  ring: 80, courses: 130, fieldAlong: 15, fieldAcross: 26, filling: "waves", course: 0, swing: 40, hand: "left", inwards: "in", part: "outline", surface: "table", letters: 600, lettering: "lines", linked: true, strokes: "back", ground: 0, area: "box", areaTouch: "pan", section: null, on: 0,
  partHeight: 0, surfaceHeight: 740, boxHeight: 300, push: 24, facing: 0, stopperThickness: 20, stopperWidth: 60, stopperHeight: 50, stopperFixed: false,
  gapCount: 7, gapStopper: false, lens: 1600, sees: 60,
};
