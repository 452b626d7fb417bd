import { describe, expect, it } from "vitest";
import { labelComponents } from "../../../src/numeric/label-components.js";

describe("labelComponents", () => {
  it("numbers by the first pixel in reading order, also when arms meet late", () => {
    // The left arm of the second component starts later than its right arm, and they meet in the last row.
    const mask = Uint8Array.from("10010" + "00010" + "01010" + "01110", Number);
    const { labels, count } = labelComponents(mask, 5, 4, 4);
    expect(count).toBe(2);
    expect(Array.from(labels).join("")).toBe("10020000200202002220");
  });

  it("rows don't join at their ends", () => {
    expect(labelComponents(Uint8Array.of(0, 0, 1, 1, 0, 0), 3, 2, 8).count).toBe(2);
  });

  it("a diagonal either way is one by corners and two by sides", () => {
    expect(labelComponents(Uint8Array.of(1, 0, 0, 1), 2, 2, 8).count).toBe(1);
    expect(labelComponents(Uint8Array.of(0, 1, 1, 0), 2, 2, 8).count).toBe(1);
    expect(labelComponents(Uint8Array.of(0, 1, 1, 0), 2, 2, 4).count).toBe(2);
  });

  it("takes any value but 0, leaves the mask alone, and refuses a size that does not fit", () => {
    const mask = Uint8Array.of(9, 0, 255);
    expect(labelComponents(mask, 3, 1, 4)).toEqual({ labels: Int32Array.of(1, 0, 2), count: 2 });
    expect(Array.from(mask)).toEqual([9, 0, 255]);
    expect(labelComponents(new Uint8Array(6), 2, 3, 4).count).toBe(0);
    expect(() => labelComponents(mask, 2, 2, 4)).toThrow(RangeError);
  });
});
