// rise: number and rate of frames → when each was taken, from power-on.

/** Of the interval between two frames, how much lies between power-on and the first frame: the shutter does not know
 *  when power comes, so anything up to one interval; the middle is assumed. */
export const FIRST_FRAME_SHARE = 0.5;

/** Seconds from power-on of the frames of a burst: (k + ½) ÷ rate for frame k = 0, 1, …
 *  All of them share one error, uniform within ± half an interval: `burstTimeSigma`.
 *  @param rateHz frames a second, above 0.
 */
export function burstTimes(count: number, rateHz: number): Float64Array {
  return Float64Array.from({ length: count }, (_, k) => (k + FIRST_FRAME_SHARE) / rateHz);
}

/** Standard deviation of the error that all times of a burst share, s: interval ÷ √12. */
export function burstTimeSigma(rateHz: number): number {
  return 1 / (Math.sqrt(12) * rateHz);
}
