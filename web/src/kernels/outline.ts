/** The list of items as a tree: section, group, item; flattened to the rows that are shown. */

export interface Listed {
  id: number;
  name: string;
  section: string;
  group: number | null;
  sort: string;
}
export type Row<T extends Listed> =
  | { is: "section"; key: string; level: 1; section: string; items: readonly T[]; open: boolean }
  | { is: "group"; key: string; level: 2; group: number; items: readonly T[]; open: boolean }
  | { is: "item"; key: string; level: 2 | 3; item: T };

/** Small letters without accents. */
const plain = (text: string) => text.normalize("NFD").replace(/\p{M}/gu, "").toLowerCase();

/**
 * Sections in the order given, then items without one; groups and items in order of name, figures by their value.
 * A question keeps what has all of its words in name, sort or section, and opens everything. Sections without items are shown
 * while nothing is asked.
 */
export function outlineRows<T extends Listed>(items: readonly T[], sections: readonly string[], closed: ReadonlySet<string>, question: string, sortWords: (sort: string) => string): Row<T>[] {
  const words = plain(question).split(/\s+/).filter(Boolean);
  const fits = (i: T) => words.length === 0 || words.every((w) => plain(`${i.name} ${sortWords(i.sort)} ${i.section}`).includes(w));
  const compare = new Intl.Collator(undefined, { numeric: true, sensitivity: "base" }).compare;
  const bySection = new Map<string, T[]>(sections.map((s) => [s, []]));
  if (!bySection.has("")) bySection.set("", []);
  for (const item of items) {
    if (!fits(item)) continue;
    const inside = bySection.get(item.section);
    if (inside) inside.push(item);
    else bySection.set(item.section, [item]);
  }
  const rows: Row<T>[] = [];
  for (const [section, inside] of bySection) {
    if (inside.length === 0 && (section === "" || words.length > 0)) continue;
    const key = `s ${section}`;
    const open = words.length > 0 || !closed.has(key);
    rows.push({ is: "section", key, level: 1, section, items: inside, open });
    if (!open) continue;
    const groups = new Map<number, T[]>();
    for (const item of inside) if (item.group !== null) groups.set(item.group, [...(groups.get(item.group) ?? []), item]);
    const singly = inside.filter((i) => i.group === null || groups.get(i.group)!.length < 2);
    const entries: { name: string; id: number; items: T[]; group: number | null }[] = [
      ...singly.map((i) => ({ name: i.name, id: i.id, items: [i], group: null })),
      ...[...groups].filter(([, of]) => of.length > 1).map(([group, of]) => {
        const sorted = [...of].sort((a, b) => compare(a.name, b.name) || a.id - b.id);
        return { name: sorted[0]!.name, id: sorted[0]!.id, items: sorted, group };
      }),
    ].sort((a, b) => compare(a.name, b.name) || a.id - b.id);
    for (const entry of entries) {
      if (entry.group === null) {
        rows.push({ is: "item", key: `i ${entry.id}`, level: 2, item: entry.items[0]! });
        continue;
      }
      const groupKey = `g ${section} ${entry.group}`;
      const groupOpen = words.length > 0 || !closed.has(groupKey);
      rows.push({ is: "group", key: groupKey, level: 2, group: entry.group, items: entry.items, open: groupOpen });
      if (groupOpen) rows.push(...entry.items.map((item): Row<T> => ({ is: "item", key: `i ${item.id}`, level: 3, item })));
    }
  }
  return rows;
}

/** The items that a row stands for. */
export const idsOf = <T extends Listed>(row: Row<T>): number[] => (row.is === "item" ? [row.item.id] : row.items.map((i) => i.id));

/** All items from one row to another, both with it. */
export function between<T extends Listed>(rows: readonly Row<T>[], a: string, b: string): number[] {
  const [i, j] = [rows.findIndex((r) => r.key === a), rows.findIndex((r) => r.key === b)];
  if (j < 0) return [];
  const from = i < 0 ? j : i;
  return [...new Set(rows.slice(Math.min(from, j), Math.max(from, j) + 1).filter((r) => r.is === "item" || !r.open).flatMap(idsOf))];
}

/** The rows that a window shows, with some to spare on both sides. */
export function shown(count: number, height: number, row: number, scrolled: number, spare = 8): [number, number] {
  const first = Math.max(0, Math.floor(scrolled / row) - spare);
  return [Math.min(first, Math.max(0, count - 1)), Math.min(count, Math.ceil((scrolled + height) / row) + spare)];
}
