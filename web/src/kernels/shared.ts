/**
 * A look at something that changes: whoever asks while one is under way shares one more, which begins when it is over, so that
 * what is answered is never older than the question and no more than two looks are under way for any number of askers.
 */
export function shared(look: () => Promise<void>): () => Promise<void> {
  let now: Promise<void> | null = null;
  let next: Promise<void> | null = null;
  const begin = (): Promise<void> => {
    const one = look().finally(() => {
      if (now === one) now = null;
    });
    now = one;
    return one;
  };
  return () => {
    // One that has not begun yet answers whoever asks now, also when the one before it has just ended.
    if (next) return next;
    if (!now) return begin();
    next = now
      .catch(() => undefined)
      .then(() => {
        next = null;
        return begin();
      });
    return next;
  };
}
