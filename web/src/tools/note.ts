/** A note: words at a place on the floor. */
import type { Pair } from "../kernels/floor";
import { item, nameOf, type DraftOf } from "./drafts";
import { EMPTY, stay, type Env, type Sketch, type Tool, type Trouble } from "./tool";

interface State {
  at: Pair | null;
  text: string;
  trouble: Trouble;
}
const START: State = { at: null, text: "", trouble: null };
/** Signs that the plan takes in one note. */
export const MOST_SIGNS = 10_000;

/** Signs as the plan counts them: a letter, an emoji, whatever one code point is. */
export const signs = (text: string): number => {
  let n = 0;
  for (const sign of text) n += sign.length > 0 ? 1 : 0;
  return n;
};
/** Control signs but line ends and tabs cannot be printed; what is pasted may hold some, with line ends of other systems. */
export const printable = (text: string): string => text.replace(/\r\n?/g, "\n").replace(/[\p{Cc}]/gu, (c) => (c === "\n" || c === "\t" ? c : ""));

function wrong(text: string): Trouble {
  const n = signs(text);
  if (n > MOST_SIGNS) return { words: "trouble.long", values: { n, most: MOST_SIGNS } };
  return text.trim() === "" ? { words: "trouble.empty" } : null;
}

export function noteOf(s: State, env: Env): DraftOf<"note"> | null {
  const text = printable(s.text);
  return s.at && !wrong(text) ? item(nameOf("Note", env), { x: s.at[0], y: s.at[1], heading: 0 }, { is: "note", text }, env) : null;
}

export const note: Tool<State> = {
  id: "note",
  purpose: "marks",
  words: "tool.note",
  about: "tool.note.about",
  key: "N",
  icon: "M3 4H17V13H9L5 17V13H3ZM6 7H14M6 10H11",
  uses: [],
  start: () => START,
  busy: (s) => s.at !== null,
  on(s, press, env) {
    // Another click carries the words along.
    if (press.is === "down") return stay({ ...s, at: press.spot.at });
    if (press.is === "answer" && press.id === "text") {
      const trouble = signs(press.value) > MOST_SIGNS ? wrong(press.value) : null;
      return stay({ ...s, text: press.value, trouble });
    }
    if (press.is === "finish" && s.at) {
      const made = noteOf(s, env);
      if (!made) return stay({ ...s, trouble: wrong(printable(s.text)) });
      return { state: START, change: { do: "put", items: [made], label: env.say("did.write", { name: made.name }) } };
    }
    if (press.is === "back") return stay(START);
    return stay(s);
  },
  sketch(s): Sketch {
    if (!s.at) return { ...EMPTY, hint: "tool.note.hint" };
    return { ...EMPTY, hint: "tool.note.next", points: [s.at], trouble: s.trouble, asks: [{ is: "text", id: "text", words: "tool.note.words", value: s.text, most: MOST_SIGNS, long: true }] };
  },
};
