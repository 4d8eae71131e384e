/** All lists of actions, also of the views that are not open: for the sheet of keys and for the test of clashes. */
import type { Action } from "../../kernels/actions";
import { appActions, type AppDoes } from "./app";
import { fallActions, type FallDoes } from "./fall";
import { cellActions, type CellDoes } from "./cells";
import { pictureActions, type PictureDoes } from "./picture";
import { planActions, type PlanDoes } from "./plan";
import { FALL_KEYS, PLAN_KEYS, READ_KEYS } from "./views";

/** Does nothing, whatever is asked of it. */
const nothing: unknown = new Proxy(() => nothing, { get: () => nothing, apply: () => nothing });

export interface ListedActions {
  /** What is open when these keys act; null for everywhere. */
  view: "plan" | "fall" | "picture" | "read" | null;
  actions: readonly Action[];
}

export const LISTS: readonly ListedActions[] = [
  { view: null, actions: appActions(nothing as AppDoes) },
  { view: "plan", actions: [...planActions(nothing as PlanDoes), ...PLAN_KEYS] },
  { view: "fall", actions: [...fallActions(nothing as FallDoes), ...FALL_KEYS] },
  { view: "picture", actions: [...pictureActions(nothing as PictureDoes), ...cellActions(nothing as CellDoes)] },
  { view: "read", actions: READ_KEYS },
];
