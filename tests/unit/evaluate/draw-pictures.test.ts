import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { parseXml } from "@rgrove/parse-xml";
import { describe, expect, it } from "vitest";
import { PICTURES, writePictures } from "../../evaluate/draw-pictures.js";
import type { Call, Score } from "../../evaluate/score.js";

const NOTHING: Score = {
  kind: "still",
  seed: 1,
  chain: "faultglow",
  variant: "whole",
  error: null,
  analysisMs: 3,
  rightFirst: true,
  rightPlace: true,
  falseAlarms: 0,
  hotspots: 1,
  positionErrorPx: null,
  positionZ: null,
  alignErrorPx: 0.02,
  nudged: false,
  wattsError: null,
  wattsInside90: null,
  plateTold: "no",
  heating: "rest",
  topProbability: null,
  calls: [],
  restCall: null,
  onsets: [],
  sideProbability: null,
};

function draw(scores: readonly Score[]): Record<keyof typeof PICTURES, string> {
  const folder = mkdtempSync(join(tmpdir(), "faultglow-pictures-"));
  try {
    writePictures(join(folder, "made"), scores);
    const read = (name: string): string => readFileSync(join(folder, "made", name), "utf8");
    return { calibration: read(PICTURES.calibration), position: read(PICTURES.position) };
  } finally {
    rmSync(folder, { recursive: true });
  }
}

describe("the pictures of an evaluation", () => {
  it("are whole SVG files that stand alone", () => {
    for (const svg of Object.values(draw([NOTHING]))) {
      expect(parseXml(svg).root?.attributes["xmlns"]).toBe("http://www.w3.org/2000/svg");
    }
  });

  it("put what was stated to the right and what came true upwards", () => {
    // Four statements of 64 %, three of which came true: the field is 340 wide from 56 and 260 high from 24, and a dot
    // reaches 3 to the left of and above its middle.
    const calls: Call[] = [true, true, true, false].map((came) => [0.64, came]);
    const { calibration } = draw([{ ...NOTHING, calls }]);
    expect(calibration).toContain(`M${56 + 0.64 * 340 - 3} ${24 + 0.25 * 260 - 3}L`);
    expect(calibration).toContain("all suspects (4)");
  });

  it("tell the tool's places from the plain chain's, and leave variants out", () => {
    const { position } = draw([
      { ...NOTHING, positionErrorPx: 0.1 },
      { ...NOTHING, positionErrorPx: 0.4 },
      { ...NOTHING, positionErrorPx: 0.2, variant: "without" },
      { ...NOTHING, positionErrorPx: 3, chain: "plain" },
    ]);
    expect(position).toContain("faultglow (2 sources)");
    expect(position).toContain("plain chain (1 sources)");
    // log(0.1 ÷ 0.01) ÷ log(6 ÷ 0.01) = 0.35995 of 340, from 56 on: half of the tool's sources lie left of it.
    expect(position).toContain("178.38 284L178.38 154L");
  });
});
