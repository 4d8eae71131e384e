/** Finding by words that are typed roughly: parts of words, left-out letters, one wrong letter, other accents. */

/** Something that can be found by any of its names. */
export interface Named {
  /** The name as it is shown. */
  name: string;
  /** Its names in other languages. */
  others: readonly string[];
  /** Words that only hint at it; what has a name like that comes first. */
  hints?: readonly string[];
}

/** How well something fits, and which signs of its shown name were hit. */
export interface Fit {
  score: number;
  marks: [from: number, to: number][];
}

interface Folded {
  text: string;
  /** For each sign of the folded text its place in the original one. */
  at: number[];
}

/** Small letters without accents; "ß" is "ss". */
export function fold(text: string): Folded {
  let folded = "";
  const at: number[] = [];
  for (let i = 0; i < text.length; i++) {
    const plain = text[i]!.normalize("NFD").replace(/[\u0300-\u036f]/g, "").toLowerCase().replace("ß", "ss");
    for (const sign of plain) {
      folded += sign;
      at.push(i);
    }
  }
  return { text: folded, at };
}

const isWordSign = (sign: string | undefined) => sign !== undefined && /[\p{L}\p{N}]/u.test(sign);

/** Whether `a` becomes the beginning of `b` by one wrong, missing, added or swapped sign. */
export function nearlyBegins(a: string, b: string): boolean {
  let i = 0;
  while (i < a.length && i < b.length && a[i] === b[i]) i++;
  if (i === a.length) return true;
  const rest = a.slice(i);
  return (
    b.slice(i + 1).startsWith(rest.slice(1)) ||
    b.slice(i + 1).startsWith(rest) ||
    b.slice(i).startsWith(rest.slice(1)) ||
    (rest.length > 1 && b.slice(i).startsWith(rest[1]! + rest[0]! + rest.slice(2)))
  );
}

function fitToken(token: string, name: Folded): { score: number; from: number; to: number }[] | null {
  const { text } = name;
  for (let from = text.indexOf(token); from >= 0; from = text.indexOf(token, from + 1)) {
    if (from > 0 && isWordSign(text[from - 1])) continue;
    const to = from + token.length;
    return [{ score: (isWordSign(text[to]) ? 100 : 120) - Math.min(20, from), from, to }];
  }
  const inside = text.indexOf(token);
  if (inside >= 0 && token.length > 1) return [{ score: 60 - Math.min(20, inside), from: inside, to: inside + token.length }];
  const words = [...text.matchAll(/[\p{L}\p{N}]+/gu)];
  if (token.length >= 4) {
    const near = words.find((w) => nearlyBegins(token, w[0]));
    if (near) return [{ score: 40, from: near.index, to: near.index + Math.min(near[0].length, token.length) }];
  }
  if (token.length < 2) return null;
  // Letters in their order, the first one at the beginning of a word, not too far apart.
  for (const word of words) {
    const hits: number[] = [];
    let from = word.index;
    for (const sign of token) {
      const hit: number = text.indexOf(sign, from);
      if (hit < 0) break;
      hits.push(hit);
      from = hit + 1;
    }
    const last = hits.at(-1) ?? 0;
    if (hits.length === token.length && hits[0] === word.index && last - word.index < token.length * 4) {
      const spread = last - word.index + 1 - token.length;
      return hits.map((hit, i) => ({ score: i === 0 ? Math.max(5, 30 - spread) : 0, from: hit, to: hit + 1 }));
    }
  }
  return null;
}

/** The words of a question, folded. */
export const tokens = (question: string): string[] => fold(question).text.split(/\s+/).filter(Boolean);

/** How well something fits the words of a question; null when one of them is not in it. */
export function fit(words: readonly string[], named: Named): Fit | null {
  const shown = fold(named.name);
  const others = [...named.others.map((o) => ({ text: fold(o), less: 10, hint: false })), ...(named.hints ?? []).map((h) => ({ text: fold(h), less: 50, hint: true }))];
  const marks: [number, number][] = [];
  let sum = 0;
  for (const word of words) {
    const own = fitToken(word, shown);
    let best = own ? own.reduce((s, h) => s + h.score, 0) : 0;
    let mark = own;
    for (const other of others) {
      // Two letters are in too many hints.
      if (other.hint && word.length < 3) continue;
      const found = fitToken(word, other.text);
      const score = found ? found.reduce((s, h) => s + h.score, 0) - other.less : 0;
      if (score > best) [best, mark] = [score, null];
    }
    if (best <= 0) return null;
    sum += best;
    for (const hit of mark ?? []) marks.push([shown.at[hit.from]!, shown.at[hit.to - 1]! + 1]);
  }
  marks.sort((a, b) => a[0] - b[0]);
  return { score: words.length ? sum / words.length - Math.min(10, named.name.length / 8) : 0, marks: joined(marks) };
}

function joined(marks: [number, number][]): [number, number][] {
  const out: [number, number][] = [];
  for (const [from, to] of marks) {
    const last = out.at(-1);
    if (last && from <= last[1]) last[1] = Math.max(last[1], to);
    else out.push([from, to]);
  }
  return out;
}

/** What fits, best first; of equals the one that stands first in the list. At most `most`. */
export function ranked<T extends Named>(question: string, list: readonly T[], most: number): { of: T; fit: Fit }[] {
  const words = tokens(question);
  const found = list.flatMap((of) => {
    const f = fit(words, of);
    return f ? [{ of, fit: f }] : [];
  });
  // Sorting keeps the order of equals.
  return found.sort((a, b) => b.fit.score - a.fit.score).slice(0, most);
}

/** A name in parts, hit or not. */
export function parts(name: string, marks: readonly (readonly [number, number])[]): { text: string; hit: boolean }[] {
  const out: { text: string; hit: boolean }[] = [];
  let from = 0;
  for (const [a, b] of marks) {
    if (a > from) out.push({ text: name.slice(from, a), hit: false });
    out.push({ text: name.slice(a, b), hit: true });
    from = b;
  }
  if (from < name.length) out.push({ text: name.slice(from), hit: false });
  return out;
}
