// suspects: the shape of what is still open about one hotspot.

/** One thing that may be behind a hotspot: a named part, a place that no region names, the room mirrored, or an error
 *  of the plate model or the noise. */
export interface Hypothesis {
  readonly kind: "part" | "unnamed" | "mirror" | "doubt";
  /** Null for all but parts. */
  readonly ref: string | null;
  readonly probability: number;
  readonly side: "top" | "bottom";
  /** Centre, board mm. */
  readonly at: readonly [number, number];
  /** Radius of a disc of the part's area, mm. */
  readonly radiusMm: number;
  /** Nets by the map; empty where it does not tell. */
  readonly nets: readonly string[];
  /** Its face mirrors the room. */
  readonly shiny: boolean;
}

/** What is open about one hotspot, and how it was seen. */
export interface OpenQuestion {
  /** Every part with a chance, and the rest; they sum to 1. */
  readonly hypotheses: readonly Hypothesis[];
  readonly viewSide: "top" | "bottom";
  /** Smoothed peak ÷ noise. */
  readonly significance: number;
  /** Gaussian width of the spot on the board, mm. */
  readonly widthMm: number;
  readonly mmPerPx: number;
  readonly aligned: boolean;
  /** The powered frames are a burst from power-on. */
  readonly isBurst: boolean;
  /** The supply was switched on and off meanwhile. */
  readonly isCycled: boolean;
  /** Both sides have been looked at. */
  readonly bothSides: boolean;
}
