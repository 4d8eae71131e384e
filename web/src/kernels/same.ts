/** Keeps of what was told before whatever is told again, so that only what changed is worked out and shown anew. */

type Json = unknown;

/**
 * `now` with every part that equals the one of `before` at its place replaced by it; `before` itself when all of it does. Rows with
 * an `id` are compared with the row of that id, others with the one at their place. Both are plain data, as JSON tells it.
 */
export function kept<T>(before: T, now: T): T {
  return part(before, now) as T;
}

const isRecord = (value: Json): value is Record<string, Json> => typeof value === "object" && value !== null && !Array.isArray(value);
const idOf = (value: Json): Json => (isRecord(value) ? value.id : undefined);

function part(before: Json, now: Json): Json {
  if (before === now) return before;
  if (Array.isArray(before) && Array.isArray(now)) return row(before as Json[], now as Json[]);
  if (isRecord(before) && isRecord(now)) return record(before, now);
  return now;
}

function row(before: readonly Json[], now: Json[]): Json {
  let alike = before.length === now.length;
  // Most rows stand where they stood; the ids are looked up only when one does not.
  let byId: Map<Json, Json> | null = null;
  for (const [i, value] of now.entries()) {
    const id = idOf(value);
    let old = before[i];
    if (id !== undefined && idOf(old) !== id) {
      byId ??= new Map(before.map((b) => [idOf(b), b]));
      old = byId.get(id);
    }
    now[i] = part(old, value);
    alike &&= now[i] === before[i];
  }
  return alike ? before : now;
}

function record(before: Record<string, Json>, now: Record<string, Json>): Json {
  const keys = Object.keys(now);
  let alike = Object.keys(before).length === keys.length;
  for (const key of keys) {
    now[key] = part(before[key], now[key]);
    alike &&= now[key] === before[key] && key in before;
  }
  return alike ? before : now;
}
