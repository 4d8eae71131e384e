/** Small things kept in this browser; a browser that keeps nothing is no reason to fail. */

const PREFIX = "standfast.";

export function kept(key: string): string | null {
  try {
    return localStorage.getItem(PREFIX + key);
  } catch {
    return null;
  }
}

/** False when the browser does not take it: private windows may refuse, and room is bounded. The choice then lasts as long as the page. */
export function keep(key: string, value: string): boolean {
  try {
    localStorage.setItem(PREFIX + key, value);
    return true;
  } catch {
    return false;
  }
}

export function drop(key: string): void {
  try {
    localStorage.removeItem(PREFIX + key);
  } catch {
    // What was never kept is gone already.
  }
}

/** What is kept under names that begin so, in no order. */
export function namesOf(begin: string): string[] {
  try {
    return Object.keys(localStorage).flatMap((key) => (key.startsWith(PREFIX + begin) ? key.slice(PREFIX.length) : []));
  } catch {
    return [];
  }
}
