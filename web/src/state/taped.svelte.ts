/** The hall as measured: whether its slip is open, and what the tapes say. */
import * as api from "../api/client";
import type { TapedHall } from "../api/generated/TapedHall";
import { pick } from "../tools";
import { tape } from "../tools/tape";
import type { Tool } from "../tools/tool";
import { board } from "./board.svelte";
import { plan } from "./plan.svelte";
import { shift } from "./shift.svelte";
import { t } from "./say.svelte";
import { toasts } from "./toasts.svelte";
import { Told } from "./told.svelte";

class Taped extends Told<TapedHall> {
  on = $state(false);
  /** Distances are taped on the floor. */
  readonly tapes = $derived(this.on && board.tool === (tape as unknown as Tool));

  constructor() {
    super(api.getTaped);
  }

  begin() {
    shift.close();
    this.on = true;
  }

  close() {
    this.tape(false);
    this.on = false;
    this.told = null;
  }

  /** Takes the tape on the floor, or lays it down. */
  tape(on: boolean) {
    if (on !== this.tapes) board.use((on ? tape : pick) as unknown as Tool);
  }

  /** Draws the hall as measured, as one step. */
  async draw() {
    if (await plan.do({ do: "draw-as-measured" })) toasts.say(t("taped.drawn"), true);
  }
}

export const taped = new Taped();
