/** Words about gear, in the language and units of this browser. */
import type { GearWhat } from "../api/generated/GearWhat";
import { len, num, t } from "./say.svelte";

/** What a thing is called unless somebody calls it otherwise: "Comb 15 mm". */
export function gearName(what: GearWhat): string {
  const size = what.is === "comb" ? what.pitch : what.is === "support" ? what.height : what.length;
  // A name is text that people type and look for: plain spaces.
  return `${t(`gear.${what.is}`)} ${len(size)}`.replace(/[\u00a0\u202f]/g, " ");
}

/** Its size in words, for a list. */
export function gearSize(what: GearWhat): string {
  if (what.is === "comb") return t("gear.size.comb", { pitch: len(what.pitch), teeth: num(what.teeth) });
  if (what.is === "plank") return [what.length, what.width, what.thickness].map((mm) => len(mm)).join(" × ");
  return what.is === "support" ? t("gear.size.support", { height: len(what.height) }) : t("gear.size.cord", { length: len(what.length) });
}
