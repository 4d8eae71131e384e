/** Pictures that are dropped or pasted on a field: judged, shown there, matched and laid; what cannot be taken is told in place. */
import * as api from "../api/client";
import type { Change } from "../api/generated/Change";
import { jobs } from "./jobs.svelte";
import type { FieldItem } from "./plan.svelte";
import { num, t, why } from "./say.svelte";
import { toasts } from "./toasts.svelte";

/** Largest picture file that the server takes, bytes. */
const MOST = 200 * 2 ** 20;
const NAMES = 3;

export type Arrival = { file: File } | { list: File } | { trouble: string };

/** The one picture or stock list of a drop or a paste, or why there is none; null when nothing came that could be meant for a field. */
export function arrival(data: DataTransfer | null, dropped: boolean): Arrival | null {
  const files = [...(data?.files ?? [])];
  const [file] = files;
  if (!file) {
    const types = data?.types ?? [];
    if (dropped) return types.includes("text/uri-list") || types.includes("text/plain") ? { trouble: t("drop.link") } : null;
    return types.length > 0 ? { trouble: t("drop.nofile") } : null;
  }
  if (files.length > 1) {
    const names = files.slice(0, NAMES).map((f) => f.name);
    return { trouble: t("drop.two", { n: num(files.length), names: names.join(", ") + (files.length > NAMES ? ", …" : "") }) };
  }
  const entry = dropped ? data?.items?.[0]?.webkitGetAsEntry?.() : null;
  if (entry?.isDirectory) return { trouble: t("drop.folder", { file: file.name }) };
  if (file.size === 0) return { trouble: t("drop.empty", { file: file.name }) };
  if (/\.csv$/i.test(file.name) || file.type === "text/csv") return { list: file };
  // What the program itself opens is no picture, and the next step is another one.
  if (/\.toml$/i.test(file.name)) return { trouble: t("drop.plan", { file: file.name }) };
  if (/\.standfast$/i.test(file.name)) return { trouble: t("drop.project", { file: file.name }) };
  if (file.size > MOST) return { trouble: t("drop.large", { file: file.name, size: num(file.size / 2 ** 20) }) };
  return { file };
}

class Arriving {
  /** What is on its way, in words. */
  busy = $state<string | null>(null);
  /** Why the last one was not taken; stays until it is put away or another one comes. */
  word = $state<string | null>(null);

  refuse(word: string) {
    this.word = word;
  }

  /** Gives a picture to a field, matches the field and lays the match, all in one step. */
  async onto(field: FieldItem, file: File) {
    const { name } = field;
    this.word = null;
    this.busy = t("drop.sending", { file: file.name });
    try {
      const { shows } = await api.keepPicture(file);
      await jobs.match({ items: [field.id], goal: null, fewer_changes: null, lay: true, shows }, (why) => {
        if (why === null) toasts.plain("drop.taken", { name, file: file.name }, true);
        else void this.unmatched(field, file, { do: "picture", item: field.id, picture: null, contrast: field.body.contrast, shows }, why);
      });
    } catch (error) {
      this.word = t("drop.refused", { name, file: file.name, why: error instanceof api.Refusal ? why(error) : t("offline") });
    } finally {
      this.busy = null;
    }
  }

  /** A picture that could not be matched is shown all the same, and says why its pieces are as they were. */
  private async unmatched({ name }: FieldItem, file: File, show: Change, because: string) {
    try {
      await api.doChange(show);
      this.word = t("drop.kept", { name, file: file.name, why: because });
    } catch (error) {
      this.word = t("drop.refused", { name, file: file.name, why: error instanceof api.Refusal ? why(error) : t("offline") });
    }
  }
}

export const arriving = new Arriving();
