/** Names and words that somebody wrote may be as long as a book: where many are shown, each has so many signs. */

/** Signs of a name on the floor, beside a bar, and within a sentence. */
export const ON_TAPE = 28;
export const IN_WORDS = 80;

/** A text of so many signs at most; `…` where there is more. */
export function brief(text: string, most: number): string {
  // Signs may take two units each; of a very long text only its beginning is looked at.
  if (text.length <= most) return text;
  const signs = [...text.slice(0, 2 * most + 1)];
  return signs.length <= most ? text : `${signs.slice(0, most - 1).join("").trimEnd()}…`;
}
