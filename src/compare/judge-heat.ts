// compare: tests of each part's heat → what became of it, with a false-discovery rate over all parts.
import { benjaminiHochberg } from "../numeric/benjamini-hochberg.js";
import { normalTail } from "../numeric/normal-distribution.js";
import type { Change } from "./comparison-schema.js";
import type { Division } from "./divide-power.js";
import { judgeJointly } from "./judge-jointly.js";
import type { PartHeat } from "./name-part-heat.js";
import { sharedSigma } from "./strength-ratio.js";
import type { HeatTest } from "./test-heat.js";

/** What is known of one part's heat before all are tested together. */
export interface TestedHeat {
  readonly heat: PartHeat;
  readonly division: Division;
  /** Why nothing is tested: it is the one normally warm part, which stands for the power; or its numbers mean something
   *  else in the other attempt, where the supply was switched on and off. Null: it is. */
  readonly untested: "power" | "cycle" | null;
  readonly test: HeatTest;
}

/** Heat with what became of it. */
export interface JudgedHeat extends TestedHeat {
  readonly change: Change;
  readonly z: number | null;
  readonly pValue: number | null;
  readonly qValue: number | null;
  /** Power divided out; null unless there in both. */
  readonly log: { readonly ratio: number; readonly sigma: number } | null;
  /** Its change was told of all parts together. */
  readonly together?: true;
  /** The stronger part close beside it that it only goes along with. */
  readonly goesWith?: string;
  /** … and the attempt in which its heat can't be told from that one's: 0 the earlier one. */
  readonly behind?: 0 | 1;
  /** Parts that only go along with it. */
  readonly followers?: readonly string[];
}

/** Test all parts together. Heat that went, came or grew changed the power that was fed in: beside any, another part
 *  counts as hotter or cooler only if it is so per watt fed in and as it is.
 *  @param rate share of the changes told that may be none.
 *  @returns in the order of the tests.
 */
export function judgeHeat(tests: readonly TestedHeat[], rate: number): JudgedHeat[] {
  const first = testAll(tests, rate, () => false);
  const changed = first.map(({ change }) => change !== "persisted" && change !== "unsure");
  const count = changed.filter(Boolean).length;
  if (count > 0) return testAll(tests, rate, (k) => count > (changed[k] ? 1 : 0));
  return testTogether(first, rate);
}

/** Test all parts that heat in both attempts as one, where each by itself tells no change: one that takes less makes
 *  the power fed in less, and all others look stronger for it. What is not told so stays as it was judged.
 */
function testTogether(judged: readonly JudgedHeat[], rate: number): JudgedHeat[] {
  const both = judged.filter(({ division, log }) => division.by === "fed" && log !== null);
  if (both.length < 2) return [...judged];
  const { factor, logSigma } = both[0]!.division;
  const ratios = both.flatMap(({ test }) =>
    test.kind === "both" && test.ratio !== null ? [test.ratio] : [],
  );
  const z = judgeJointly(ratios, Math.log(factor), logSigma);
  const chances = z.map((sigmas) => Math.min(1, 2 * normalTail(Math.abs(sigmas))));
  const { rejected, adjusted } = benjaminiHochberg(chances, rate);
  return judged.map((one): JudgedHeat => {
    const k = both.indexOf(one);
    if (k < 0 || rejected[k] !== 1) return one;
    const told = { z: z[k]!, pValue: chances[k]!, qValue: adjusted[k]! };
    return { ...one, ...told, change: changeOf(one, z[k]!, true), together: true };
  });
}

function testAll(
  tests: readonly TestedHeat[],
  rate: number,
  eitherWay: (index: number) => boolean,
): JudgedHeat[] {
  const sized = tests.map((one, k) => ({ one, ...sizeOf(one, eitherWay(k)) }));
  const chances = sized.map(({ one, z }) => {
    if (z === null) return Number.NaN;
    return Math.min(1, (one.test.kind === "both" ? 2 : 1) * normalTail(Math.abs(z)));
  });
  // Parts in which neither attempt found heat are no part of this: what passes for heat was held to every place of the
  // frame by each attempt itself.
  const found = benjaminiHochberg(chances, rate);
  return sized.map(({ one, z, log }, k) => {
    const changed = found.rejected[k] === 1;
    const tested = z !== null;
    return {
      ...one,
      change: changeOf(one, z, changed),
      z,
      log,
      pValue: tested ? chances[k]! : null,
      qValue: tested ? found.adjusted[k]! : null,
    };
  });
}

function sizeOf(
  { heat, test, division, untested }: TestedHeat,
  eitherWay: boolean,
): Pick<JudgedHeat, "z" | "log"> {
  if (untested !== null) return { z: null, log: null };
  if (test.kind === "one") {
    if (test.sigmas === null) return { z: null, log: null };
    return { z: heat.shown[0] ? -test.sigmas : test.sigmas, log: null };
  }
  if (test.ratio === null || !heat.bothSeen) return { z: null, log: null };
  const power = Math.log(division.factor);
  const ratio = test.ratio.log - power;
  // What the plate's state does to all watts it does to those that stand for the power as well.
  const { shared, logSigma } = division;
  const rest2 = Math.max(0, logSigma ** 2 - shared ** 2);
  const sigma = Math.hypot(test.ratio.own, sharedSigma(test.ratio) - shared, Math.sqrt(rest2));
  const [low, high] = eitherWay ? [Math.min(0, power), Math.max(0, power)] : [power, power];
  const beyond =
    test.ratio.log > high ? test.ratio.log - high : test.ratio.log < low ? test.ratio.log - low : 0;
  return { z: beyond / sigma, log: { ratio, sigma } };
}

function changeOf({ heat, test }: TestedHeat, z: number | null, changed: boolean): Change {
  if (!heat.bothSeen) return "unsure";
  if (test.kind === "both") return !changed ? "persisted" : z! > 0 ? "hotter" : "cooler";
  return !changed ? "unsure" : heat.shown[0] ? "gone" : "new";
}
