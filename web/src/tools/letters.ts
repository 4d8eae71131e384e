/** Words: as lines to be laid, or standing in a field whose pieces show them. */
import type { Change } from "../api/generated/Change";
import type { Pair } from "../kernels/floor";
import { apart, direction, round, toHall, turn, type Frame } from "../kernels/frames";
import { linked, type Linked } from "../kernels/linked";
import { medial } from "../kernels/medial";
import type { Ink } from "../kernels/thin";
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
/** Lanes or ranks that one field takes. */
const MOST_LANES = 2000;

/** Thinning takes long; the same words are asked for at every move. */
let last: { ink: Ink; height: number; pitch: number; below: boolean; written: Linked } | null = null;

/** The lines of words in millimetres, from the lower left corner; `height` is that of the whole line. */
export function written(ink: Ink, height: number, pitch: number, below: boolean): Linked {
  if (last && last.ink === ink && last.height === height && last.pitch === pitch && last.below === below) return last.written;
  last = { ink, height, pitch, below, written: linked(medial(ink, height / ink.height), pitch, below) };
  return last.written;
}
/** From piece to piece along a line, mm. */
function pitchOf(env: Env): number {
  const kind = env.plan.kinds.find((k) => k.id === kindOf(env));
  return env.uses.spacing + (env.uses.spacedBy === "gap" ? (kind?.thickness ?? 7.5) : 0);
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
  return written(ink, heightOf(s, env), pitchOf(env), env.uses.linked).lines.map(({ frame: own, path, from }) => {
    const [x, y] = toHall(f, [own.x, own.y]);
    const body = lineBody(path, env, { from: from && { item: from.line, port: from.port, sent: true }, to: null });
    return { ...item(name(), { x, y, heading: own.heading + f.heading }, { ...body, lanes: 1 }, env), group };
  });
}

/** What of the words no fall comes to but that of a start of its own. */
function told(s: LettersState, env: Env): Told {
  const ink = s.text.trim() && env.uses.lettering === "lines" ? env.ink(s.text, THIN) : null;
  if (!ink) return null;
  const width = env.plan.kinds.find((k) => k.id === kindOf(env))?.width ?? 0;
  if (width > WIDEST) return { words: "tool.letters.wide", lengths: { most: WIDEST } };
  const { lines, alone, lost } = written(ink, heightOf(s, env), pitchOf(env), env.uses.linked);
  if (lines.length === 0) return { words: "tool.letters.small" };
  return alone.length || lost ? { words: "tool.letters.alone", values: { alone: alone.length, lost } } : { words: "tool.letters.one" };
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
  if (!s.at || !s.text.trim()) return stay(s);
  const label = env.say("did.write", { name: s.text.trim() });
  if (env.uses.lettering === "lines") {
    const items = lineLetters(s, env);
    return items.length ? { state: START, change: { do: "put", items, label }, done: true } : stay(s);
  }
  const made = standingLetters(s, env);
  if (!made) return stay(s);
  const then = ([id]: readonly number[]): Change => ({ do: "paint", item: id ?? 0, cells: made.cells, colour: colourOf(env) });
  return { state: START, change: { do: "put", items: [made.field], label }, then, done: true };
}

export const letters: Tool<LettersState> = {
  id: "letters",
  purpose: "lines",
  words: "tool.letters",
  about: "tool.letters.about",
  key: "X",
  icon: "M3 16 7 4 11 16M4.5 12H9.5M13 4V16H15.5A3 3 0 0 0 15.5 10H13M15 10A3 3 0 0 0 15 4H13",
  uses: ["kind", "lettering", "linked", "letters", "pattern", "colour", "spacing", "placed", "fieldAlong", "fieldAcross"],
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
  sketch(s, env): Sketch {
    const f = frame(s);
    const lines = env.uses.lettering === "lines";
    const items = f && lines ? lineLetters(s, env) : [];
    const ink = s.text.trim() ? env.ink(s.text, THIN) : null;
    const mm = ink ? heightOf(s, env) / ink.height : 0;
    const box = f && ink ? ([[0, 0], [ink.width * mm, 0], [ink.width * mm, ink.height * mm], [0, ink.height * mm]] as Pair[]).map((p) => toHall(f, p)) : [];
    const field = f && !lines ? standingLetters(s, env) : null;
    const { fieldAlong, fieldAcross } = env.uses;
    // The lanes of a field as strokes, so that the words can be read before they stand; trials know no cells yet.
    const runs = field && field.cells.length < 20_000 ? lanesOf(field.cells, field.field.body.ranks, field.field, fieldAlong, fieldAcross) : [];
    return {
      items: items.length ? items : field ? [field.field] : [],
      strokes: [...(box.length ? [{ points: box, closed: true, faint: true }] : []), ...runs],
      points: s.at ? [s.at] : [],
      numbers: [
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
