// suspects: places, odds and nets → the lines that reasons of all sorts share.
import { formatSignificant } from "../core/format-quantity.js";

/** What is this many times less likely is not worth a number. */
export const HOPELESS_ODDS = 1000;
/** Odds nearer to 1 than this are even. */
export const ALIKE_ODDS = 1.5;
/** Places are told to a hundredth of a millimetre. */
const LEAST_SIGMA_MM = 0.01;

/** Say how much less likely: `14 times less likely`. */
export function lessLikely(odds: number): string {
  return odds < HOPELESS_ODDS ? `${formatSignificant(odds, 2)} times less likely` : "far less likely";
}

/** Say by what odds, to follow a statement: `, by odds of 14 to 1`. */
export function byOdds(odds: number): string {
  return odds < HOPELESS_ODDS ? `, by odds of ${formatSignificant(odds, 2)} to 1` : " by far";
}

/** A place farther off than so many standard uncertainties is not on the part. */
const APART = 2;

/** Say where the centre of the heat lies, by its distance from a part's edge; null: it has no peak of its own.
 *  Where it surely lies beside the part that speaks against it. */
export function placeLine(distanceMm: number | null, sigmaMm: number | null): string {
  if (distanceMm === null || sigmaMm === null) {
    return "The heat makes no peak of its own, only its spread over the board tells.";
  }
  const where =
    distanceMm === 0
      ? "lies on this part"
      : `lies ${distanceMm.toFixed(distanceMm < 1 ? 2 : 1)} mm from this part's edge`;
  const line = `he centre of the heat ${where} (± ${Math.max(LEAST_SIGMA_MM, sigmaMm).toFixed(2)} mm).`;
  return distanceMm > APART * sigmaMm ? `Against: t${line}` : `T${line}`;
}

/** Say that two parts share a net. */
export function sharedNetLine({ ref, net }: { readonly ref: string; readonly net: string }): string {
  return `It shares the net ${net} with ${ref}: a reading there can't tell the two apart.`;
}
