/**
 * What the plan takes whole although a form changes one figure of it: made of what holds when its turn comes, be that kept
 * in this browser until there is a connection. Each gives null, or why it was not taken.
 */
import type { GearDraft } from "../api/generated/GearDraft";
import type { Wish } from "../api/generated/Wish";
import { outbox } from "./outbox.svelte";
import { plan, type FieldItem } from "./plan.svelte";

type Refused = Promise<string | null>;
type Frame = Pick<FieldItem["body"], "lanes" | "ranks" | "pitch_along" | "pitch_across" | "stagger" | "fall">;
interface Lot {
  count: number;
  offered: number;
}

export const alterGear = (id: number, to: (gear: GearDraft) => GearDraft): Refused =>
  plan.alter(() => {
    const now = outbox.latest("put-gear", (c) => (c.id === id ? c.gear : undefined)) ?? plan.state?.gear.find((g) => g.id === id);
    if (!now) return null;
    const { name, what, count, owner } = now;
    return { do: "put-gear", id, gear: to({ name, what, count, owner }) };
  });

export const alterLot = (lot: number, to: (now: Lot) => Partial<Lot>): Refused =>
  plan.alter(() => {
    const told = plan.stock?.rows.flatMap((r) => r.lots).find((l) => l.id === lot);
    const now = outbox.latest("count", (c) => (c.lot === lot ? c : undefined)) ?? told;
    if (!now) return null;
    const { count, offered } = now;
    return { do: "count", lot, count, offered, ...to({ count, offered }) };
  });

export const alterWish = (item: number, part: Partial<Wish>): Refused =>
  plan.alter(() => {
    const now = outbox.latest("wish", (c) => (c.item === item ? c.wish : undefined)) ?? plan.field(item)?.body.wish;
    return now ? { do: "wish", item, wish: { ...now, ...part } } : null;
  });

export const alterFrame = (item: number, part: Partial<Frame>): Refused =>
  plan.alter(() => {
    const now = outbox.latest("frame", (c) => (c.item === item ? c : undefined)) ?? plan.field(item)?.body;
    if (!now) return null;
    const { lanes, ranks, pitch_along, pitch_across, stagger, fall } = { ...now, ...part };
    return { do: "frame", item, lanes, ranks, pitch_along, pitch_across, stagger, fall };
  });

export const alterName = (item: number, name: string): Refused =>
  plan.alter(() => {
    const now = plan.items.get(item);
    return now ? { do: "place", item, name, x: now.x, y: now.y, heading: now.heading } : null;
  });
