// page: the rasters of an attempt → what the board is drawn from, on one grid over it.
import { layerOf, type Pictures } from "../../api/pictures.js";
import type { Findings } from "../../findings/findings-schema.js";
import { sampleBilinear } from "../../numeric/sample-bilinear.js";
import { leastColoured } from "../../report/least-coloured.js";
import type { Stage } from "./make-stage.js";
import { greyRange } from "./paint-grey.js";
import type { PaintInput } from "./paint-rise.js";
import { resampleView } from "./resample-view.js";
import type { Threshold } from "./threshold-at.js";

/** Which rise is coloured: the measured one, what the fitted sources make, or what these leave. */
export type RiseLayer = "rise" | "modelled" | "left";

/** An attempt's rasters over the board, and the frame's own for reading off values. */
export interface BoardPicture extends PaintInput {
  readonly stage: Stage;
  readonly frame: Pictures;
  readonly greyC: { readonly low: number; readonly high: number } | null;
  /** Rises below this are not coloured by their height, K, whatever the threshold. */
  readonly leastRiseK: number;
}

/** Lay an attempt over the plane.
 *  @param longest grid points along the longer side.
 *  @returns null where a raster is missing.
 */
export function preparePicture(
  pictures: Pictures,
  stage: Stage,
  layer: RiseLayer,
  longest: number,
): BoardPicture | null {
  const baseline = layerOf(pictures, "baseline");
  const significance = layerOf(pictures, "significance");
  const rise = riseOf(pictures, layer);
  if (baseline === null || significance === null || rise === null) return null;
  const grid = resampleView(stage, pictures, [baseline, rise, significance], longest);
  const [greys, rises, sigmas] = grid.layers as [Float32Array, Float32Array, Float32Array];
  // Modelled rise has no noise of its own: it is drawn by its height alone.
  if (layer === "modelled") sigmas.fill(Number.NaN);
  return {
    width: grid.width,
    height: grid.height,
    baseline: greys,
    rise: rises,
    significance: sigmas,
    stage,
    frame: pictures,
    greyC: greyRange(greys, grid.width),
    leastRiseK: leastColoured(layerOf(pictures, "smoothRise") ?? rise).leastK,
  };
}

/** From where on the rise of a picture is coloured. */
export function paintLimits(
  picture: Pick<BoardPicture, "leastRiseK">,
  threshold: Pick<Threshold, "placeSigma" | "riseK">,
): { leastSigma: number; leastRiseK: number } {
  return { leastSigma: threshold.placeSigma, leastRiseK: Math.max(threshold.riseK, picture.leastRiseK) };
}

/** What a place of the frame shows. */
export interface PointValues {
  readonly baselineC: number;
  readonly riseK: number;
  readonly significance: number;
}

/** Read off a place of the frame; NaN outside. */
export function valuesAt(frame: Pictures, [x, y]: readonly [number, number]): PointValues {
  const { width, height } = frame;
  const isInside = x >= -0.5 && y >= -0.5 && x <= width - 0.5 && y <= height - 0.5;
  const read = (name: string): number => {
    const data = layerOf(frame, name);
    return data === null || !isInside ? Number.NaN : sampleBilinear(data, width, height, x, y);
  };
  return { baselineC: read("baseline"), riseK: read("smoothRise"), significance: read("significance") };
}

function riseOf(pictures: Pictures, layer: RiseLayer): Float32Array | null {
  const rise = layerOf(pictures, "smoothRise");
  if (layer === "rise" || rise === null) return rise;
  const modelled = layerOf(pictures, "modelled");
  if (modelled === null || layer === "modelled") return modelled;
  return rise.map((value, i) => value - modelled[i]!);
}

/** Threshold and noise of a view. */
export function viewThreshold(
  findings: Findings,
  view: number,
): Pick<Findings, "threshold" | "noise" | "options" | "cycle"> {
  const { otherSide } = findings;
  if (view === 0 || !otherSide) return findings;
  const { options, cycle } = findings;
  return {
    options,
    cycle,
    noise: otherSide.noise,
    threshold: { ...findings.threshold, riseK: otherSide.threshold.riseK },
  };
}
