import { describe, expect, it } from "vitest";
import { cropOf, cropped, shaped, type Crop } from "./crop";

describe("the part of a picture", () => {
  it("is the same whichever corner comes first, and stays within the picture", () => {
    expect(cropOf([0.2, 0.8], [0.6, 0.3])).toEqual([0.2, 0.3, 0.6, 0.8]);
    expect(cropOf([0.6, 0.3], [0.2, 0.8])).toEqual([0.2, 0.3, 0.6, 0.8]);
    expect(cropOf([-1, -1], [2, 2])).toEqual([0, 0, 1, 1]);
    expect(cropOf([0.5, 0.5], [0.501, 0.9])).toBeNull();
  });
  it("never turns inside out", () => {
    const crop: Crop = [0.2, 0.2, 0.6, 0.6];
    for (let edge = 0; edge < 4; edge++) {
      for (const to of [-1, 0, 0.4, 0.6, 0.9, 3]) {
        const [l, t, r, b] = cropped(crop, edge, to);
        expect(l < r && t < b && l >= 0 && t >= 0 && r <= 1 && b <= 1).toBe(true);
      }
    }
    expect(cropped(crop, 2, 0.9)).toEqual([0.2, 0.2, 0.9, 0.6]);
  });
  it("takes a shape around its middle without growing", () => {
    for (const aspect of [0.5, 1, 1.7]) {
      const [l, t, r, b] = shaped([0.1, 0.2, 0.9, 0.7], aspect);
      expect((r - l) / (b - t)).toBeCloseTo(aspect, 9);
      expect([(l + r) / 2, (t + b) / 2].map((v) => v.toFixed(9))).toEqual(["0.500000000", "0.450000000"]);
      expect(l >= 0.1 - 1e-12 && t >= 0.2 - 1e-12 && r <= 0.9 + 1e-12 && b <= 0.7 + 1e-12).toBe(true);
    }
  });
});
