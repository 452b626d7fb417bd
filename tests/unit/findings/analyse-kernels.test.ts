import { afterEach, describe, it } from "vitest";
import { analyse } from "../../../src/findings/analyse.js";
import { frameFromRaster } from "../../../src/frames/frame.js";
import { useKernels } from "../../../src/numeric/kernels.js";
import { makeScene } from "../../simulate/make-scene.js";
import { agreed } from "../numeric/both-ways.js";

afterEach(() => useKernels(true));

/** The laws of single kernels are tested with them; here all of them run one after the other, on one memory. */
describe("analyse", () => {
  it.each([
    ["nudged", 70_021],
    ["burst", 70_022],
  ] as const)("gives the same findings with the kernels and by the plain code: %s", (kind, seed) => {
    const scene = makeScene(kind, seed);
    agreed(() => {
      const { findings, rise } = analyse({
        baseline: scene.baseline.map((raster) => frameFromRaster(raster)),
        powered: scene.powered.map((raster) => frameFromRaster(raster)),
        board: scene.board,
        view: scene.view,
        rateHz: scene.rateHz,
      });
      return { findings: JSON.stringify(findings), rise: rise.data };
    });
  });
});
