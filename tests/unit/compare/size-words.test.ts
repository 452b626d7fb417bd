import { describe, expect, it } from "vitest";
import { sizeWords } from "../../../src/compare/size-words.js";

type Given = Parameters<typeof sizeWords>[0];
const NONE: Given["riseK"] = [null, null];
const words = (change: Given["change"], numbers: Partial<Given>): string =>
  sizeWords({ change, riseK: NONE, powerW: NONE, perWatt: NONE, ...numbers });

describe("sizeWords", () => {
  it("nothing where all numbers go the way of the change, are not known, or no change of strength is told", () => {
    expect(words("hotter", { riseK: [4.1, 6.7], powerW: [0.11, 0.17], perWatt: [0.2, 0.31] })).toBe("");
    expect(words("cooler", { riseK: [6.7, 4.1], powerW: [0.17, 0.11] })).toBe("");
    expect(words("hotter", { powerW: [null, 0.17] })).toBe("");
    // They look the same.
    expect(words("hotter", { powerW: [0.172, 0.17] })).toBe("");
    for (const change of ["persisted", "gone", "new", "unsure"] as const) {
      expect(words(change, { powerW: [0.2, 0.1] })).toBe("");
    }
  });

  it("watts that go the other way are said", () => {
    expect(words("hotter", { riseK: [9.1, 20], powerW: [0.13, 0.0091] })).toBe(", though its watts fall");
    expect(words("cooler", { riseK: [20, 9.1], powerW: [0.0091, 0.13] })).toBe(", though its watts rise");
    expect(words("hotter", { powerW: [0.2, 0.1], perWatt: [0.4, 0.3] })).toBe(", though its watts fall");
    expect(words("hotter", { powerW: [0.1, 0.15], perWatt: [0.5, 0.25] })).toBe(
      ", though its share of what was fed in falls",
    );
  });

  it("so is a share of what was fed in that goes the other way", () => {
    expect(words("cooler", { powerW: [0.15, 0.1], perWatt: [0.25, 0.5] })).toBe(
      ", though its share of what was fed in rises",
    );
  });

  it("so is what holds per watt fed in alone", () => {
    expect(words("hotter", { riseK: [6, 4], powerW: [0.1, 0.08], perWatt: [0.4, 0.8] })).toBe(
      " per watt fed in",
    );
    expect(words("cooler", { riseK: [4, 6], perWatt: [0.8, 0.4] })).toBe(" per watt fed in");
  });

  it("a rise that goes the other way, where nothing tells what was fed in", () => {
    expect(words("hotter", { riseK: [6, 4], powerW: [0.1, 0.2] })).toBe(
      ", though its warmest spot is cooler",
    );
    expect(words("cooler", { riseK: [4, 6], powerW: [0.2, 0.1] })).toBe(
      ", though its warmest spot is warmer",
    );
  });
});
