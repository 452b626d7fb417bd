// place: how far a board may have moved, and when its new place is believed, with the reasons.
import type { ResolvedOptions } from "../core/options.js";

/** Defaults of `placeNewView`. */
export const PLACE_NEW_DEFAULTS = Object.freeze({
  /** Turn that is looked for: 15° as a board is laid down again by hand, and room beyond it. */
  maxAngleRad: (22 * Math.PI) / 180,
  /** Change of scale that is looked for, as a factor beside the ratio of the frames' widths: ±15 %, and room beyond
   *  it. */
  maxScale: 1.28,
  /** Shift that is looked for, as a share of the frame: 0.2, and what turning about another point adds. */
  maxShiftShare: 0.32,
  /** Poses that are followed to the finer search. Set, like those below without a figure, on seeds 9001–9040 and, for
   *  wrong placings, 9101–9130 of `placing` (record 53). */
  mostPoses: 6,
  /** How far another place of the camera stretches the picture beside turn and scale: 10° of tilt shorten by 1.5 % … */
  priorStretch: 0.01,
  /** … and how much nearer one end of the board comes than its middle, as a share of the distance. */
  priorTilt: 0.04,
  /** How well clicked fiducials fix the earlier view where the map's edges show little, px at the board's corners. Set
   *  on seeds 64xxx and 71xxx of `placing` (record 85). */
  clickedPx: 0.3,
  /** Largest uncertainty, root mean square over the board, that is relied on, px. */
  trustedPx: 0.75,
  /** Least share of the board's edges that the later frame must see. */
  leastSeen: 0.5,
  /** Least mean squared correlation along the outline: boards in their place have 0.6 and more, others 0.2 to 0.9. */
  leastOutline: 0.5,
  /** How far the edges inside the board must agree better in their place than elsewhere, in standard deviations: an
   *  outline alone fits a board turned half round, turned over, or another board of the same size. */
  leastInnerZ: 3.5,
  /** … and than if the board lay in another way. */
  leastLeadZ: 1,
});

/** The options of `placeNewView`, filled in. */
export type PlaceNewOptions = ResolvedOptions<typeof PLACE_NEW_DEFAULTS>;
