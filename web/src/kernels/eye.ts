/** From which side somebody looks at a standing field; the engine knows the four sides of the field. */

export type EyeSide = "entry" | "left" | "far" | "right";

export const EYE_SIDES: readonly EyeSide[] = ["entry", "left", "right", "far"];

/** Degrees against the fall; 180 stands behind the entry, 90 at the left hand of the fall. */
export const BEARING: Record<EyeSide, number> = { far: 0, left: 90, entry: 180, right: 270 };

/** The side nearest to a bearing. */
export function eyeSide(bearing: number): EyeSide {
  const quarter = Math.floor((((bearing % 360) + 360 + 45) % 360) / 90);
  return (["far", "left", "entry", "right"] as const)[quarter] ?? "entry";
}
