/** What the planner used last, kept in this browser. */
import { FIRST, type Uses } from "../tools/uses";
import { keep, kept } from "./kept";

/** What was kept, as far as it is of the sort that is wanted here; another version may have kept something else. */
function before(): Uses {
  try {
    const known = JSON.parse(kept("uses") ?? "{}") as Partial<Uses>;
    const good = Object.entries(known).filter(([k, v]) => k in FIRST && (typeof v === typeof FIRST[k as keyof Uses] || FIRST[k as keyof Uses] === null));
    return { ...FIRST, ...Object.fromEntries(good) };
  } catch {
    return FIRST;
  }
}

class Used {
  now = $state.raw<Uses>(before());

  set(change: Partial<Uses>) {
    this.now = { ...this.now, ...change };
    keep("uses", JSON.stringify(this.now));
  }
}

export const uses = new Used();
