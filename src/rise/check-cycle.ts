// rise: number of frames, rate and period → nothing, or an error that says why the rhythm can't be followed.
import { ToolError } from "../core/errors.js";

/** Fewer frames leave less than two frequencies beside the supply's to measure the noise by. */
const LEAST_CYCLE_FRAMES = 16;
/** In fewer periods a rhythm can't be told from drift. */
export const LEAST_PERIODS = 2;

/** Check that there are frames enough, and a rate.
 *  @param rateHz null if unknown.
 *  @returns the rate, Hz.
 *  @throws ToolError E_CYCLE_RATE without a rate, E_CYCLE_FRAMES with too few frames.
 */
export function checkCycleFrames(frameCount: number, rateHz: number | null): number {
  if (rateHz === null || !(rateHz > 0) || !Number.isFinite(rateHz)) {
    throw new ToolError("E_CYCLE_RATE", {
      problem: `cycled power needs the frame rate, found ${rateHz === null ? "none" : `${rateHz} Hz`}`,
      fix: "Give the frames per second of the powered sequence with --rate HZ",
    });
  }
  if (frameCount < LEAST_CYCLE_FRAMES) {
    throw new ToolError("E_CYCLE_FRAMES", {
      problem: `cycled power needs ${LEAST_CYCLE_FRAMES} powered frames or more, found ${frameCount}`,
      fix: "Capture a longer sequence while the supply goes on and off: the noise falls with the root of the number",
    });
  }
  return rateHz;
}

/** Check that a period fits the frames.
 *  @param periodS one on and one off together, s.
 *  @throws ToolError E_CYCLE_PERIOD if it is no number above 0, or shorter than what the frames can show;
 *  E_CYCLE_FRAMES if the frames hold less than two of it.
 */
export function checkCyclePeriod(frameCount: number, rateHz: number, periodS: number): void {
  const spanS = frameCount / rateHz;
  // At two frames a period the phase decides whether anything is seen; half a step of 1/span keeps clear of that.
  const shortestS = 2 / (rateHz * (1 - 1 / frameCount));
  if (!(periodS >= shortestS) || !Number.isFinite(periodS)) {
    throw new ToolError("E_CYCLE_PERIOD", {
      problem: `a period of ${periodS} s can't be followed at ${rateHz} frames a second: it must last more than two frames, ${shortestS.toPrecision(3)} s or more`,
      fix: "Give the length of one on and one off together, in seconds; switch more slowly or capture faster",
    });
  }
  if (spanS < LEAST_PERIODS * periodS * (1 - 1e-9)) {
    throw new ToolError("E_CYCLE_FRAMES", {
      problem: `${frameCount} frames at ${rateHz} Hz last ${spanS.toPrecision(3)} s, less than ${LEAST_PERIODS} periods of ${periodS} s`,
      fix: "Capture longer, or switch the supply faster",
    });
  }
}
