/** The text of help in the language of this browser; it comes from the program itself, when it is wanted. */
import type { Language } from "../i18n";
import type { Book } from "../kernels/help";
import { prefs } from "./prefs.svelte";

const FETCH: Record<Language, () => Promise<{ book: Book }>> = {
  en: () => import("../views/help/en"),
  de: () => import("../views/help/de"),
};

class Books {
  private books = $state.raw<Partial<Record<Language, Book>>>({});
  /** It could not be had. */
  away = $state(false);

  readonly now = $derived(this.books[prefs.language] ?? null);

  /** Fetches the text of a language, once. */
  async load(language: Language) {
    if (this.books[language]) return;
    try {
      const { book } = await FETCH[language]();
      this.books = { ...this.books, [language]: book };
      this.away = false;
    } catch {
      this.away = true;
    }
  }
}

export const books = new Books();
