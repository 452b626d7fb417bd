// compare: one part in two attempts → how many times as strongly it heats in the later one, with its uncertainty.
import type { PartFindings } from "../findings/parts-schema.js";
import { plateError } from "./plate-error.js";
import { unevenLog } from "./uneven.js";

/** Scatter of the logarithm of a ratio between two attempts on one board, from another place of the camera, where
 *  nothing changed (simulated jobs): of the contrast of a face … */
const CONTRAST_SCATTER = 0.1;
/** … and of the watts by the fit, without what all parts of an attempt share. */
const POWER_SCATTER = 0.15;
/** Either way may be astray: a face's contrast, for the slope of a hill beside it, one in 17; watts, which two
 *  neighbours that touch divide otherwise each time, one in five. So much farther off they are then (logarithm). Where
 *  the two differed by more than 0.4 in simulated jobs the contrast was the nearer one in 45 of 62. */
const CONTRAST_ASTRAY = Object.freeze({ share: 0.06, log: 0.5 });
const POWER_ASTRAY = Object.freeze({ share: 0.2, log: 0.6 });
/** Ways farther apart than so many sigma, squared, are as unlikely whatever is astray: then neither is preferred. */
const MOST_APART2 = 16;
/** A contrast below this many sigma is no measure of strength. */
const LEAST_CONTRAST = 4;
/** Watts that were tried tell the plate's error from this evidence on. */
const LEAST_EVIDENCE = 12;

/** Natural logarithm of later ÷ earlier, with its standard uncertainty. */
export interface LogRatio {
  readonly log: number;
  readonly sigma: number;
  /** Without what the plate's state adds, which all parts of an attempt share. */
  readonly own: number;
}

/** Two attempts' findings of one part. */
export type PartPair = readonly [PartFindings, PartFindings];

/** Work out by how much each part's heat differs, from the contrast of its face and from its watts, whichever both
 *  attempts have; by inverse variance where both do. The plate's constants are the board's own: what they do wrong to
 *  watts they do to both attempts; but how far heat had spread each attempt's fit finds anew, and errs in alike for all
 *  parts. Parts that both ways measure tell that error, and it is taken off all watts.
 *  @param stateLog scatter of that error where the plate was in another state.
 *  @returns in the order of the pairs; null where nothing measures it in both.
 */
export function strengthRatios(pairs: readonly PartPair[], stateLog: number): (LogRatio | null)[] {
  const ways = pairs.map((pair) => {
    const listed = pair.every(({ powerW }) => powerW !== null);
    const told = pair.every(({ triedEvidence }) => (triedEvidence ?? 0) >= LEAST_EVIDENCE);
    return {
      listed,
      told,
      contrast: byContrast(...pair),
      found: byPower(...pair, foundW),
      tried: byPower(...pair, triedW),
    };
  });
  // Watts that were found are averaged over the plate's states, those that were tried are of one state: errors of their
  // own.
  const errorOf = (kind: "found" | "tried") =>
    plateError(
      ways.flatMap(({ listed, told, contrast, [kind]: power }) =>
        (kind === "found" ? !listed : !told) || contrast === null || power === null
          ? []
          : [{ log: power.log - contrast.log, sigma: Math.hypot(power.sigma, contrast.sigma) }],
      ),
      stateLog,
    );
  const errors = { found: errorOf("found"), tried: errorOf("tried") };
  return ways.map(({ listed, contrast, found, tried }) =>
    listed ? joined(contrast, found, errors.found) : joined(contrast, tried, errors.tried),
  );
}

/** The error that a ratio shares with those of all other parts of the attempts. */
export function sharedSigma({ sigma, own }: Pick<LogRatio, "sigma" | "own">): number {
  return Math.sqrt(Math.max(0, sigma ** 2 - own ** 2));
}

type Way = Pick<LogRatio, "log" | "sigma">;

/** Weigh both ways, each of which may be astray.
 *  Method: mean and deviation of a mixture of four normal distributions: both sound, either one astray, both.
 */
function joined(contrast: Way | null, power: Way | null, plate: Way): LogRatio | null {
  if (power === null) return contrast === null ? null : { ...contrast, own: contrast.sigma };
  const log = power.log - plate.log;
  if (contrast === null) return { log, sigma: Math.hypot(power.sigma, plate.sigma), own: power.sigma };
  const apart = log - contrast.log;
  let [sum, mean, square, share] = [0, 0, 0, 0];
  for (const byContrast of statesOf(contrast, CONTRAST_ASTRAY)) {
    for (const byWatts of statesOf(power, POWER_ASTRAY)) {
      const [c2, w2] = [byContrast.sigma ** 2, byWatts.sigma ** 2];
      const apart2 = c2 + w2 + plate.sigma ** 2;
      const likelihood = Math.exp(-0.5 * Math.min(MOST_APART2, apart ** 2 / apart2)) / Math.sqrt(apart2);
      const weight = byContrast.chance * byWatts.chance * likelihood;
      const ofWatts = c2 / (c2 + w2);
      const value = contrast.log + ofWatts * apart;
      sum += weight;
      mean += weight * value;
      square += weight * (value ** 2 + ofWatts * w2);
      share += weight * ofWatts;
    }
  }
  const own = Math.sqrt(square / sum - (mean / sum) ** 2);
  return { log: mean / sum, sigma: Math.hypot(own, (share / sum) * plate.sigma), own };
}

function statesOf(
  { sigma }: Way,
  astray: { share: number; log: number },
): { chance: number; sigma: number }[] {
  return [
    { chance: 1 - astray.share, sigma },
    { chance: astray.share, sigma: Math.hypot(sigma, astray.log) },
  ];
}

function byContrast(before: PartFindings, after: PartFindings): Way | null {
  const [a, b] = [contrastOf(before), contrastOf(after)];
  if (a === null || b === null) return null;
  // Contrasts are told as those of an even face, which a filter of another size shows by another gain. A hill of heat
  // that has spread makes as much in every size: a logarithm has no scale. So the truth lies between the two, anywhere.
  const sizes = Math.log(b.gain / a.gain);
  return {
    log: Math.log(b.value / a.value) + sizes / 2,
    sigma: Math.hypot(CONTRAST_SCATTER, a.share, b.share, unevenLog(before, after), sizes / Math.sqrt(12)),
  };
}

/** A contrast that measures strength, with its relative uncertainty. */
function contrastOf(part: PartFindings): { value: number; share: number; gain: number } | null {
  const { contrastK, contrastSigmaK, contrastGain, shiny } = part;
  if (shiny || contrastK === null || contrastSigmaK === null) return null;
  if (!(contrastK > LEAST_CONTRAST * contrastSigmaK)) return null;
  return { value: contrastK, share: contrastSigmaK / contrastK, gain: contrastGain ?? 1 };
}

interface Watts {
  readonly watts: number;
  readonly noise: number;
}

function foundW({ powerW, powerNoiseW }: PartFindings): Watts {
  return { watts: powerW ?? 0, noise: powerNoiseW ?? 0 };
}

/** One that an attempt does not list has the watts that the fit would give it. */
function triedW({ triedW: watts, triedSigmaW }: PartFindings): Watts {
  return { watts: watts ?? 0, noise: triedSigmaW ?? 0 };
}

function byPower(
  before: PartFindings,
  after: PartFindings,
  wattsOf: (part: PartFindings) => Watts,
): Way | null {
  const [a, b] = [wattsOf(before), wattsOf(after)];
  if (!(a.watts > 0) || !(b.watts > 0)) return null;
  return {
    log: Math.log(b.watts / a.watts),
    sigma: Math.hypot(POWER_SCATTER, a.noise / a.watts, b.noise / b.watts),
  };
}
