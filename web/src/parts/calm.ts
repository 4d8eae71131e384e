/** Whether somebody wants as little motion as can be. */
export const calm = (): boolean => matchMedia("(prefers-reduced-motion: reduce)").matches;
