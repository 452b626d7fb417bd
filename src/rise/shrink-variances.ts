// rise: variance of each pixel from a few readings → the same, drawn towards the ordinary pixel as far as that helps.
import { raiseTo } from "../core/raise-to.js";
import { median } from "../numeric/median.js";
import { normalQuantile } from "../numeric/normal-distribution.js";
import { inverseTrigamma, trigamma } from "../numeric/trigamma.js";

/** Result of `shrinkVariances`. */
export interface ShrunkVariances {
  /** Same unit and order as the input; NaN where the input is. */
  readonly variances: Float32Array;
  /** Degrees of freedom that the ordinary pixel's variance is worth beside a pixel's own; Infinity: all are alike. */
  readonly priorFreedom: number;
  /** Variance of the ordinary pixel. */
  readonly priorVariance: number;
}

/** A pixel whose variance the others' spread makes less likely than this is one of a kind and keeps its own. */
const ODD_TAIL = 1e-3;

/** Less scatter of the logarithms than this beyond what few readings make is none: all pixels are alike. */
const LEAST_SPREAD2 = 1e-6;
/** The cube root's lower quartile is not let nearer to 0 than this: with one or two degrees of freedom it would cross
 *  it. */
const LEAST_ROOT = 0.05;

/** Draw the variances of many pixels towards their common one, each by its own degrees of freedom.
 *  The pixels' true variances are taken for scaled inverse χ² with d₀ degrees of freedom around s₀²; then
 *  E[1/σ²]⁻¹ given s² is (d₀·s₀² + d·s²)/(d₀ + d), and a pixel divided by its root follows Student's t with d₀ + d
 *  degrees of freedom where noise of its own few readings would give it d. Centre and spread of ln s² give d₀ and s₀².
 *  Method: Smyth 2004, Stat. Appl. Genet. Mol. Biol. 3:3, doi 10.2202/1544-6115.1027 (DOI and section 6.2 from memory).
 *  Differs: median and quartiles in place of mean and variance of the logarithms, so that faulty pixels set nothing;
 *  and pixels far noisier than the rest are not drawn down (as Phipson et al. 2016, Ann. Appl. Stat. 10:946, from
 *  memory).
 *  @param variances per pixel, above 0, NaN = unknown; not modified.
 *  @param freedom degrees of freedom of each, above 0.
 */
export function shrinkVariances(variances: Float32Array, freedom: number): ShrunkVariances {
  const logs = new Float64Array(variances.length);
  for (let i = 0; i < logs.length; i++) logs[i] = variances[i]! > 0 ? Math.log(variances[i]!) : Number.NaN;
  const scratch = new Float64Array(logs.length);
  const middle = median(logs, scratch);
  const out = new Float32Array(variances.length).fill(Number.NaN);
  if (Number.isNaN(middle))
    return { variances: out, priorFreedom: Number.POSITIVE_INFINITY, priorVariance: middle };
  for (let i = 0; i < logs.length; i++) logs[i] = Math.abs(logs[i]! - middle);
  const halfWidth = median(logs, scratch);
  // A log of χ² is nearly normal; the cube root is much more so (Wilson & Hilferty 1931), and gives its quartiles.
  const own = halfSpreadOfLog(freedom);
  const spread2 = (halfWidth * halfWidth - own * own) / normalQuantile(0.75) ** 2;
  const priorFreedom = spread2 > LEAST_SPREAD2 ? 2 * inverseTrigamma(spread2) : Number.POSITIVE_INFINITY;
  // σ² is s₀²·d₀/χ²_d₀ and s² is σ²·χ²_d/d: the middles of the logarithms add, for both are nearly symmetric.
  const priorVariance = Math.exp(middle) * (medianOfMeanSquare(priorFreedom) / medianOfMeanSquare(freedom));
  const limit = Math.sqrt(trigamma(freedom / 2) + Math.max(0, spread2)) * -normalQuantile(ODD_TAIL);
  for (let i = 0; i < out.length; i++) {
    const s2 = variances[i]!;
    if (!(s2 > 0)) continue;
    const odd = Math.log(s2 / priorVariance) > limit;
    out[i] = odd
      ? s2
      : priorFreedom === Number.POSITIVE_INFINITY
        ? priorVariance
        : (priorFreedom * priorVariance + freedom * s2) / (priorFreedom + freedom);
  }
  return { variances: out, priorFreedom, priorVariance };
}

/** Median of χ²_d/d: (1 − 2/9d)³. Wilson & Hilferty 1931, PNAS 17:684 (from memory). */
function medianOfMeanSquare(freedom: number): number {
  return raiseTo(1 - 2 / (9 * freedom), 3);
}

/** Median distance of ln(χ²_d/d) from its own median: half the distance of its quartiles, by the same cube root. */
function halfSpreadOfLog(freedom: number): number {
  const centre = 1 - 2 / (9 * freedom);
  const width = normalQuantile(0.75) * Math.sqrt(2 / (9 * freedom));
  return 1.5 * Math.log((centre + width) / Math.max(LEAST_ROOT, centre - width));
}
