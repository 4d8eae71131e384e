/** Which slip lies over the page; at most one wants an answer. */

/** Slips that can be opened from everywhere. */
export type Slip = "settings" | "tablets" | "find" | "keys";

class Slips {
  open = $state<Slip | null>(null);
  /** The list of findings, which wants no answer. */
  findings = $state(false);
}

export const slips = new Slips();
