/** Everything that the command list finds: what can be done, items, places, colours, pages of help. */
import { gearAddress } from "../kernels/gear";
import { FIGURES, TOPICS } from "../kernels/help";
import { WORDS, type Key, type Language } from "../i18n";
import type { Named } from "../kernels/find";
import { GROUPS } from "../kernels/actions";
import { taken } from "../kernels/floor";
import { bySection } from "../kernels/built";
import { actions, actionWords, type Action } from "./actions.svelte";
import { keep, kept } from "./kept";
import { plan } from "./plan.svelte";
import { prefs } from "./prefs.svelte";
import { router } from "./router.svelte";
import { num, t, tn } from "./say.svelte";

/** One line of the list. */
export interface Findable extends Named {
  id: string;
  /** What sort of thing it is, in words. */
  sort: string;
  /** More about it. */
  about: string;
  /** Where it lives, in words; empty when that goes without saying. */
  where: string;
  keys: readonly string[];
  /** Why it cannot be done now. */
  why: Key | null;
  does: () => void;
  /** Shows where it lives; false when that is nowhere on the page. */
  shows: () => Promise<boolean>;
}

const RECENT = 5;

const inAll = (key: Key, except: Language) => (Object.keys(WORDS) as Language[]).filter((l) => l !== except).map((l) => WORDS[l][key]);

function ofAction(action: Action): Findable {
  const also = action.also;
  return {
    id: action.id,
    name: actionWords(action),
    others: inAll(action.words, prefs.language),
    hints: [...(also ? [t(also), ...inAll(also, prefs.language)] : []), t(`group.${action.group}`)],
    sort: t(`group.${action.group}`),
    about: "",
    where: action.lives ? t(action.lives) : "",
    keys: action.keys ?? [],
    why: actions.whyNot(action),
    does: () => actions.do(action),
    shows: () => actions.reveal(action),
  };
}

const middle = (points: readonly (readonly [number, number])[]): [number, number] => [
  points.reduce((s, p) => s + p[0], 0) / points.length,
  points.reduce((s, p) => s + p[1], 0) / points.length,
];

function place(id: string, name: string, hints: string[], sort: string, about: string, at: readonly [number, number], does?: () => void): Findable {
  const go = () => router.go(`/plan?at=${Math.round(at[0])},${Math.round(at[1])}`);
  return { id, name, others: [], hints, sort, about, where: t("view.plan"), keys: [], why: null, does: does ?? go, shows: () => (go(), Promise.resolve(true)) };
}

function items(): Findable[] {
  return (plan.state?.items ?? []).map((item) => {
    const at: readonly [number, number] = item.outline.length ? middle(item.outline) : [item.x, item.y];
    const about = [item.section, item.pieces > 0 ? tn("n.pieces", item.pieces) : ""].filter(Boolean).join(" · ");
    const open = item.body.is === "field" ? () => router.go(`/picture/${item.id}`) : undefined;
    return place(`item ${item.id}`, item.name, [item.section, ...inAll(`sort.${item.sort}` as Key, prefs.language), t(`sort.${item.sort}` as Key)], t(`sort.${item.sort}` as Key), about, at, open);
  });
}

function places(): Findable[] {
  const state = plan.state;
  if (!state) return [];
  const sections = bySection(state.items).filter((s) => s.section !== "").map(({ section: name, items: inside }) => {
    const points = inside.flatMap(taken);
    return place(`section ${name}`, name, [], t("find.section"), tn("find.items", inside.length), middle(points));
  });
  const parts = state.floor_plan.parts
    .filter((part) => part.name !== "" && part.outline.length > 0)
    .map((part, i) => place(`part ${i}`, part.name, [], t(`part.${part.is}` as Key), "", middle(part.outline)));
  return [...sections, ...parts];
}

function linked(id: string, name: string, others: string[], sort: string, address: string): Findable {
  const go = () => router.go(address);
  return { id, name, others, sort, about: "", where: "", keys: [], why: null, does: go, shows: () => (go(), Promise.resolve(true)) };
}

/** Everything, actions first, in the order in which it is shown when nothing is asked. */
export function findables(): Findable[] {
  const doable = actions.all.filter((a) => !a.keyOnly && a.id !== "find");
  const sorted = GROUPS.flatMap((group) => doable.filter((a) => a.group === group)).map(ofAction);
  const help = [
    ...TOPICS.map((topic) => linked(`help ${topic}`, t(`topic.${topic}`), inAll(`topic.${topic}`, prefs.language), t("help"), `/help/${topic}`)),
    ...FIGURES.map((figure) => linked(`figure ${figure}`, t(`figure.${figure}`), inAll(`figure.${figure}`, prefs.language), t("find.figure"), `/help/figures?at=${figure}`)),
  ];
  if (!plan.planner) return [...sorted, ...help];
  const colours = (plan.state?.colours ?? []).map((c) => linked(`colour ${c.id}`, c.name, [], t("colour"), `/stock?colour=${c.id}`));
  const gear = (plan.state?.gear ?? []).map((g) => linked(`gear ${g.id}`, g.name, inAll(`gear.${g.what.is}`, prefs.language), t("gear"), gearAddress({ id: g.id })));
  return [...sorted, ...items(), ...places(), ...colours, ...gear, ...help];
}

/** What was done from the list last, newest first. */
export function recent(): string[] {
  try {
    const ids: unknown = JSON.parse(kept("recent") ?? "[]");
    return Array.isArray(ids) ? ids.filter((id): id is string => typeof id === "string").slice(0, RECENT) : [];
  } catch {
    return [];
  }
}

export function remember(id: string): void {
  keep("recent", JSON.stringify([id, ...recent().filter((other) => other !== id)].slice(0, RECENT)));
}

/** How many of how many, for who cannot see the list. */
export const foundWords = (n: number): string => (n === 0 ? t("find.none") : tn("find.found", n, { n: num(n) }));
