import { describe, expect, it } from "vitest";
import { change, figure, hours, mass, range } from "./numbers";

const plain = (text: string) => text.replace(/[\u202f\u00a0]/g, " ").replace(/\u2060/g, "");

describe("figures", () => {
  it("groups thousands by a thin space that does not break", () => {
    expect(figure(118640, "en")).toBe("118\u202f640");
    expect(figure(999, "en")).toBe("999");
    expect(figure(1234567, "de")).toBe("1\u202f234\u202f567");
  });
  it("never groups decimals", () => expect(figure(1234.56789, "en", 4)).toBe("1\u202f234.5679"));
  it("takes the decimal sign of the language", () => {
    expect(figure(2.5, "en", 1)).toBe("2.5");
    expect(figure(2.5, "de", 1)).toBe("2,5");
  });
  it("writes no sign before a nought", () => expect(figure(-0.01, "en", 1)).toBe("0.0"));
  it("joins a range of one figure", () => {
    expect(plain(range([31, 47], "en"))).toBe("31 – 47");
    expect(range([31.2, 31.4], "en")).toBe("31");
  });
  it("lets a range break nowhere", () => expect(range([31, 47], "en")).not.toMatch(/ /));
  it("shows tenths of hours only when hours are few", () => {
    expect(plain(hours([2.5, 4], "en"))).toBe("2.5 – 4.0");
    expect(plain(hours([31, 47.4], "en"))).toBe("31 – 47");
    expect(hours([0, 0], "en")).toBe("0");
  });
  it("turns to tonnes at a thousand kilograms", () => {
    expect(plain(mass(999, "en"))).toBe("999 kg");
    expect(plain(mass(1010, "en"))).toBe("1.01 t");
  });
  it("gives changes their sign", () => {
    expect(change(0.6, "en", 1)).toBe("+0.6");
    expect(change(-9, "en")).toBe("\u22129");
    expect(change(0.04, "en", 1)).toBe("0.0");
  });
});
