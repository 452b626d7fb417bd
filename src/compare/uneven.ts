// compare: a part's rise and contrast → the step that uneven warmth around it may make on its face.
import type { PartFindings } from "../findings/parts-schema.js";

/** Uneven copper, finishes and the slope of a neighbour's heat make contrasts of this share of the rise (simulated
 *  boards). */
const UNEVEN_SHARE = 0.025;

/** Standard deviation of the step that warmth which is not the part's own makes on its face, K as `contrastK`. */
export function unevenK({ riseK, contrastGain }: PartFindings): number {
  if (riseK === null || contrastGain === null) return 0;
  return (UNEVEN_SHARE * Math.max(0, riseK)) / contrastGain;
}

/** A face of which the picture shows less than this share of a step shows none that uneven warmth could not make. */
export const LEAST_GAIN = 0.25;

/** A face that is warmer than the board around it by so many sigma of noise and unevenness may heat itself: of cold
 *  faces one in 160 is (normal tail). */
const STANDS_OUT = 2.5;

/** By how many sigma of noise and unevenness a face is warmer than the board around it; 0 where nothing is known of
 *  it. */
export function stepSigmas(part: PartFindings): number {
  const { contrastK, contrastSigmaK } = part;
  return contrastK === null ? 0 : contrastK / Math.hypot(contrastSigmaK ?? 0, unevenK(part));
}

/** Whether a dull face that a view sees stands out from the board around it by more than noise and uneven copper make
 *  as a rule. */
export function standsOut(part: PartFindings): boolean {
  const { seen, shiny, contrastSigmaK } = part;
  return seen && !shiny && contrastSigmaK !== null && stepSigmas(part) > STANDS_OUT;
}

/** What copper and finishes make of a neighbour's heat is the board's own: from one attempt to the next its share of
 *  the rise differs by this much (234 cold faces of simulated jobs: 0.008 holds 68 % of them, 0.048 holds 97 %). */
const LASTING_SHARE = 0.015;

/** Standard deviation of what uneven copper makes of the difference of a part's steps in two attempts, K: its share of
 *  the rise is the place's own, but for what differs from one attempt to the next.
 *  @param scale by which the earlier step is multiplied before it is taken off the other one.
 */
export function unevenChangeK(part: PartFindings, other: PartFindings, scale: number): number {
  const [own, others] = [part, other].map(({ riseK, contrastGain }) =>
    riseK === null || contrastGain === null ? 0 : Math.max(0, riseK) / contrastGain,
  ) as [number, number];
  return Math.hypot(UNEVEN_SHARE * (others - scale * own), LASTING_SHARE * Math.max(others, scale * own));
}

/** … and of a step that is the part's own, in which the camera's place counts as well. */
const LASTING_OWN_SHARE = 0.02;

/** Standard deviation of what uneven copper makes of the logarithm of the ratio of a part's steps in two attempts, both
 *  above zero: where the step is as large a share of the rise in both, what copper makes of it drops out but for what
 *  differs from one attempt to the next. Of 324 parts that heat in both attempts (simulated jobs) 68 % lie within 0.8
 *  of the sigma so made, 95 % within 2.1. */
export function unevenLog(before: PartFindings, after: PartFindings): number {
  const [a, b] = [before, after].map(
    ({ riseK, contrastGain, contrastK }) => Math.max(0, riseK ?? 0) / ((contrastGain ?? 1) * contrastK!),
  ) as [number, number];
  return Math.hypot(UNEVEN_SHARE * (b - a), LASTING_OWN_SHARE * Math.max(a, b));
}

/** By how many sigma the step on a part's face exceeds what its place makes of warmth around it, as the other attempt
 *  shows that: the same share of the rise.
 *  @returns null where the other attempt does not show it.
 */
export function risenStep(part: PartFindings, other: PartFindings): number | null {
  const { contrastK, contrastSigmaK, contrastGain, riseK } = part;
  if (contrastK === null || contrastSigmaK === null || contrastGain === null || riseK === null) return null;
  if (!other.seen || other.shiny || other.contrastK === null || other.contrastGain === null) return null;
  if (!((other.riseK ?? 0) > 0) || !(riseK > 0)) return null;
  const scale = ((other.contrastGain / other.riseK!) * riseK) / contrastGain;
  const sigma = Math.hypot(
    contrastSigmaK,
    scale * (other.contrastSigmaK ?? 0),
    (LASTING_SHARE * riseK) / contrastGain,
  );
  return (contrastK - scale * other.contrastK) / sigma;
}
