import { describe, expect, it } from "vitest";
import { planner, when } from "./when";

const now = new Date("2026-05-02T09:00:00Z");

describe("times of steps", () => {
  it("name the day only when it is another", () => {
    expect(when("2026-05-02T07:03:22Z", now, "en", "UTC")).toBe("07:03");
    expect(when("2026-05-01T14:03:22Z", now, "en", "UTC")).toBe("1 May, 14:03");
    expect(when("2025-12-31T23:59:00Z", now, "en", "UTC")).toBe("31 Dec 2025, 23:59");
    expect(when("2026-05-01T14:03:22Z", now, "de", "UTC")).toMatch(/^1\. Mai.*14:03$/);
  });
  it("go by the day of the zone", () => expect(when("2026-05-01T23:30:00Z", now, "en", "Europe/Berlin")).toBe("01:30"));
  it("are empty for what is no time", () => expect([when("", now, "en"), when("soon", now, "en")]).toEqual(["", ""]));
});

describe("who took a step", () => {
  it("is the planner here or at an address, or a name", () => {
    expect([planner("planner"), planner("planner at 10.0.0.7"), planner("Ines"), planner("planner at")]).toEqual([{ address: "" }, { address: "10.0.0.7" }, null, null]);
  });
});
