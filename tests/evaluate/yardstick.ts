// evaluate: the tool's scores → the figures that the work is held against, each with its bar and its aim.
import type { Kind } from "../simulate/scene.js";
import { brierWithInterval, calibration } from "./calibration.js";
import { estimateFigure, type Figure, shareFigure, type Wanted } from "./figure.js";
import type { Call, Score } from "./score.js";
import {
  inverseOf,
  present,
  quantileWithInterval,
  robustScatter,
  type Share,
  shareOf,
  Z90,
} from "./statistics.js";
import { firstCalls } from "./summary.js";

const PLAIN: readonly Kind[] = ["still", "nudged", "behind", "eight-bit", "burst"];
const atLeast = (value: number): Wanted => ({ atLeast: value });
const atMost = (value: number): Wanted => ({ atMost: value });
const between = (low: number, high: number): Wanted => ({ between: [low, high] });

/** Figures of the simulated scenes; those of kinds that were not run are left out.
 *  @param all scores of the tool, whole.
 */
export function sceneFigures(all: readonly Score[]): Figure[] {
  const of = (...kinds: readonly Kind[]): Score[] => all.filter((score) => kinds.includes(score.kind));
  const right = (some: readonly Score[]): Share | null =>
    shareOf(present(some.map((score) => score.rightFirst)));
  const clean = (some: readonly Score[]): Share | null =>
    shareOf(some.map((score) => score.falseAlarms === 0));
  const powered = all.filter((score) => score.rightFirst !== null);
  const figures = [
    shareFigure(
      "right part first: still, nudged, behind, 8-bit, burst",
      right(of(...PLAIN)),
      atLeast(0.98),
      atLeast(1),
    ),
    ...PLAIN.map((kind) => shareFigure(`  ${kind}`, right(of(kind)), atLeast(0.98), atLeast(1))),
    shareFigure(
      "  warm processor and power manager beside",
      right(of("warm-processor")),
      atLeast(0.95),
      atLeast(0.99),
    ),
    shareFigure(
      "  two parts a millimetre apart, first two",
      right(of("near-parts")),
      atLeast(0.9),
      atLeast(0.97),
    ),
    shareFigure(
      "  reflections changed by more than the rise",
      right(of("reflections")),
      atLeast(0.95),
      atLeast(0.99),
    ),
    shareFigure("  faint, 5–9 σ of a pixel", right(of("faint")), atLeast(0.8), atLeast(0.95)),
    shareFigure("  parts that begin one after the other", right(of("onsets")), null, null),
    shareFigure("  switched supply, milliwatts", right(of("cycled")), null, null),
    shareFigure("  both sides seen", right(of("two-sides")), null, null),
    shareFigure("  part not in the map: the rest outweighs", right(of("unlisted")), null, null),
    shareFigure("unpowered, no hotspot", clean(of("unpowered")), atLeast(0.98), atLeast(0.995)),
    shareFigure("  … with undeclared bare metal", clean(of("unpowered-bare")), atLeast(0.9), atLeast(0.97)),
    ...alignFigures(all.filter((score) => score.nudged)),
    estimateFigure(
      "stated σ of a place ÷ true scatter, scenes",
      inverseOf(robustScatter(present(all.map((score) => score.positionZ)).flat())),
      { unit: "", digits: 2 },
      between(0.8, 1.25),
      between(0.9, 1.1),
    ),
    ...wattsFigures(powered),
    ...onsetFigures(of("burst", "onsets")),
    ...sideFigures(of("two-sides")),
    ...calibrationFigures("first suspects", firstCalls(all)),
    ...calibrationFigures(
      "all suspects",
      all.filter((score) => score.kind !== "unlisted").flatMap((score) => score.calls),
    ),
    ...calibrationFigures(
      "all suspects, part not in the map",
      of("unlisted").flatMap((score) => score.calls),
      false,
    ),
    ...calibrationFigures(
      "the rest for none of the named",
      present(all.map((score) => score.restCall)),
      false,
    ),
  ];
  return figures.filter((figure) => figure.value !== null);
}

function alignFigures(nudged: readonly Score[]): Figure[] {
  const errors = nudged.map((score) => score.alignErrorPx).filter((value) => Number.isFinite(value));
  const form = { unit: "px", digits: 3 } as const;
  return [
    estimateFigure(
      "alignment of nudged boards, median",
      quantileWithInterval(errors, 0.5),
      form,
      atMost(0.05),
      atMost(0.03),
    ),
    estimateFigure("  95th percentile", quantileWithInterval(errors, 0.95), form, atMost(0.3), atMost(0.15)),
  ];
}

function wattsFigures(powered: readonly Score[]): Figure[] {
  const form = { unit: "%", digits: 1, scale: 100 } as const;
  const error = (told: Score["plateTold"]) =>
    quantileWithInterval(
      present(
        powered.map((score) =>
          score.plateTold === told && score.heating !== "cycled" ? score.wattsError : null,
        ),
      ),
      0.5,
    );
  return [
    estimateFigure("watts, median error: plate told", error("right"), form, atMost(8), atMost(5)),
    estimateFigure("  plate told, up to 20 % off", error("off"), form, null, null),
    estimateFigure("  plate not told", error("no"), form, atMost(25), atMost(15)),
    shareFigure(
      "90 % intervals of watts cover",
      shareOf(present(powered.map((score) => score.wattsInside90))),
      between(0.85, 0.95),
      between(0.88, 0.92),
    ),
  ];
}

function onsetFigures(bursts: readonly Score[]): Figure[] {
  const onsets = bursts.flatMap((score) => score.onsets);
  const known = onsets.filter((one) => one.errorS !== null);
  const z = known.flatMap(({ errorS, sigmaS }) => (sigmaS === null ? [] : [errorS! / sigmaS]));
  const inIntervals = known.map(({ errorS, intervalS }) => Math.abs(errorS!) / intervalS);
  return [
    shareFigure(
      "onset stated, of parts that heat in bursts",
      shareOf(onsets.map((one) => one.errorS !== null)),
      null,
      null,
    ),
    estimateFigure(
      "  median error, in frame intervals",
      quantileWithInterval(inIntervals, 0.5),
      { unit: "", digits: 2 },
      null,
      null,
    ),
    shareFigure(
      "  90 % intervals cover",
      shareOf(z.map((one) => Math.abs(one) <= Z90)),
      between(0.85, 0.95),
      between(0.88, 0.92),
    ),
  ].filter(() => known.length > 0);
}

function sideFigures(scores: readonly Score[]): Figure[] {
  const stated = present(scores.map((score) => score.sideProbability));
  const calls = stated.map((p): Call => [p, true]);
  return [
    shareFigure(
      "side of the source: the likelier one is right",
      shareOf(stated.map((p) => p > 0.5)),
      null,
      null,
    ),
    estimateFigure("  Brier of its odds", brierWithInterval(calls), { unit: "", digits: 3 }, null, null),
  ];
}

function calibrationFigures(name: string, calls: readonly Call[], held = true): Figure[] {
  const { calibrationError } = calibration(calls);
  const error =
    calibrationError === null
      ? null
      : { value: calibrationError, low: Number.NaN, high: Number.NaN, of: calls.length };
  const form = { unit: "", digits: 3 } as const;
  return [
    estimateFigure(
      `calibration error, ${name}`,
      error,
      form,
      held ? atMost(0.05) : null,
      held ? atMost(0.02) : null,
    ),
    // The bar is "below", which for a measured number is "at most".
    estimateFigure(
      "  Brier",
      brierWithInterval(calls),
      form,
      held ? atMost(0.06) : null,
      held ? atMost(0.03) : null,
    ),
  ];
}
