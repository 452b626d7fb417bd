// A public photograph shifted in the frequency domain by known fractions of a pixel.
// Made by tests/reference/scripts/align_camera.py; the method and its check (scikit-image recovers a Fourier shift
// to 1/100 px): Guizar-Sicairos, Thurman & Fienup 2008, doi 10.1364/OL.33.000156.
import { readFileSync } from "node:fs";
import { PNG } from "pngjs";
import { describe, expect, it } from "vitest";
import { alignFrames } from "../../src/align/align-frames.js";
import { createRaster, type Raster } from "../../src/core/raster.js";

interface CameraCases {
  readonly baseline: string;
  readonly cases: readonly {
    readonly file: string;
    readonly dxPx: number;
    readonly dyPx: number;
    readonly phaseCorrelation: readonly [number, number];
  }[];
}

const place = (file: string) => new URL(`data/${file}`, import.meta.url);
const { baseline, cases } = JSON.parse(readFileSync(place("align-camera.json"), "utf8")) as CameraCases;

/** An 8-bit grey picture as if a level were a tenth of a kelvin. */
function readGrey(file: string): Raster<"degC"> {
  const { data, width, height } = PNG.sync.read(readFileSync(place(file)));
  return createRaster(
    "degC",
    width,
    height,
    Float32Array.from({ length: width * height }, (_, i) => 15 + 0.1 * data[4 * i]!),
  );
}

describe("alignFrames on a photograph (skimage.data.camera, 128×96 of it)", () => {
  it.each(cases)("content moved by ($dxPx, $dyPx) px", ({ file, dxPx, dyPx, phaseCorrelation }) => {
    const found = alignFrames(readGrey(baseline), readGrey(file));
    expect(found.trusted).toBe(true);
    // The library's own registration of the same rounded cuts is off by up to 0.03 px on an axis: the same is asked
    // for here, with a margin for the cubic filter that stands in for the sinc (detail above half of the sampling
    // rate differs by a few percent, which the band-pass does not take away wholly).
    const LIMIT_PX = 0.05;
    expect(Math.abs(found.transform.dxPx - dxPx)).toBeLessThan(LIMIT_PX);
    expect(Math.abs(found.transform.dyPx - dyPx)).toBeLessThan(LIMIT_PX);
    expect(Math.hypot(phaseCorrelation[0] - dxPx, phaseCorrelation[1] - dyPx)).toBeLessThan(LIMIT_PX);
    // Over half a frame of 64 px, 0.05 px of turn are 0.0008 rad.
    expect(Math.abs(found.transform.angleRad)).toBeLessThan(LIMIT_PX / 64);
  });

  it("the way back is the opposite", () => {
    const { file, dxPx, dyPx } = cases[0]!;
    const back = alignFrames(readGrey(file), readGrey(baseline)).transform;
    expect(Math.abs(back.dxPx + dxPx)).toBeLessThan(0.05);
    expect(Math.abs(back.dyPx + dyPx)).toBeLessThan(0.05);
  });
});
