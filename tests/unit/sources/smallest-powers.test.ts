import { afterEach, describe, expect, it } from "vitest";
import { useKernels } from "../../../src/numeric/kernels.js";
import type { CandidatePool } from "../../../src/sources/candidate-pool.js";
import { smallestPowers } from "../../../src/sources/smallest-powers.js";
import type { Candidate, SourceModel } from "../../../src/sources/source-model.js";
import { makeRandom } from "../../simulate/random.js";
import { agreed } from "../numeric/both-ways.js";

afterEach(() => useKernels(true));

const candidates = ["A", "B", "C"].map((ref) => ({ ref }) as Candidate);
/** K/W per pixel of each candidate's plate column; C lies outside the picture. */
const columns = [
  [8, 10, 4, 0, 0],
  [0, 2, 2.5, 4, 4],
  [0, 0, 0, 0, 0],
].map((values) => Float32Array.from(values));
const norms = [400, 25, 0];
const model = {
  candidates,
  plateColumn: (candidate: Candidate) => ({ at: null, values: columns[candidates.indexOf(candidate)]! }),
} as unknown as SourceModel;
const pool = {
  state: null,
  plateNorm: (candidate: Candidate) => norms[candidates.indexOf(candidate)]!,
} as unknown as CandidatePool;

const powers = (heat: readonly number[], variance: readonly number[], share: number): number[] => [
  ...smallestPowers(model, pool, Float32Array.from(heat), Float32Array.from(variance), {
    evidence: 32,
    scale: 2,
    share,
  }).values(),
];

describe("smallestPowers", () => {
  it("where nothing else heats, are those whose χ² is the evidence times the scale", () => {
    // √(64/400) and √(64/25); nothing of the third is in the picture.
    expect(powers([0, 0, 0, 0, 0], [1, 1, 1, 1, 1], 0.1)).toEqual([0.4, 1.6, Number.POSITIVE_INFINITY]);
  });

  it("beside other heat, a source has to add its share where it stands out best", () => {
    // A: least of 40/8 and 60/10, times 0.2. B: of 20/2.5, 24/4 and 12/4 at more than half its peak: 3.
    const [a, b] = powers([40, 60, 20, 24, 12], [1, 1, 1, 1, 1], 0.2);
    expect(a).toBeCloseTo(1, 6);
    expect(b).toBeCloseTo(1.6, 6);
    expect(powers([40, 60, 20, 24, 12], [1, 1, 1, 1, 1], 1)[1]).toBeCloseTo(3, 6);
  });

  it("pixels that are left out give nothing away", () => {
    // Without its own peak, half of which is 4 K/W, A is seen where it makes 8, not at 4; B is not seen at 12.
    const left = [1, Number.NaN, 1, 1, Number.NaN];
    const [a, b] = powers([40, 0, 0, 24, 0], left, 1);
    expect(a).toBeCloseTo(5, 6);
    // At 2.5 of 4 K/W there is no other heat, so that evidence alone decides.
    expect(b).toBeCloseTo(1.6, 6);
  });

  it.each([1, 4, 15, 330])(
    "takes the same of %i pixels with the kernels and without, to the last bit",
    (count) => {
      const random = makeRandom(`smallest powers ${count}`);
      const numbers = () => Float32Array.from({ length: count }, () => random.uniform(-1, 9));
      const plates = candidates.map(numbers);
      const many = {
        candidates,
        plateColumn: (candidate: Candidate) => ({ at: null, values: plates[candidates.indexOf(candidate)]! }),
      } as unknown as SourceModel;
      const heat = numbers();
      const variance = numbers().map((value) => (random.chance(0.2) ? Number.NaN : value - 0.5));
      agreed(() => smallestPowers(many, pool, heat, variance, { evidence: 32, scale: 2, share: 1 }));
    },
  );
});
