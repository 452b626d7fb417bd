// findings: what an analysis hands to the writers of reports and pictures beside the findings themselves.

import type { BoardMap } from "../board/board-schema.js";
import type { PlacedView } from "../board/place-view.js";
import type { Raster } from "../core/raster.js";
import type { FittedSource, SourceFit } from "../sources/source-fit.js";
import type { Findings } from "./findings-schema.js";

/** The pictures of one view. All rasters share its baseline frame's size and pixel grid. */
export interface ViewPictures {
  /** Averaged, repaired baseline, °C. */
  readonly baseline: Raster<"degC">;
  /** Powered minus baseline, aligned, drift removed, not smoothed, K. */
  readonly rise: Raster<"K">;
  /** The same, smoothed at the scale that is tested, K. */
  readonly smoothRise: Raster<"K">;
  /** Smoothed rise ÷ its noise. */
  readonly significance: Raster<"sigma">;
  /** 0 = no hotspot, n = hotspot of rank n; width×height, row-major. */
  readonly hotspotRanks: Int32Array;
  readonly view: PlacedView | null;
}

/** Everything one run computed. The rasters are those of the primary view. */
export interface Analysis extends ViewPictures {
  readonly findings: Findings;
  readonly board: BoardMap | null;
  /** The fit of sources and the source of each hotspot, in their order; null without a board, and of one that may not
   *  heat. */
  readonly fit: SourceFit | null;
  readonly sources: readonly (FittedSource | null)[];
  /** The second view, where there is one. */
  readonly other?: ViewPictures | null;
}
