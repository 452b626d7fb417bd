// place: what the later frame shows at the earlier one's edges → the normal equations of the motion, and its
// covariance.
import { choleskyFactor, choleskyInverse } from "../numeric/cholesky.js";
import type { BoardArm } from "./board-arm.js";
import type { EdgeCells } from "./edge-cells.js";
import { MOTION_SIZE, type Motion } from "./motion.js";
import type { Anchor, RefineSettings } from "./refine-settings.js";
import type { SeenEdges } from "./see-edges.js";

const N = MOTION_SIZE;

/** The normal equations of one round of `refineMotion`. */
export class MotionSystem {
  readonly hessian = new Float64Array(N * N);
  /** Downhill. */
  readonly score = new Float64Array(N);
  private readonly scores: Float64Array;
  private readonly rows: Float64Array;
  private readonly floorK2: Float64Array;
  private readonly priors = new Float64Array(N);

  constructor(
    private readonly cells: EdgeCells,
    private readonly arm: BoardArm,
    private readonly settings: RefineSettings,
  ) {
    const groups = cells.starts.length - 1;
    this.scores = new Float64Array(groups * N);
    this.rows = new Float64Array(cells.count * N);
    this.floorK2 = new Float64Array(groups);
  }

  build(seen: SeenEdges, motion: Motion, misfitPx: number): void {
    const { cells, hessian, score, scores, priors } = this;
    hessian.fill(0);
    score.fill(0);
    scores.fill(0);
    this.derivatives(seen, motion);
    for (let g = 0; g + 1 < cells.starts.length; g++) this.addGroup(seen, g, misfitPx);
    for (let g = 0; g < scores.length; g += N) for (let r = 0; r < N; r++) score[r]! += scores[g + r]!;
    const { priorStretch, priorTilt } = this.settings;
    const stretchPx = priorStretch * Math.hypot(motion[0], motion[1]);
    for (let r = 4; r < N; r++) {
      priors[r] = 1 / (r < 6 ? stretchPx : priorTilt) ** 2;
      hessian[r * N + r]! += priors[r]!;
      score[r]! -= priors[r]! * motion[r]!;
    }
    for (let r = 0; r < N; r++) for (let c = r + 1; c < N; c++) hessian[r * N + c] = hessian[c * N + r]!;
    const { anchor } = this.settings;
    if (anchor === undefined) return;
    const pull = pullOf(anchor, motion);
    for (let r = 0; r < N; r++) score[r]! -= pull[r]!;
    for (let k = 0; k < N * N; k++) hessian[k]! += anchor.precision[k]!;
  }

  /** What the steps lessen, with the floors of the last `build`. */
  cost(seen: SeenEdges, motion: Motion): number {
    const { cells, floorK2, priors } = this;
    let sum = 0;
    for (let g = 0; g + 1 < cells.starts.length; g++) {
      if (!(seen.contrast[g]! * 0 === 0)) continue;
      const size = cells.starts[g + 1]! - cells.starts[g]!;
      const floor = floorK2[g]!;
      sum += 0.5 * size * Math.log((seen.restK2[g]! + floor) / (seen.powerK2[g]! + floor));
    }
    for (let r = 4; r < N; r++) sum += 0.5 * priors[r]! * motion[r]! ** 2;
    const { anchor } = this.settings;
    if (anchor === undefined) return sum;
    const pull = pullOf(anchor, motion);
    for (let r = 0; r < N; r++) sum += 0.5 * pull[r]! * (motion[r]! - anchor.motion[r]!);
    return sum;
  }

  /** ∂(later value)/∂parameter of every pixel. */
  private derivatives(seen: SeenEdges, [a, b, , , e, f, p, q]: Motion): void {
    const { cells, arm, rows } = this;
    for (let k = 0; k < cells.count; k++) {
      const u = (cells.x[k]! - arm.centre[0]) / arm.armPx;
      const v = (cells.y[k]! - arm.centre[1]) / arm.armPx;
      const w = 1 / (1 + p * u + q * v);
      const x = ((a + e) * u + (f - b) * v) * w;
      const y = ((b + f) * u + (a - e) * v) * w;
      const gx = seen.slopeX[k]!;
      const gy = seen.slopeY[k]!;
      const fall = -w * (gx * x + gy * y);
      const at = k * N;
      rows[at] = w * (gx * u + gy * v);
      rows[at + 1] = w * (gy * u - gx * v);
      rows[at + 2] = gx;
      rows[at + 3] = gy;
      rows[at + 4] = w * (gx * u - gy * v);
      rows[at + 5] = w * (gx * v + gy * u);
      rows[at + 6] = u * fall;
      rows[at + 7] = v * fall;
    }
  }

  /** A group's share: its contrast and level are taken out of the derivatives. */
  private addGroup(seen: SeenEdges, g: number, misfitPx: number): void {
    const { cells, rows, hessian, scores, settings, floorK2 } = this;
    const contrast = seen.contrast[g]!;
    if (!(contrast * 0 === 0)) return;
    const from = cells.starts[g]!;
    const to = cells.starts[g + 1]!;
    const size = to - from;
    const sums = new Float64Array(N);
    const means = new Float64Array(N);
    let own = 0;
    let slope2 = 0;
    for (let k = from; k < to; k++) {
      const value = cells.value[k]!;
      own += value * value;
      slope2 += (seen.slopeX[k]! ** 2 + seen.slopeY[k]! ** 2) / size;
      for (let r = 0; r < N; r++) {
        sums[r]! += value * rows[k * N + r]!;
        means[r]! += rows[k * N + r]! / size;
      }
    }
    const floor = settings.noiseK ** 2 + misfitPx ** 2 * slope2;
    floorK2[g] = floor;
    const rest = 1 / (seen.restK2[g]! + floor);
    const power = 1 / (seen.powerK2[g]! + floor);
    for (let k = from; k < to; k++) {
      const value = cells.value[k]!;
      const shown = seen.value[k]! - seen.level[g]!;
      const left = shown - contrast * value;
      const at = k * N;
      // Towards less unexplained, and towards more shown.
      for (let r = 0; r < N; r++) scores[g * N + r]! += (power * shown - rest * left) * rows[at + r]!;
      for (let r = 0; r < N; r++) rows[at + r]! -= (value / own) * sums[r]! + means[r]!;
      for (let r = 0; r < N; r++) {
        const row = (rest - power) * rows[at + r]!;
        for (let c = 0; c <= r; c++) hessian[r * N + c]! += row * rows[at + c]!;
      }
    }
  }

  /** A⁻¹ (Σ group scores² + prior) A⁻¹. */
  covariance(): Float64Array {
    const { hessian, scores, priors, settings } = this;
    const factor = choleskyFactor(hessian, N);
    if (factor === null) return new Float64Array(N * N).fill(Number.POSITIVE_INFINITY);
    const inverse = choleskyInverse(factor, N);
    const middle = Float64Array.from(settings.anchor?.precision ?? new Float64Array(N * N));
    for (let r = 0; r < N; r++) middle[r * N + r]! += priors[r]!;
    for (let g = 0; g < scores.length; g += N) {
      for (let r = 0; r < N; r++)
        for (let c = 0; c < N; c++) middle[r * N + c]! += scores[g + r]! * scores[g + c]!;
    }
    return times(times(inverse, middle), inverse);
  }
}

/** Precision × distance from the anchor. */
function pullOf({ motion, precision }: Anchor, now: Motion): Float64Array {
  const pull = new Float64Array(N);
  for (let r = 0; r < N; r++) {
    for (let c = 0; c < N; c++) pull[r]! += precision[r * N + c]! * (now[c]! - motion[c]!);
  }
  return pull;
}

function times(a: Float64Array, b: Float64Array): Float64Array {
  const out = new Float64Array(N * N);
  for (let r = 0; r < N; r++) {
    for (let k = 0; k < N; k++) for (let c = 0; c < N; c++) out[r * N + c]! += a[r * N + k]! * b[k * N + c]!;
  }
  return out;
}
