/** Picking: click, box, lasso; what is chosen moves by dragging and turns by its handle. */
import type { ItemDraft } from "../api/generated/ItemDraft";
import type { ItemRow } from "../api/generated/ItemRow";
import { around, taken, type Box, type Pair } from "../kernels/floor";
import { apart, direction, off, round, toHall, turn } from "../kernels/frames";
import { along } from "../kernels/paths";
import { boxOf, corners, within } from "../kernels/pick";
import { SNAPS, type Snap } from "../kernels/snap";
import { FAR, fieldLabel, isSize, sized, sizeNumbers, type Of, type Size } from "./drafts";
import { dragged, handles, isMiddle, nearest, removed, same, type Handle } from "./reshape";
import { EMPTY, stay, type Env, type Sketch, type Step, type Tool, type Typed } from "./tool";

export type PickState =
  | { is: "idle" }
  | { is: "area"; path: readonly Pair[]; add: boolean }
  | { is: "move"; from: Pair; by: Pair; snap: Snap | null; moved: boolean; typed: { east: number | null; north: number | null } }
  | { is: "turn"; about: Pair; from: number; by: number }
  /** A handle of the one chosen item: chosen, or on its way with `now` as what the item becomes. */
  | { is: "shape"; item: number; handle: Handle; to: Pair; typed: Size; now: ItemDraft | null; held: boolean };
const IDLE: PickState = { is: "idle" };

/** Pixels that the handle for turning stands above what is chosen, and how near a press has to be. */
export const HANDLE = 34;
const NEAR = 22;
/** Pixels that a press may wander and still is a click. */
const STILL = 4;
/** Items and pieces that are shown whole while they move; more move as outlines. */
const WHOLE = 24;
const PIECES = 60_000;

export const chosenRows = (env: Env): ItemRow[] => env.plan.items.filter((i) => env.chosen.includes(i.id));
export const boxAround = (rows: readonly ItemRow[]): Box | null => around(rows.flatMap(taken));

/** Where the handle for turning stands; null while it would turn nothing. */
export function handle(env: Env): { at: Pair; about: Pair } | null {
  const rows = chosenRows(env);
  const box = boxAround(rows);
  if (!box || rows.every((i) => i.locked)) return null;
  const about: Pair = [(box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2];
  return { at: [about[0], box.y1 + HANDLE / env.scale], about };
}

/** The one chosen item, whole, when it has handles and lies free. */
function shaped(env: Env): ItemDraft | null {
  const [id, ...more] = env.chosen;
  return id === undefined || more.length || !env.plan.items.some((i) => i.id === id && !i.locked) ? null : (env.drafts.get(id) ?? null);
}
/** Its handles that are far enough apart on the screen to be met. */
export function shapeHandles(env: Env): Handle[] {
  const draft = shaped(env);
  if (!draft) return [];
  const all = handles(draft);
  const points = all.filter((h) => !isMiddle(h));
  return all.filter((h) => !isMiddle(h) || points.every((p) => apart(p.at, h.at) * env.scale > 14));
}
/** Reach of a handle, pixels: for a pointer, and for a finger. */
const REACH = 9;

/** All items of the groups that an item is in. */
export const withGroup = (id: number, env: Env): number[] => {
  const group = env.plan.items.find((i) => i.id === id)?.group ?? null;
  return group === null ? [id] : env.plan.items.filter((i) => i.group === group).map((i) => i.id);
};

/** How far items go so that one of their points meets something; the strongest meeting counts. */
function met(rows: readonly ItemRow[], by: Pair, env: Env): { by: Pair; snap: Snap } | null {
  let best: { by: Pair; snap: Snap } | null = null;
  let least = Infinity;
  const points = rows.flatMap((i): Pair[] => [...i.ports.map((p) => p.at), ...taken(i)]).slice(0, 64);
  for (const p of points) {
    const wanted: Pair = [p[0] + by[0], p[1] + by[1]];
    const snap = env.snap(wanted);
    if (!snap || snap.kind === "grid" || snap.kind === "angle") continue;
    const weight = SNAPS.indexOf(snap.kind) * 1e6 + apart(snap.at, wanted);
    if (weight < least) [best, least] = [{ by: [snap.at[0] - p[0], snap.at[1] - p[1]], snap }, weight];
  }
  return best;
}

export const pick: Tool<PickState> = {
  id: "pick",
  purpose: "pick",
  words: "tool.pick",
  about: "tool.pick.about",
  key: "V",
  icon: "M5 3 15 10 10.5 11 13 16.5 11 17.5 8.5 12 5 15Z",
  uses: [],
  start: () => IDLE,
  busy: (s) => s.is !== "idle",
  lets: (s, spot, env) => (s.is === "idle" || (s.is === "shape" && !s.held)) && !spot.on && !onHandle(spot.raw, env) && !handleAt(spot.raw, spot.touch, env) && !spot.shift && (spot.touch ? env.uses.areaTouch : env.uses.area) === "pan",
  on(s, press, env): Step<PickState> {
    if (press.is === "down") {
      const { spot } = press;
      if (onHandle(spot.raw, env)) {
        const { about } = handle(env)!;
        return stay({ is: "turn", about, from: direction(about, spot.raw), by: 0 });
      }
      const grip = handleAt(spot.raw, spot.touch, env);
      if (grip) return stay({ is: "shape", item: env.chosen[0]!, handle: grip, to: grip.at, typed: {}, now: null, held: true });
      if (!spot.on) return { state: { is: "area", path: [spot.raw], add: spot.shift } };
      const ids = withGroup(spot.on.item, env);
      const all = ids.every((id) => env.chosen.includes(id));
      if (spot.shift) return { state: IDLE, choose: all ? env.chosen.filter((id) => !ids.includes(id)) : [...new Set([...env.chosen, ...ids])] };
      const state: PickState = { is: "move", from: spot.raw, by: [0, 0], snap: null, moved: false, typed: { east: null, north: null } };
      return all ? stay(state) : { state, choose: ids };
    }
    if (press.is === "drag") {
      const { raw } = press.spot;
      if (s.is === "area") {
        const far = apart(s.path[s.path.length - 1]!, raw) * env.scale > 3;
        return stay(env.uses.area === "lasso" ? (far ? { ...s, path: [...s.path, raw] } : s) : { ...s, path: [s.path[0]!, raw] });
      }
      if (s.is === "move") {
        const far = s.moved || apart(s.from, raw) * env.scale > STILL;
        if (!far) return stay(s);
        let by: Pair = [raw[0] - s.from[0], raw[1] - s.from[1]];
        if (press.spot.shift) by = Math.abs(by[0]) > Math.abs(by[1]) ? [by[0], 0] : [0, by[1]];
        const meeting = press.spot.shift ? null : met(chosenRows(env), by, env);
        return stay({ ...s, moved: true, by: meeting?.by ?? [Math.round(by[0]), Math.round(by[1])], snap: meeting?.snap ?? null });
      }
      if (s.is === "turn") {
        const by = turn(direction(s.about, raw) - s.from);
        const fifteen = Math.round(by / 15) * 15;
        return stay({ ...s, by: press.spot.shift ? fifteen : Math.abs(by - fifteen) < 2 && press.spot.snap ? fifteen : Math.round(by * 10) / 10 });
      }
      if (s.is === "shape" && s.held) {
        const draft = shaped(env);
        if (!draft || (!s.now && apart(s.handle.at, raw) * env.scale <= STILL)) return stay(s);
        // Shift keeps the point east, west, north or south of where it was.
        const { at } = press.spot;
        const by: Pair = [at[0] - s.handle.at[0], at[1] - s.handle.at[1]];
        const to: Pair = !press.spot.shift ? at : Math.abs(by[0]) > Math.abs(by[1]) ? [at[0], s.handle.at[1]] : [s.handle.at[0], at[1]];
        return stay({ ...s, to, now: dragged(draft, s.handle, to, s.typed) });
      }
      return stay(s);
    }
    if (press.is === "up" || press.is === "finish") {
      if (s.is === "area") {
        const still = s.path.length < 2 || (s.path.length === 2 && apart(s.path[0]!, s.path[1]!) * env.scale < STILL);
        if (still) return { state: IDLE, choose: s.add ? env.chosen : [] };
        const area = env.uses.area === "lasso" ? s.path : corners(boxOf(s.path[0]!, s.path[1]!));
        const found = within(env.plan.items.map((i) => ({ id: i.id, at: [i.x, i.y], outline: i.outline })), area).flatMap((id) => withGroup(id, env));
        return { state: IDLE, choose: [...new Set([...(s.add ? env.chosen : []), ...found])] };
      }
      if (s.is === "move") {
        const by: Pair = [s.typed.east ?? s.by[0], s.typed.north ?? s.by[1]];
        if (!s.moved || (by[0] === 0 && by[1] === 0)) return stay(IDLE);
        return { state: IDLE, change: { do: "arrange", items: [...env.chosen], how: { is: "move", by: [round(by[0]), round(by[1])] } }, choose: env.chosen };
      }
      if (s.is === "turn") {
        if (s.by === 0) return stay(IDLE);
        return { state: IDLE, change: { do: "arrange", items: [...env.chosen], how: { is: "turn", about: [round(s.about[0]), round(s.about[1])], by: s.by } }, choose: env.chosen };
      }
      if (s.is === "shape") {
        if (s.now) return { state: IDLE, change: { do: "put", items: [s.now], label: env.say("did.reshape", { name: s.now.name }) }, choose: env.chosen };
        return stay(s.held && !isMiddle(s.handle) ? { ...s, held: false } : IDLE);
      }
      return stay(s);
    }
    if (press.is === "back" && s.is === "shape" && !s.held) {
      const draft = shaped(env);
      const made = draft && removed(draft, s.handle);
      return made ? { state: IDLE, change: { do: "put", items: [made], label: env.say("did.reshape", { name: made.name }) }, choose: env.chosen } : stay(s);
    }
    if (press.is === "step" && (s.is === "idle" || s.is === "shape")) {
      const list = shapeHandles(env);
      if (!list.length) return stay(IDLE);
      const now = s.is === "shape" ? list.findIndex((h) => same(h, s.handle)) : -1;
      const handle = list[(now < 0 ? (press.by > 0 ? 0 : list.length - 1) : now + press.by + list.length) % list.length]!;
      return stay({ is: "shape", item: env.chosen[0]!, handle, to: handle.at, typed: {}, now: null, held: false });
    }
    if (press.is === "nudge" && s.is === "shape" && !s.held) {
      const draft = shaped(env);
      if (!draft) return stay(IDLE);
      // From where it is now; the item is set down by Enter.
      const at: Pair = [s.handle.at[0] + press.by[0], s.handle.at[1] + press.by[1]];
      return stay({ ...s, handle: { ...s.handle, at }, to: at, now: dragged(draft, s.handle, at, s.typed) });
    }
    if (press.is === "number") {
      if (s.is === "shape" && isSize(press.id)) {
        const draft = shaped(env);
        const typed = sized(s.typed, press.id, press.value);
        return stay(draft ? { ...s, typed, now: dragged(draft, s.handle, s.to, typed) } : IDLE);
      }
      if (s.is === "shape" && (press.id === "x" || press.id === "y")) {
        const draft = shaped(env);
        const at: Pair = press.id === "x" ? [press.value, s.handle.at[1]] : [s.handle.at[0], press.value];
        return stay(draft ? { ...s, handle: { ...s.handle, at }, to: at, now: dragged(draft, s.handle, at, s.typed) } : IDLE);
      }
      if (s.is === "move" && (press.id === "east" || press.id === "north")) return stay({ ...s, moved: true, typed: { ...s.typed, [press.id]: press.value } });
      if (s.is === "turn" && press.id === "angle") return stay({ ...s, by: turn(press.value) });
    }
    return stay(s);
  },
  // A point that is only chosen is no step; what moves goes back to where it was.
  undo: (s) => (s.is === "idle" || (s.is === "shape" && !s.held && !s.now) ? null : IDLE),
  sketch(s, env): Sketch {
    if (s.is === "idle" || s.is === "shape") {
      const list = shapeHandles(env);
      const points = list.filter((h) => !isMiddle(h));
      const rest = { ...EMPTY, wants: env.chosen.length <= WHOLE ? env.chosen : [], points: points.map((h) => h.at), middles: list.filter(isMiddle).map((h) => h.at) };
      if (s.is === "idle") return { ...rest, hint: points.length ? "tool.pick.shape" : env.chosen.length ? "tool.pick.chosen" : "tool.pick.hint" };
      const now = s.now && handles(s.now);
      const field = s.now ?? shaped(env);
      const at = s.handle.at;
      return {
        ...rest, hint: s.now ? "tool.pick.set" : "tool.pick.point", loose: env.chosen,
        items: s.now ? [s.now] : [],
        strokes: s.now ? reshaped(s.now, env) : [],
        points: now ? now.filter((h) => !isMiddle(h)).map((h) => h.at) : points.map((h) => h.at), middles: now ? [] : rest.middles,
        chosen: now ? null : points.findIndex((h) => same(h, s.handle)),
        numbers: [
          ...(field?.body.is === "field" ? sides(field.body, s) : []),
          ...(s.held ? [] : [
            { id: "x", words: "tool.east", kind: "length", value: at[0], min: -FAR, max: FAR },
            { id: "y", words: "tool.north", kind: "length", value: at[1], min: -FAR, max: FAR },
          ] as const),
        ],
        label: field?.body.is === "field" && (s.held || s.now) ? fieldLabel(field.body) : null,
      };
    }
    if (s.is === "area") {
      const lasso = env.uses.area === "lasso";
      return { ...EMPTY, hint: "tool.pick.area", strokes: s.path.length > 1 ? [{ points: lasso ? s.path : corners(boxOf(s.path[0]!, s.path[1]!)), closed: true }] : [] };
    }
    const rows = chosenRows(env).filter((i) => !i.locked);
    if (s.is === "move") {
      const by: Pair = [s.typed.east ?? s.by[0], s.typed.north ?? s.by[1]];
      const go = (p: Pair): Pair => [p[0] + by[0], p[1] + by[1]];
      return {
        ...EMPTY,
        items: s.moved ? whole(rows, env, (d) => ({ ...d, x: round(d.x + by[0]), y: round(d.y + by[1]) })) : [],
        strokes: s.moved ? rows.map((i) => ({ points: taken(i).map(go), closed: true })) : [],
        numbers: [
          { id: "east", words: "tool.east", kind: "length", value: by[0], min: -FAR, max: FAR },
          { id: "north", words: "tool.north", kind: "length", value: by[1], min: -FAR, max: FAR },
        ],
        hint: "tool.pick.move", loose: env.chosen, wants: env.chosen.length <= WHOLE ? env.chosen : [],
      };
    }
    const go = (p: Pair) => off(s.about, s.by, p[0] - s.about[0], p[1] - s.about[1]);
    return {
      ...EMPTY,
      items: whole(rows, env, (d) => { const [x, y] = go([d.x, d.y]); return { ...d, x: round(x), y: round(y), heading: turn(d.heading + s.by) }; }),
      strokes: rows.map((i) => ({ points: taken(i).map(go), closed: true })),
      points: [s.about],
      numbers: [{ id: "angle", words: "tool.angle", kind: "degrees", value: s.by, min: -360, max: 360 }],
      hint: "tool.pick.turn", loose: env.chosen, wants: env.chosen.length <= WHOLE ? env.chosen : [],
    };
  },
};

/** The figures of a field that is reshaped, those first that its handle moves. */
function sides(body: Of<"field">, s: Extract<PickState, { is: "shape" }>): Typed[] {
  const { width, depth, ranks, lanes } = sizeNumbers(body, s.typed);
  return s.handle.is === "edge" && s.handle.i % 2 === 1 ? [depth, width, lanes, ranks] : [width, depth, ranks, lanes];
}

const handleAt = (p: Pair, touch: boolean, env: Env): Handle | null => nearest(shapeHandles(env), p, (touch ? NEAR : REACH) / env.scale);

/** What an item on its way looks like, by strokes alone. */
function reshaped(d: ItemDraft, env: Env): Sketch["strokes"] {
  if (d.body.is === "line") return [{ points: along(d, d.body.path, Math.max(4, 4 / env.scale)), faint: true }];
  if (d.body.is === "fill") return [{ points: d.body.outline.map((p) => toHall(d, p)), closed: true }];
  return [{ points: handles(d).filter((h) => h.is === "corner").map((h) => h.at), closed: true }];
}

function onHandle(p: Pair, env: Env): boolean {
  const h = handle(env);
  return h !== null && apart(h.at, p) * env.scale < NEAR;
}

/** The chosen items as they would be, when they are few enough and known whole. */
function whole(rows: readonly ItemRow[], env: Env, as: (d: ItemDraft) => ItemDraft): ItemDraft[] {
  if (rows.length > WHOLE || rows.reduce((sum, i) => sum + i.pieces, 0) > PIECES) return [];
  return rows.flatMap((i) => { const d = env.drafts.get(i.id); return d ? [as(d)] : []; });
}
