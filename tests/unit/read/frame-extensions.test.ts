import { describe, expect, it } from "vitest";
import { isFrameName, keptEnding } from "../../../src/read/frame-extensions.js";

describe("names of frames", () => {
  it.each([
    ["frame-1.csv", true, ".csv"],
    ["off/Frame.TIFF", true, ".tiff"],
    ["a.b/frame.Png", true, ".png"],
    ["frame.csv.json", false, ".bin"],
    ["a.csv/frame", false, ".bin"],
    ["off/.csv", false, ".bin"],
    ["csv", false, ".bin"],
    ["", false, ".bin"],
  ])("%s", (name, isFrame, ending) => {
    expect(isFrameName(name)).toBe(isFrame);
    expect(keptEnding(name)).toBe(ending);
  });
});
