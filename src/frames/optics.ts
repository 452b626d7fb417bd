// frames: – → what the optics of a usual thermal camera do to a picture.

/** Blur of the optics, Gaussian σ, px of the frame as it comes: lenses are made to suit the pitch of the pixels (common
 *  practice, no source). */
export const OPTICS_SIGMA_PX = 1;
