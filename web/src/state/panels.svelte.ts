/** What stands around the floor of the plan, kept in this browser. */
import { keep, kept } from "./kept";

export const PANELS = ["outline", "glass", "rulers", "inspector"] as const;
export type Panel = (typeof PANELS)[number];

/** Pixels below which slips lie over the floor, and below which nothing is drawn. */
export const TABLET = 1100;
export const PHONE = 600;

class Panels {
  /** Slips lie over the floor and are opened when they are wanted. */
  over = $state(false);
  private open = $state<Record<Panel, boolean>>({
    outline: kept("panel.outline") === "on",
    glass: kept("panel.glass") === "on",
    rulers: kept("panel.rulers") === "on",
    inspector: kept("panel.inspector") !== "off",
  });
  /** Over the floor slips begin closed, whatever stood open on a desk. */
  private narrow = $state<Record<Panel, boolean>>({ outline: false, glass: false, rulers: false, inspector: false });

  is(panel: Panel): boolean {
    return this.over && panel !== "rulers" ? this.narrow[panel] : this.open[panel];
  }

  set(panel: Panel, on: boolean) {
    if (this.over && panel !== "rulers") {
      this.narrow = { ...this.narrow, ...(on && panel !== "glass" ? { outline: false, inspector: false } : {}), [panel]: on };
      return;
    }
    this.open = { ...this.open, [panel]: on };
    keep(`panel.${panel}`, on ? "on" : "off");
  }

  toggle(panel: Panel) {
    this.set(panel, !this.is(panel));
  }
}

export const panels = new Panels();
