// evaluate: pairs of frames whose time since power-on is told → the error of the watts, beside that without it.
import { makeScene } from "../../simulate/make-scene.js";
import { makeRandom } from "../../simulate/random.js";
import type { Kind } from "../../simulate/scene.js";
import { estimateFigure, type Figure, shareFigure } from "../figure.js";
import { type Score, scoreAnswer } from "../score.js";
import { present, quantileWithInterval, shareOf } from "../statistics.js";
import { type Analyse, toolAnswer } from "../tool-chain.js";
import type { SpecialFigure, TrialValues } from "./special.js";

/** Kinds of pairs in which something heats by constant power. */
const PAIRS: readonly Kind[] = Object.freeze(["still", "nudged", "behind", "eight-bit", "near-parts"]);
/** A time read off a clock by hand is told to about a tenth: standard deviation of its logarithm. */
const TIME_ERROR = 0.1;

export const TIMED: SpecialFigure = {
  name: "timed",
  trials: 500,
  run: async (analyse, index, seed) => runTrial(analyse, index, seed),
  summarise,
};

function runTrial(analyse: Analyse, index: number, seed: number): TrialValues {
  const scene = makeScene(PAIRS[index % PAIRS.length]!, seed + Math.floor(index / PAIRS.length));
  const error = TIME_ERROR * makeRandom(`timed/${scene.kind}/${scene.seed}`).normal();
  const afterS = scene.truth.timesS.at(-1)! * Math.exp(error);
  const timed: Analyse = (input, options) => analyse({ ...input, afterS }, options);
  const scoreBy = (one: Analyse): Score => scoreAnswer(scene, "faultglow", toolAnswer(one, scene, {}), 0);
  const [without, told] = [scoreBy(analyse), scoreBy(timed)];
  return {
    plate: told.plateTold,
    heating: told.heating,
    without: without.wattsError,
    told: told.wattsError,
    inside: told.wattsInside90,
    rightWithout: without.rightFirst,
    right: told.rightFirst,
  };
}

function summarise(trials: readonly TrialValues[]): Figure[] {
  const median = (of: "told" | "without", some: readonly TrialValues[]) =>
    quantileWithInterval(present(some.map((one) => asNumber(one[of]))), 0.5);
  const ofPlate = (plate: Score["plateTold"]) => trials.filter((one) => one.plate === plate);
  const form = { unit: "%", digits: 1, scale: 100 } as const;
  const watts = (name: string, plate: Score["plateTold"], bar: number, aim: number): Figure => {
    const some = ofPlate(plate);
    const without = median("without", some)?.value ?? Number.NaN;
    const figure = estimateFigure(name, median("told", some), form, { atMost: bar }, { atMost: aim });
    return { ...figure, remark: `without the time ${(100 * without).toFixed(1)} %` };
  };
  const rightOf = (of: "right" | "rightWithout") => shareOf(present(trials.map((one) => asTruth(one[of]))));
  const right = shareFigure("pairs whose time is told: right part first", rightOf("right"), null, null);
  return [
    watts("time since power-on told to a tenth: watts, plate told", "right", 8, 5),
    watts("  plate not told", "no", 25, 15),
    shareFigure(
      "  90 % intervals of watts cover",
      shareOf(present(trials.map((one) => asTruth(one.inside)))),
      { between: [0.85, 0.95] },
      { between: [0.88, 0.92] },
    ),
    { ...right, remark: `without the time ${(rightOf("rightWithout")?.share ?? Number.NaN).toFixed(3)}` },
  ];
}

function asNumber(value: TrialValues[string] | undefined): number | null {
  return typeof value === "number" ? value : null;
}

function asTruth(value: TrialValues[string] | undefined): boolean | null {
  return typeof value === "boolean" ? value : null;
}
