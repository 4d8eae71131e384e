/** Words: as lines to be laid, or standing in a field whose pieces show them. */
import type { Change } from "../api/generated/Change";
import type { Pair } from "../kernels/floor";
import { apart, direction, round, toHall, turn, type Frame } from "../kernels/frames";
import { linked, type Linked } from "../kernels/linked";
import { flown, THICK, WIDE, type Flown } from "../kernels/flown";
import { medial, type Medial } from "../kernels/medial";
import type { Ink } from "../kernels/thin";
import { toured } from "../kernels/tour";
import { colourOf, fieldBody, item, kindOf, lineBody, type DraftOf } from "./drafts";
import { stay, type Env, type Press, type Sketch, type Step, type Told, type Tool } from "./tool";

export interface LettersState {
  text: string;
  at: Pair | null;
  next: Pair | null;
  dragging: boolean;
  typed: Partial<Record<"height" | "angle", number>>;
}
const START: LettersState = { text: "", at: null, next: null, dragging: false, typed: {} };
/** Signs of one go; and cells of its field at the most. */
export const MOST_SIGNS = 80;
const MOST_CELLS = 400_000;
/** Pixels that letters are high while they are thinned: strokes are some 13 wide then. */
export const THIN = 120;
/** Two branches stand 30 mm apart where a line splits: wider pieces would stand in each other. */
const WIDEST = 28;
/** Height of the piece for which is known how far it flies, mm. */
const USUAL = 48;
/** Lanes or ranks that one field takes. */
const MOST_LANES = 2000;

/** How letters are laid as lines. */
interface Laying {
  pitch: number;
  below: boolean;
  strokes: "back" | "single";
  /** How many times larger than the usual one the piece is: so much farther it flies. */
  size: number;
}
type Written = Linked & { flown: Flown };

/** Thinning takes long; so much is asked for at every move. By ink, at a pixel a millimetre. */
const thinned = new WeakMap<Ink, Medial>();
let last: { ink: Ink; height: number; laying: Laying; written: Written } | null = null;

function medialOf(ink: Ink, mm: number): Medial {
  let known = thinned.get(ink);
  if (!known) thinned.set(ink, (known = medial(ink, 1)));
  return scaled(known, mm);
}
function scaled({ nodes, edges, width }: Medial, by: number): Medial {
  const larger = ([x, y]: Pair): Pair => [x * by, y * by];
  return { nodes: nodes.map(larger), edges: edges.map((e) => ({ ...e, points: e.points.map(larger) })), width: width * by };
}
function laid(ink: Ink, height: number, { pitch, below, strokes, size }: Laying): Written {
  if (strokes === "single") {
    const all = linked(medialOf(ink, height / ink.height), pitch, below);
    return { ...all, flown: { ...flown(all.lines, pitch / size), knocked: 0 } };
  }
  const own = medialOf(ink, height / ink.height);
  // Higher letters have wider strokes: they are drawn larger as a whole.
  const times = Math.max(size, own.width / MOST_WIDE);
  const all = toured(scaled(own, 1 / times), pitch / size, below);
  const larger = (mm: number) => round(mm * times);
  return {
    ...all,
    lines: all.lines.map(({ frame: f, path, from }) => ({
      frame: { ...f, x: larger(f.x), y: larger(f.y) },
      path: path.map((l) => (l.is === "straight" ? { ...l, length: larger(l.length) } : l.is === "arc" ? { ...l, radius: larger(l.radius) } : l)),
      from,
    })),
  };
}
/** The lines of words in millimetres, from the lower left corner; `height` is that of the whole line. */
export function written(ink: Ink, height: number, laying: Laying): Written {
  if (last && last.ink === ink && last.height === height && JSON.stringify(last.laying) === JSON.stringify(laying)) return last.written;
  last = { ink, height, laying, written: laid(ink, height, laying) };
  return last.written;
}
/** Strokes of the font wider than this are walked there and back in lines farther apart, mm. */
const MOST_WIDE = 160;
/** Heights that are tried, each so many times the last, and how many of them. */
const HIGHER = 1.15;
const TRIES = 9;
/** Different signs of a text that are asked; each takes up to some 60 ms once, and a word seldom has more of them. */
const ASKED = 24;
/** By ink of a single sign: the least millimetres a pixel at which it fits, and at which it surely falls; infinite beyond what is tried. */
const leasts = new WeakMap<Ink, Map<string, number>>();
function least(ink: Ink, mm: number, laying: Laying, surely: boolean): number {
  const known = leasts.get(ink) ?? new Map<string, number>();
  leasts.set(ink, known);
  const key = `${mm.toFixed(3)} ${surely} ${JSON.stringify(laying)}`;
  let found = known.get(key);
  if (found === undefined) {
    found = Infinity;
    for (let k = 0, at = mm; k < TRIES && found === Infinity; k++, at *= HIGHER) {
      const { lines, flown: f } = laid(ink, at * ink.height, laying);
      if (lines.length && f.clashes + f.tight === 0 && (!surely || f.knocked + f.bent === 0)) found = at;
    }
    known.set(key, found);
  }
  return found;
}
/** The signs of a text, of its first two dozen different ones, that are too low for its strokes or, with `surely`, would fall only perhaps; and from which height on none is, infinite when none of those tried is enough. */
function tooLow(text: string, height: number, ink: Ink, laying: Laying, env: Env, surely: boolean): { signs: string; least: number } {
  let signs = "";
  let most = 0;
  for (const sign of [...new Set([...text].filter((c) => c.trim()))].slice(0, ASKED)) {
    const own = env.ink(sign, THIN);
    if (!own) continue;
    const mm = least(own, height / ink.height, laying, surely);
    if (mm <= height / ink.height) continue;
    signs += sign;
    most = Math.max(most, mm);
  }
  return { signs, least: Math.ceil((most * ink.height) / 10) * 10 };
}

/** From piece to piece along a line, mm. */
function pitchOf(env: Env): number {
  const kind = env.plan.kinds.find((k) => k.id === kindOf(env));
  return env.uses.spacing + (env.uses.spacedBy === "gap" ? (kind?.thickness ?? 7.5) : 0);
}

function layingOf(env: Env): Laying {
  const kind = env.plan.kinds.find((k) => k.id === kindOf(env));
  const { linked: below, strokes } = env.uses;
  const size = kind ? Math.max((kind.width ?? WIDE) / WIDE, (kind.height ?? USUAL) / USUAL, (kind.thickness ?? THICK) / THICK) : 1;
  return { pitch: pitchOf(env), below, strokes, size };
}

/** Where the words begin, and in which direction they run. */
function frame(s: LettersState): Frame | null {
  const at = s.at ?? s.next;
  if (!at) return null;
  const drawn = s.at && s.dragging && s.next && apart(s.at, s.next) > 0 ? direction(s.at, s.next) : 0;
  return { x: round(at[0]), y: round(at[1]), heading: turn(s.typed.angle ?? drawn) };
}
const heightOf = (s: LettersState, env: Env): number => s.typed.height ?? env.uses.letters;

/** Words as lines, all in one group. */
export function lineLetters(s: LettersState, env: Env): DraftOf<"line">[] {
  const f = frame(s);
  const ink = s.text.trim() ? env.ink(s.text, THIN) : null;
  if (!f || !ink) return [];
  const group = env.plan.items.reduce((most, i) => Math.max(most, i.group ?? 0), 0) + 1;
  const names = new Set(env.plan.items.map((i) => i.name));
  const word = s.text.trim();
  let n = 0;
  const name = () => {
    do n++; while (names.has(`${word} ${n}`));
    return `${word} ${n}`;
  };
  return written(ink, heightOf(s, env), layingOf(env)).lines.map(({ frame: own, path, from }) => {
    const [x, y] = toHall(f, [own.x, own.y]);
    const body = lineBody(path, env, { from: from && { item: from.line, port: from.port, sent: true }, to: null });
    return { ...item(name(), { x, y, heading: own.heading + f.heading }, { ...body, lanes: 1 }, env), group };
  });
}

/** What of the words does not fall, or not surely, from one start. */
function told(s: LettersState, env: Env): Told {
  const ink = s.text.trim() ? env.ink(s.text, THIN) : null;
  if (!ink) return s.text.trim() && env.ink("I", THIN) ? { words: "tool.letters.blank" } : null;
  if (env.uses.lettering === "standing") return { words: groundOf(env) ? "tool.letters.full" : "tool.letters.bare" };
  const laying = layingOf(env);
  const width = env.plan.kinds.find((k) => k.id === kindOf(env))?.width ?? 0;
  if (laying.strokes === "single" && width > WIDEST) return { words: "tool.letters.wide", lengths: { most: WIDEST } };
  const height = heightOf(s, env);
  const { lines, alone, lost, flown: f } = written(ink, height, laying);
  if (lines.length === 0) return { words: "tool.letters.small" };
  if (f.clashes + f.tight > 0) {
    const { signs, least: mm } = tooLow(s.text, height, ink, laying, env, false);
    return Number.isFinite(mm) && mm > 0 ? { words: "tool.letters.low", lengths: { least: mm }, values: { signs } } : { words: "tool.letters.close", values: { signs: signs || s.text.trim() } };
  }
  if (alone.length && lost) return { words: "tool.letters.both", values: { alone: alone.length, lost } };
  if (alone.length) return { words: "tool.letters.alone", values: { alone: alone.length } };
  if (lost) return { words: "tool.letters.lost", values: { lost } };
  if (laying.strokes === "single") return { words: "tool.letters.perhaps" };
  if (f.knocked + f.bent > 0) {
    const { signs, least: mm } = tooLow(s.text, height, ink, laying, env, true);
    return Number.isFinite(mm) && mm > 0 ? { words: "tool.letters.flies", lengths: { least: mm }, values: { signs } } : { words: "tool.letters.perhaps" };
  }
  return { words: "tool.letters.one" };
}

/** The colour around standing letters; 0 for none. */
function groundOf(env: Env): number {
  const { ground } = env.uses;
  if (ground < 0) return 0;
  const own = colourOf(env);
  return env.plan.colours.find((c) => c.id === ground && c.id !== own)?.id ?? env.plan.colours.find((c) => c.id !== own)?.id ?? 0;
}
/** Runs of cells: left out, taken, left out, and so on. */
function runsOf(cells: readonly number[]): number[] {
  const runs: number[] = [];
  let at = 0;
  for (let i = 0; i < cells.length; ) {
    const first = cells[i]!;
    let n = 1;
    while (cells[i + n] === first + n) n++;
    runs.push(first - at, n);
    at = first + n;
    i += n;
  }
  return runs;
}

/** The field of words and the cells that are ink, lane by lane, rank 0 first. */
export function standingLetters(s: LettersState, env: Env): { field: DraftOf<"field">; cells: number[] } | null {
  const f = frame(s);
  const ink = s.text.trim() ? env.ink(s.text, THIN) : null;
  if (!f || !ink) return null;
  const { fieldAlong, fieldAcross } = env.uses;
  const mm = heightOf(s, env) / ink.height;
  const lanes = Math.min(MOST_LANES, Math.max(1, Math.round((ink.height * mm) / fieldAcross)));
  const ranks = Math.min(MOST_LANES, Math.max(1, Math.round((ink.width * mm) / fieldAlong)));
  if (lanes * ranks > MOST_CELLS) return null;
  // Sums of ink from the corner, so that each cell is asked for once.
  const w = ink.width + 1;
  const sum = new Uint32Array(w * (ink.height + 1));
  for (let y = 0; y < ink.height; y++) for (let x = 0; x < ink.width; x++) sum[(y + 1) * w + x + 1] = sum[y * w + x + 1]! + sum[(y + 1) * w + x]! - sum[y * w + x]! + ink.ink[y * ink.width + x]!;
  const cells: number[] = [];
  for (let lane = 0; lane < lanes; lane++)
    for (let rank = 0; rank < ranks; rank++) {
      const [x0, x1] = [rank, rank + 1].map((r) => Math.min(ink.width, Math.round((r * ink.width) / ranks))) as [number, number];
      const [y0, y1] = [lanes - lane - 1, lanes - lane].map((r) => Math.min(ink.height, Math.round((r * ink.height) / lanes))) as [number, number];
      const on = sum[y1 * w + x1]! - sum[y0 * w + x1]! - sum[y1 * w + x0]! + sum[y0 * w + x0]!;
      if (2 * on >= (x1 - x0) * (y1 - y0) && on > 0) cells.push(lane * ranks + rank);
    }
  const [x, y] = toHall(f, [fieldAlong / 2, fieldAcross / 2]);
  const names = new Set(env.plan.items.map((i) => i.name));
  const word = s.text.trim();
  let name = word;
  for (let n = 2; names.has(name); n++) name = `${word} ${n}`;
  return { field: item(name, { x, y, heading: f.heading }, fieldBody(lanes, ranks, env), env), cells };
}

function finish(s: LettersState, env: Env): Step<LettersState> {
  // They are laid where they are shown: at the pointer while no place was chosen.
  if (!frame(s) || !s.text.trim()) return stay(s);
  const label = env.say("did.write", { name: s.text.trim() });
  if (env.uses.lettering === "lines") {
    const items = lineLetters(s, env);
    return items.length ? { state: START, change: { do: "put", items, label } } : stay(s);
  }
  const made = standingLetters(s, env);
  if (!made) return stay(s);
  const ground = groundOf(env);
  const { lanes, ranks } = made.field.body;
  // One change for all cells: the letters lie over their ground.
  const then = ([id]: readonly number[]): Change =>
    ground ?
      { do: "draw", item: id ?? 0, with: "fill", strokes: [{ colour: ground, runs: [0, lanes * ranks] }, { colour: colourOf(env), runs: runsOf(made.cells) }] }
    : { do: "paint", item: id ?? 0, cells: made.cells, colour: colourOf(env) };
  return { state: START, change: { do: "put", items: [made.field], label }, then };
}

export const letters: Tool<LettersState> = {
  id: "letters",
  purpose: "lines",
  words: "tool.letters",
  about: "tool.letters.about",
  key: "X",
  icon: "M3 16 7 4 11 16M4.5 12H9.5M13 4V16H15.5A3 3 0 0 0 15.5 10H13M15 10A3 3 0 0 0 15 4H13",
  uses: ["kind", "lettering", "linked", "strokes", "ground", "letters", "pattern", "colour", "spacing", "placed", "fieldAlong", "fieldAcross"],
  start: () => START,
  busy: (s) => s.at !== null || s.text !== "",
  on(s, press: Press, env) {
    if (press.is === "words") {
      const text = [...press.text.replace(/\s+/g, " ")].slice(0, MOST_SIGNS).join("");
      return stay({ ...s, text });
    }
    if (press.is === "down") {
      if (!s.text.trim()) return stay({ ...s, at: press.spot.at, next: press.spot.at, dragging: false });
      return stay({ ...s, at: press.spot.at, next: press.spot.at, dragging: true });
    }
    if (press.is === "drag") return stay(s.dragging && s.at && apart(s.at, press.spot.raw) * env.scale > 8 ? { ...s, next: press.spot.at } : s);
    if (press.is === "hover") return stay(s.at ? s : { ...s, next: press.spot.at });
    if (press.is === "up") return s.dragging ? finish(s, env) : stay(s);
    if (press.is === "finish") return finish(s, env);
    if (press.is === "back") return stay({ ...s, at: null, dragging: false });
    if (press.is === "number") return stay({ ...s, typed: { ...s.typed, [press.id]: press.value } });
    return stay(s);
  },
  undo: (s) => (s.at ? { ...s, at: null, dragging: false } : null),
  sketch(s, env): Sketch {
    const f = frame(s);
    const lines = env.uses.lettering === "lines";
    const items = f && lines ? lineLetters(s, env) : [];
    const ink = s.text.trim() ? env.ink(s.text, THIN) : null;
    const mm = ink ? heightOf(s, env) / ink.height : 0;
    // Lines show themselves; there and back they are wider than the words of the font.
    const box = f && ink && !items.length ? ([[0, 0], [ink.width * mm, 0], [ink.width * mm, ink.height * mm], [0, ink.height * mm]] as Pair[]).map((p) => toHall(f, p)) : [];
    const field = f && !lines ? standingLetters(s, env) : null;
    const { fieldAlong, fieldAcross } = env.uses;
    // The lanes of a field as strokes, so that the words can be read before they stand; trials know no cells yet.
    const runs = field && field.cells.length < 20_000 ? lanesOf(field.cells, field.field.body.ranks, field.field, fieldAlong, fieldAcross) : [];
    return {
      items: items.length ? items : field ? [field.field] : [],
      strokes: [...(box.length ? [{ points: box, closed: true, faint: true }] : []), ...runs],
      points: s.at ? [s.at] : [],
      numbers: !s.text.trim() ? [] : [
        { id: "height", words: "use.letters", kind: "length", value: heightOf(s, env), min: 50, max: 20_000 },
        { id: "angle", words: "tool.angle", kind: "degrees", value: f?.heading ?? 0, min: -360, max: 360 },
      ],
      hint: s.text.trim() ? (s.at ? "tool.letters.turn" : "tool.letters.place") : "tool.letters.hint",
      from: s.at,
      words: s.text,
      tells: told(s, env),
    };
  },
};

/** Runs of inked cells as strokes along the fall. */
function lanesOf(cells: readonly number[], ranks: number, f: Frame, along: number, across: number): { points: Pair[] }[] {
  const runs: { points: Pair[] }[] = [];
  for (let i = 0; i < cells.length; i++) {
    const first = cells[i]!;
    let end = first;
    while (cells[i + 1] === end + 1 && (end + 1) % ranks !== 0) end = cells[++i]!;
    const y = Math.floor(first / ranks) * across;
    runs.push({ points: [toHall(f, [((first % ranks) - 0.5) * along, y]), toHall(f, [((end % ranks) + 0.5) * along, y])] });
  }
  return runs;
}
