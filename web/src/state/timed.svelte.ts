/** Lines of the crew's own that were timed: whether their slip is open, and what they tell. */
import * as api from "../api/client";
import type { TimedHall } from "../api/generated/TimedHall";
import { Told } from "./told.svelte";

class Timed extends Told<TimedHall> {
  on = $state(false);

  constructor() {
    super(api.getTimed);
  }
}

export const timed = new Timed();
