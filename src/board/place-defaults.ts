// board: the limits within which fiducials are believed, with their reasons.

/** Limits of `placeView`. */
export const PLACE_DEFAULTS = Object.freeze({
  /** Largest residual, and largest root mean square error of a fiducial as estimated from the residuals.
   *  A fiducial clicked by hand on a blurred edge is 1–2 px off (common practice, no source); 3 px is a mistake … */
  maxResidualPx: 3,
  /** … unless the frame is large: a lens bends the picture by about 1 % of its diagonal towards the corners. */
  maxResidualShare: 0.015,
  /** Spread of the fiducials across a line ÷ along it. Below 0.02 the spread across is of the size of the
   *  fiducials' own error (2 px in 100), and the transform across the line would be noise. */
  minSpreadShare: 0.02,
  /** Distance between the two farthest fiducials ÷ frame diagonal: below it an error of 1 px is one of 10 % in
   *  scale on a small sensor. It also catches pixels given as shares of the frame, from 0 to 1. */
  minExtentShare: 0.03,
  /** A corner of the board may lie outside the frame, but by no more than half the frame's size: farther out the
   *  pixels were read from a picture of another size. */
  maxOutsideShare: 0.5,
  /** A camera that looks at the board at an angle shortens one direction: five times is 78° off the vertical. */
  maxStretch: 5,
  /** Largest scale ÷ smallest among the fiducials: four times is a camera less than one board's length away that
   *  looks along the board. */
  maxScaleChange: 4,
});

/** Options of `placeView`: the name of the view's file for the errors, and other limits than the defaults. */
export type PlaceOptions = { readonly file?: string } & {
  readonly [Limit in keyof typeof PLACE_DEFAULTS]?: number;
};

/** The limits with the defaults filled in. */
export type PlaceLimits = { readonly file?: string } & {
  readonly [Limit in keyof typeof PLACE_DEFAULTS]: number;
};
