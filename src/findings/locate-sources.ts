// findings: rise and board → the sources by the plate fit, where a board and its view are known.
import type { BoardMap } from "../board/board-schema.js";
import type { PlacedView } from "../board/place-view.js";
import { centroid } from "../board/polygon.js";
import { boardPoint, framePoint } from "../core/units.js";
import type { DetectedPatch } from "../hotspots/detect-patches.js";
import { zForTail } from "../numeric/normal-distribution.js";
import { fitSources, type SourceFit } from "../sources/fit-sources.js";
import { nuisanceColumns } from "../sources/nuisance-columns.js";
import { SourceModel } from "../sources/source-model.js";
import type { AnalyseOptions } from "./analyse-options.js";
import type { PreparedPair } from "./prepare-pair.js";

/** Free places tried: as many of the strongest patches. */
const MOST_FREE_PLACES = 8;
/** Evidence below this is never taken for heat, whatever the number of candidates. */
const LEAST_EVIDENCE = 25;

/** Result of `locateSources`. */
export interface LocatedSources {
  readonly model: SourceModel;
  readonly fit: SourceFit;
  /** Evidence that a source had to bring. */
  readonly minEvidence: number;
}

/** Fit watts of the named regions, and of free places at the strongest patches, to the rise on the board. */
export function locateSources(
  pair: PreparedPair,
  board: BoardMap,
  view: PlacedView,
  patches: readonly DetectedPatch[],
  options: AnalyseOptions,
): LocatedSources {
  const { width, height } = pair.shape;
  const model = new SourceModel(board, view, width, height, (region) => {
    const [x, y] = centroid(region.polygon);
    return boardPoint(x, y);
  });
  const free = patches.slice(0, MOST_FREE_PLACES).flatMap((patch) => {
    const at = view.toBoard(framePoint(patch.peak % width, Math.floor(patch.peak / width)));
    return model.freeCandidate(at) ?? [];
  });
  const tests = (model.candidates.length + free.length) * 4;
  const z = zForTail(options.falseAlarmsPerFrame / options.tailFactor / tests);
  const minEvidence = Math.max(LEAST_EVIDENCE, z * z);
  const variance = pair.pixelNoise.data.map((sigma) => sigma * sigma);
  const { separated, trusted, uncertaintyPx } = pair.alignment;
  const fit = fitSources(
    model,
    pair.rise.data,
    variance,
    (modelK) =>
      nuisanceColumns(
        board,
        view,
        separated.scene,
        model.seen.onBoard,
        model.seen.opticsSigmaPx,
        trusted ? uncertaintyPx : 0.3,
        modelK,
      ),
    free,
    minEvidence,
  );
  return { model, fit, minEvidence };
}
