// Two sizes of frames that should be of one → what mostly makes them, and what to do.
import { describe, expect, it } from "vitest";
import { sizeFix } from "../../../src/findings/size-fix.js";

const size = (width: number, height: number) => ({ width, height });

describe("sizeFix", () => {
  it.each([
    ["turned by a quarter", size(128, 96), size(96, 128), /^One of them lies turned by a quarter/],
    ["decimal commas between commas", size(128, 96), size(256, 96), /^If commas stand for decimals/],
    ["the same, in the baseline", size(256, 96), size(128, 96), /^If commas stand for decimals/],
    ["a file cut off", size(128, 96), size(128, 48), /^The file with fewer rows may have been cut off/],
    ["another camera", size(160, 120), size(128, 96), /^Export all frames at the same resolution$/],
    ["half as fine", size(128, 96), size(64, 48), /^Export all frames at the same resolution$/],
  ])("%s", (_, first, other, fix) => {
    expect(sizeFix(first, other)).toMatch(fix);
    expect(sizeFix(first, other)).toMatch(/[a-z]$/);
  });
});
