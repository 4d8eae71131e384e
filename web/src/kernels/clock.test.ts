import { describe, expect, it } from "vitest";
import { timeOfDay } from "./clock";

describe("timeOfDay", () => {
  it("reads UTC and shows local time", () => {
    const at = new Date(2026, 4, 1, 7, 3, 22);
    expect(timeOfDay(at.toISOString())).toBe("07:03:22");
  });
  it("shows nothing rather than nonsense", () => {
    expect(timeOfDay("")).toBe("");
    expect(timeOfDay("soon")).toBe("");
  });
});
