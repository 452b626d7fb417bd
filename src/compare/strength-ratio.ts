// compare: one part in two attempts → how many times as strongly it heats in the later one, with its uncertainty.
import type { PartFindings } from "../findings/parts-schema.js";
import { unevenK } from "./uneven.js";

/** Scatter of the logarithm of a ratio between two attempts on one board, from another place of the camera, where nothing
 *  changed (simulated jobs): of the contrast of a face … */
const CONTRAST_SCATTER = 0.1;
/** … and of the watts by the fit, whose plate is fitted anew each time; more where heat had spread otherwise. */
const POWER_SCATTER = 0.2;
/** A contrast below this many sigma is no measure of strength. */
const LEAST_CONTRAST = 4;

/** Natural logarithm of later ÷ earlier, with its standard uncertainty. */
export interface LogRatio {
  readonly log: number;
  readonly sigma: number;
  /** Without what the plate's state adds, which all parts of an attempt share. */
  readonly own: number;
}

/** Work out by how much a part's heat differs, from the contrast of its face and from its watts, whichever both attempts
 *  have; by inverse variance where both do. Two ways that contradict each other make the mean as much less certain (Birge
 *  ratio, Birge 1932, Phys. Rev. 40:207, from memory). The plate's constants are the board's own: what they do wrong to
 *  watts they do to both attempts.
 *  @param stateLog scatter added to watts where the plate was in another state.
 *  @returns null where nothing measures it in both.
 */
export function strengthRatio(before: PartFindings, after: PartFindings, stateLog: number): LogRatio | null {
  const ratio = ratioIn(before, after, stateLog);
  if (ratio === null) return null;
  const own = stateLog === 0 ? ratio.sigma : ratioIn(before, after, 0)!.sigma;
  return { ...ratio, own: Math.min(ratio.sigma, own) };
}

type Way = Pick<LogRatio, "log" | "sigma">;

function ratioIn(before: PartFindings, after: PartFindings, stateLog: number): Way | null {
  const ways = [byContrast(before, after), byPower(before, after, stateLog)].filter((way) => way !== null);
  const [first, second] = ways;
  if (first === undefined || second === undefined) return first ?? null;
  const weights = [1 / first.sigma ** 2, 1 / second.sigma ** 2] as const;
  const log = (weights[0] * first.log + weights[1] * second.log) / (weights[0] + weights[1]);
  const apart2 = (first.log - second.log) ** 2 / (first.sigma ** 2 + second.sigma ** 2);
  return { log, sigma: Math.sqrt(Math.max(1, apart2) / (weights[0] + weights[1])) };
}

function byContrast(before: PartFindings, after: PartFindings): Way | null {
  const [a, b] = [contrastOf(before), contrastOf(after)];
  if (a === null || b === null) return null;
  // Contrasts are told as those of an even face, which a filter of another size shows by another gain. A hill of heat that has
  // spread makes as much in every size: a logarithm has no scale. So the truth lies between the two, anywhere.
  const sizes = Math.log(b.gain / a.gain);
  return {
    log: Math.log(b.value / a.value) + sizes / 2,
    sigma: Math.hypot(CONTRAST_SCATTER, a.share, b.share, sizes / Math.sqrt(12)),
  };
}

/** A contrast that measures strength, with its relative uncertainty. */
function contrastOf(part: PartFindings): { value: number; share: number; gain: number } | null {
  const { contrastK, contrastSigmaK, contrastGain, shiny } = part;
  if (shiny || contrastK === null || contrastSigmaK === null) return null;
  if (!(contrastK > LEAST_CONTRAST * contrastSigmaK)) return null;
  const share = Math.hypot(contrastSigmaK, unevenK(part)) / contrastK;
  return { value: contrastK, share, gain: contrastGain ?? 1 };
}

interface Watts {
  readonly watts: number;
  readonly noise: number;
}

function byPower(before: PartFindings, after: PartFindings, stateLog: number): Way | null {
  // One that an attempt does not list has the watts that the fit would give it; then both are taken from there.
  const listed = before.powerW !== null && after.powerW !== null;
  const [a, b] = [before, after].map((part) =>
    listed
      ? { watts: part.powerW ?? 0, noise: part.powerNoiseW ?? 0 }
      : { watts: part.triedW ?? 0, noise: part.triedSigmaW ?? 0 },
  ) as [Watts, Watts];
  if (!(a.watts > 0) || !(b.watts > 0)) return null;
  return {
    log: Math.log(b.watts / a.watts),
    sigma: Math.hypot(POWER_SCATTER, stateLog, a.noise / a.watts, b.noise / b.watts),
  };
}
