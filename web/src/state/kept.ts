/** Small things kept in this browser; a browser that keeps nothing is no reason to fail. */

export function kept(key: string): string | null {
  try {
    return localStorage.getItem(`standfast.${key}`);
  } catch {
    return null;
  }
}

export function keep(key: string, value: string): void {
  try {
    localStorage.setItem(`standfast.${key}`, value);
  } catch {
    // Private windows may refuse; the choice then lasts as long as the page.
  }
}
