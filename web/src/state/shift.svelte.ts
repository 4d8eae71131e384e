/** A section that stands elsewhere than it was drawn: how far it is to be moved, and what that would do. */
import * as api from "../api/client";
import type { SectionMove } from "../api/generated/SectionMove";
import type { SectionStands } from "../api/generated/SectionStands";
import type { SectionTried } from "../api/generated/SectionTried";
import { board } from "./board.svelte";
import { plan } from "./plan.svelte";
import { t, why } from "./say.svelte";
import { toasts } from "./toasts.svelte";

/** Milliseconds after a figure before a move is tried. */
const PAUSE = 150;

class Shift {
  on = $state(false);
  section = $state<number | null>(null);
  east = $state(0);
  north = $state(0);
  turn = $state(0);
  stands = $state.raw<SectionStands | null>(null);
  tried = $state.raw<SectionTried | null>(null);
  /** Why nothing can be told of it. */
  refused = $state("");

  private readonly sections = $derived(plan.state?.sections ?? []);
  readonly moves = $derived(this.east !== 0 || this.north !== 0 || this.turn !== 0);
  private readonly by = $derived.by((): SectionMove | null => (this.stands?.middle ? { east: this.east, north: this.north, turn: this.turn, about: this.stands.middle } : null));

  /** Opens with a section: the one that is named, else that of what is chosen, else the first. */
  begin(section?: number) {
    const names = new Set(board.rows.map((i) => i.section));
    const ofChosen = names.size === 1 ? this.sections.find((s) => names.has(s.name))?.id : undefined;
    this.choose(section ?? ofChosen ?? this.sections[0]?.id ?? null);
    this.on = this.section !== null;
  }

  choose(section: number | null) {
    this.section = section;
    this.stands = this.tried = null;
    this.set(0, 0, 0);
  }

  set(east: number, north: number, turn: number) {
    [this.east, this.north, this.turn] = [east, north, turn];
  }

  close() {
    this.on = false;
    this.choose(null);
  }

  /** Asks where the section stands and what the move would do, again whenever either changes; called by the slip as it opens. */
  keep() {
    $effect(() => {
      void plan.heard;
      const { section } = this;
      if (section === null) return;
      if (plan.state && !this.sections.some((s) => s.id === section)) {
        this.close();
        return;
      }
      let gone = false;
      api.getSection(section).then(
        (stands) => {
          if (!gone) [this.stands, this.refused] = [stands, ""];
        },
        (error: unknown) => {
          if (!gone) this.refused = why(error);
        },
      );
      return () => (gone = true);
    });
    $effect(() => {
      const { section, by, moves } = this;
      if (section === null || !by || !moves) {
        this.tried = null;
        return;
      }
      let gone = false;
      const wait = setTimeout(() => {
        api.trySection(section, by).then(
          (tried) => {
            if (!gone) this.tried = tried;
          },
          (error: unknown) => {
            if (!gone) this.refused = why(error);
          },
        );
      }, PAUSE);
      return () => {
        gone = true;
        clearTimeout(wait);
      };
    });
  }

  /** Moves it, as one step. */
  async save() {
    const { section, by } = this;
    const name = this.sections.find((s) => s.id === section)?.name;
    if (section === null || !by || name === undefined) return;
    if (!(await plan.do({ do: "shift-section", id: section, by }))) return;
    this.close();
    toasts.say(t("shift.done", { name }), true);
  }
}

export const shift = new Shift();
