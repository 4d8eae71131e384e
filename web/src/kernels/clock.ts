/** Times of day as the person at the screen reads them. */

/** `14:03:22` in the zone of this machine, from UTC in the form `2026-05-01T14:03:22Z`; empty for anything else. */
export function timeOfDay(utc: string): string {
  const at = new Date(utc);
  if (utc === "" || Number.isNaN(at.getTime())) return "";
  const two = (n: number) => String(n).padStart(2, "0");
  return `${two(at.getHours())}:${two(at.getMinutes())}:${two(at.getSeconds())}`;
}
