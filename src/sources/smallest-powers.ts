// sources: candidates and what their watts show → the fewest watts in each that would have been found.
import { sharedKernels } from "../numeric/kernels.js";
import type { CandidatePool } from "./candidate-pool.js";
import type { Candidate, SourceModel } from "./source-model.js";

/** What decides whether a source is listed. */
export interface FindingBar {
  /** Evidence wanted of a source that does not show its own body. */
  readonly evidence: number;
  /** By how much χ² overstates the evidence. */
  readonly scale: number;
  /** Share of the rise around it that a source without a peak of its own must add. */
  readonly share: number;
}

/** Work out the fewest watts in each candidate that the frames would have given away, by the board around it alone:
 *  its own face may be hidden, mirror the room, or be no warmer than the board.
 *  Two bars are to be passed: χ² of its plate column, once level, smooth background and the rest of the nuisances have
 *  taken their part, and the share of the rise that others already make there.
 *  @param heat rise that the sources found make, K per pixel; not modified.
 *  @param variance K² per pixel, NaN = left out; not modified.
 *  @returns W; Infinity where nothing of its heat is in the picture.
 */
export function smallestPowers(
  model: SourceModel,
  pool: CandidatePool,
  heat: Float32Array,
  variance: Float32Array,
  bar: FindingBar,
): Map<Candidate, number> {
  const norms = model.candidates.map((candidate) => pool.plateNorm(candidate));
  const plates = model.candidates.map((candidate) => model.plateColumn(candidate, pool.state));
  const { at } = plates[0] ?? { at: null };
  const onBoard = (all: Float32Array) => (at === null ? all : takeAt(all, at));
  const columns = plates.map(({ values }) => values);
  const ratios = leastRatios(onBoard(heat), columns, onBoard(variance));
  return new Map(
    model.candidates.map((candidate, c) => {
      const byEvidence = Math.sqrt((bar.evidence * bar.scale) / Math.max(norms[c]!, 1e-30));
      const byShare = bar.share * ratios[c]!;
      return [candidate, byEvidence < 1e9 ? Math.max(byEvidence, byShare) : Number.POSITIVE_INFINITY];
    }),
  );
}

function takeAt(values: Float32Array, at: Int32Array): Float32Array {
  const out = new Float32Array(at.length);
  for (let k = 0; k < out.length; k++) out[k] = values[at[k]!]!;
  return out;
}

/** Least of heat ÷ column where the column is at more than half its peak: the place that gives a source away best. */
function leastRatios(heat: Float32Array, columns: readonly Float32Array[], variance: Float32Array): number[] {
  const kernels = sharedKernels();
  let ratios: number[];
  if (kernels === null) ratios = columns.map((column) => leastRatio(heat, column, variance));
  else {
    const [atHeat, atVariance] = [kernels.put(heat), kernels.put(variance)];
    const at = kernels.take(heat.byteLength);
    ratios = columns.map((column) => {
      kernels.floats(at, column.length).set(column);
      return kernels.run.leastRatio(atHeat, at, atVariance, column.length);
    });
  }
  return ratios.map((ratio) => (ratio === Number.POSITIVE_INFINITY ? 0 : ratio));
}

function leastRatio(heat: Float32Array, column: Float32Array, variance: Float32Array): number {
  let peak = 0;
  for (let i = 0; i < column.length; i++) if (variance[i]! > 0 && column[i]! > peak) peak = column[i]!;
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < column.length; i++) {
    if (variance[i]! > 0 && column[i]! > 0.5 * peak) least = Math.min(least, heat[i]! / column[i]!);
  }
  return least;
}
