import { expect, test } from "vitest";
import { analyse } from "../../../src/findings/analyse.js";
import type { AnalysisStage } from "../../../src/findings/analyse-options.js";
import { frameFromRaster } from "../../../src/index.js";
import { makeScene } from "../../simulate/make-scene.js";

const scene = makeScene("nudged", 41_007);
const [baseline, powered] = [scene.baseline, scene.powered].map((frames) =>
  frames
    .slice(0, 1)
    .map(({ width, height, data }) =>
      frameFromRaster({ unit: "degC", width, height, data: Float32Array.from(data) }),
    ),
);

function stagesOf(input: Parameters<typeof analyse>[0]): AnalysisStage[] {
  const ended: AnalysisStage[] = [];
  analyse(input, {}, (stage) => ended.push(stage));
  return ended;
}

test("an analysis tells the end of each of its parts, in their order", () => {
  const { board, view } = scene;
  expect(stagesOf({ baseline: baseline!, powered: powered!, board, view })).toEqual([
    "board",
    "clean",
    "align",
    "rise",
    "hotspots",
    "sources",
    "suspects",
    "findings",
  ]);
});

test("without a board nothing is fitted", () => {
  expect(stagesOf({ baseline: baseline!, powered: powered! })).not.toContain("sources");
});
