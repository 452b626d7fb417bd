// Pictures of an attempt: what the sources make, over the whole frame, also where the fit saw it shrunk.
import { describe, expect, it } from "vitest";
import { decodePictures, layerOf } from "../../../src/api/pictures.js";
import type { View } from "../../../src/board/board-schema.js";
import { createRaster } from "../../../src/core/raster.js";
import { analyse } from "../../../src/findings/analyse.js";
import { fitFactor } from "../../../src/findings/locate-sources.js";
import { type Frame, frameFromRaster } from "../../../src/frames/frame.js";
import { encodeView } from "../../../src/serve/attempt-pictures.js";
import { makeRandom } from "../../simulate/random.js";
import { makeTwoSides, type SideInput, TWO_SIDED } from "../findings/make-two-sides.js";

const FINER = 2;
/** Centre of the part that heats, where the views of the coarser camera have it (make-two-sides.ts). */
const CENTRE_PX = { top: 2.7 * 30.8 + 9.3, bottom: 127 - (2.7 * 30.8 + 9.3), y: 2.7 * 5.45 + 14.8 } as const;

/** A camera that is finer by `FINER`, with noise of its own. */
function finer({ baseline, powered, view }: SideInput): SideInput {
  const random = makeRandom("a finer camera");
  const frameOf = ({ raster }: Frame): Frame => {
    const [width, height] = [FINER * raster.width, FINER * raster.height];
    const data = Float32Array.from({ length: width * height }, (_, i) => {
      const [x, y] = [Math.floor((i % width) / FINER), Math.floor(i / width / FINER)];
      return raster.data[y * raster.width + x]! + 0.03 * random.normal();
    });
    return frameFromRaster(createRaster("degC", width, height, data));
  };
  const finerView: View = {
    ...view,
    frame: { width: FINER * view.frame.width, height: FINER * view.frame.height },
    fiducials: view.fiducials.map(({ board, pixel: [x, y] }) => ({
      board,
      // Pixel centres are whole numbers: the edges of the pixels are what scales.
      pixel: [FINER * (x + 0.5) - 0.5, FINER * (y + 0.5) - 0.5] as [number, number],
    })),
  };
  return { baseline: baseline.map(frameOf), powered: powered.map(frameOf), view: finerView };
}

/** The largest value and where it is. */
function peakOf(data: Float32Array, width: number): { riseK: number; x: number; y: number } {
  let at = 0;
  data.forEach((value, i) => {
    if (value > data[at]!) at = i;
  });
  return { riseK: data[at]!, x: at % width, y: Math.floor(at / width) };
}

describe("pictures of an attempt", () => {
  it.each([
    ["as fine as the fit", (side: SideInput) => side, 1],
    ["finer than the fit", finer, FINER],
  ] as const)(
    "show what the sources make over the whole frame, in each view of a camera %s",
    (_, camera, factor) => {
      const { top, bottom } = makeTwoSides("top", 0.04, "pictures");
      const analysis = analyse({ ...camera(top), board: TWO_SIDED, otherSide: camera(bottom) });
      const { width, height } = analysis.baseline;
      expect(fitFactor(width * height, 2)).toBe(factor);
      for (const view of [0, 1]) {
        const pictures = decodePictures(encodeView(analysis, view)!.buffer as ArrayBuffer);
        const modelled = layerOf(pictures, "modelled")!;
        expect(modelled.length).toBe(pictures.width * pictures.height);
        const peak = peakOf(modelled, pictures.width);
        const [x, y] = [view === 0 ? CENTRE_PX.top : CENTRE_PX.bottom, CENTRE_PX.y].map(
          (px) => factor * (px + 0.5) - 0.5,
        );
        // The peak of a face that is evenly warm lies in its middle; a pixel of the coarser camera is all that the fit
        // tells.
        expect(Math.hypot(peak.x - x!, peak.y - y!)).toBeLessThan(1.5 * factor);
        // What is seen there is smoothed, and what is modelled is held against the unsmoothed: a fifth at this width.
        const seen = layerOf(pictures, "smoothRise")![peak.y * pictures.width + peak.x]!;
        expect(peak.riseK / seen).toBeGreaterThan(0.8);
        expect(peak.riseK / seen).toBeLessThan(1.25);
      }
      expect(encodeView({ ...analysis, other: null }, 1)).toBeNull();
    },
  );
});
