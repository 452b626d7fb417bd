// serve: an attempt of a job → the pictures of one of its views as a block of bytes, kept so that they are made once.
import { encodePictures, type Layer } from "../api/pictures.js";
import { ToolError } from "../core/errors.js";
import type { Analysis } from "../findings/analysis.js";
import { heatInViews } from "../findings/heat-in-view.js";
import { growRaster } from "../sources/shrink-frame.js";
import { analyseKept } from "../store/analyse-kept.js";
import { openJob } from "../store/open-job.js";
import { keepPictures, readKeptPictures } from "./kept-pictures.js";
import type { DoWork } from "./works.js";

/** Give the pictures of an attempt; analyses it anew where they are not kept, or not whole.
 *  @throws ToolError E_BENCH_NONE if the attempt has no such view; those of opening, reading and analysing. */
export const attemptPictures: DoWork<"pictures"> = async ({ folder, number, view, cache }, options) => {
  const kept = await readKeptPictures(cache);
  if (kept !== null) return kept;
  const job = await openJob(folder);
  const attempt = job.attempts.find((one) => one.attempt.number === number);
  const analysis = attempt === undefined ? null : await analyseKept(folder, attempt.attempt, options);
  const block = analysis === null ? null : encodeView(analysis, view);
  if (block === null) {
    throw new ToolError("E_BENCH_NONE", {
      problem: `attempt ${number} has no ${view === 0 ? "frames" : "second view"}`,
      fix: "Load the page again",
    });
  }
  await keepPictures(cache, block);
  return block;
};

/** Put the pictures of one view into a block; null for a second view that the attempt does not have. */
export function encodeView(analysis: Analysis, view: number): Uint8Array | null {
  const pictures = view === 0 ? analysis : (analysis.other ?? null);
  if (pictures === null) return null;
  const { baseline, rise, smoothRise, significance, hotspotRanks } = pictures;
  const { width, height } = baseline;
  const layers: Layer[] = [
    { name: "baseline", unit: "degC", data: baseline.data },
    { name: "rise", unit: "K", data: rise.data },
    { name: "smoothRise", unit: "K", data: smoothRise.data },
    { name: "significance", unit: "sigma", data: significance.data },
    { name: "ranks", unit: "rank", data: new Float32Array(hotspotRanks) },
  ];
  const modelled = modelledOf(analysis, view);
  if (modelled !== null) layers.push({ name: "modelled", unit: "K", data: modelled });
  return encodePictures({ width, height, layers });
}

/** What the sources make in a view, at the size of its frame. */
function modelledOf({ fit, baseline, other }: Analysis, view: number): Float32Array | null {
  const frames = other ? [baseline, other.baseline] : [baseline];
  const seen = fit === null ? undefined : heatInViews(fit.modelled, frames)[view];
  if (seen === undefined) return null;
  const { width, height } = frames[view]!;
  return growRaster(seen.rise, seen.factor, width, height).data;
}
