// findings: what was found → the findings as the contract has them, with suspects, verdict, next step and notes.
import { FINISH_EMISSIVITY, isShiny } from "../board/emissivity.js";
import { signedArea } from "../board/polygon.js";
import { degreesFromRadians } from "../core/units.js";
import type { Frame } from "../frames/frame.js";
import { median } from "../numeric/median.js";
import { smallestPeak } from "../rise/local-contrast.js";
import { FIT_DEFAULTS } from "../sources/fit-defaults.js";
import { leastHeatStep } from "../sources/heat-or-mirror.js";
import { chooseNextStep } from "../suspects/next-step.js";
import { sayVerdict } from "../suspects/verdict.js";
import type { AnalyseOptions, AnalysisInput } from "./analyse-options.js";
import { askQuestion } from "./ask-question.js";
import { collectNotes } from "./collect-notes.js";
import { describeCycle } from "./describe-cycle.js";
import { drawBooks } from "./draw-books.js";
import type { Findings, Hotspot, InputFile, Suspect } from "./findings-schema.js";
import type { Found } from "./found.js";
import { hiddenLimits, smallestPower } from "./hidden-limits.js";
import { listSuspects } from "./list-suspects.js";
import type { BoardContext, HotspotSeed } from "./measure-hotspot.js";
import type { PreparedPair } from "./prepare-pair.js";

/** With a board, a step on a moulded part smaller than this is taken for the room mirrored in its finish, K. */
const LEAST_STEP_K = leastHeatStep(FINISH_EMISSIVITY.moulded.emissivity, FIT_DEFAULTS.leastHeatOdds);

/** Put everything found into the findings. */
export function assembleFindings(
  input: AnalysisInput,
  options: AnalyseOptions,
  pair: PreparedPair,
  context: BoardContext | null,
  found: Found,
  hotspots: readonly Hotspot[],
): Findings {
  const { transform, uncertaintyPx, trusted } = pair.alignment;
  const faults = found.seeds.filter((seed) => seed.source?.candidate.normallyWarm !== true).length;
  const fedW =
    typeof input.volts === "number" && typeof input.amps === "number" ? input.volts * input.amps : null;
  // Watts that follow a rhythm are only part of those fed in.
  const comparableW = pair.cycle === undefined ? fedW : null;
  const suspects = context === null ? [] : listSuspects(found.seeds, hotspots, context, comparableW);
  const limits = context === null || found.fit === null ? [] : hiddenLimits(pair, context, found.fit);
  const smallestW = found.fit === null ? null : smallestPower(found.fit, null);
  const noiseK = median(pair.pixelNoise.data);
  const testedSigmaK = median(pair.layers[0]!.noise.data);
  const seenK = smallestPeak(pair.layers, pair.threshold);
  // A mirrored room does not follow the supply: cycled, every step that is seen is heat.
  const thresholdK = found.fit === null || pair.cycle !== undefined ? seenK : Math.max(seenK, LEAST_STEP_K);
  const isBurst = (input.rateHz ?? null) !== null && input.powered.length > 1 && pair.cycle === undefined;
  const next = chooseNextStep({
    boardKnown: context !== null,
    hotspots: hotspots.length,
    aligned: trusted,
    question: context === null ? null : askQuestion(pair, context, found.seeds, hotspots, isBurst),
    nothing: {
      viewSide: context?.view.side ?? null,
      bothSides: false,
      fedW,
      smallestW,
      reflections: found.artefacts.filter((a) => a.kind === "reflection").length,
      shinyShare: context === null ? 0 : shinyShareOf(context),
      shiniest: limits[0]?.ref ?? null,
    },
  });
  return {
    kind: "faultglow/findings",
    version: 1,
    tool: { name: "faultglow", version: options.toolVersion },
    inputs: {
      baseline: input.baseline.map(inputFile),
      powered: input.powered.map(inputFile),
      board: input.boardFile ?? null,
      view: input.viewFile ?? null,
      scale: input.scale ?? null,
      rateHz: input.rateHz ?? null,
      volts: input.volts ?? null,
      amps: input.amps ?? null,
    },
    options: {
      falseAlarmsPerFrame: options.falseAlarmsPerFrame,
      tailFactor: options.tailFactor,
      ...((input.cycleS ?? null) === null ? {} : { cycleS: input.cycleS }),
    },
    alignment: {
      dxPx: transform.dxPx,
      dyPx: transform.dyPx,
      rotationDeg: degreesFromRadians(transform.angleRad),
      uncertaintyPx: Number.isFinite(uncertaintyPx)
        ? uncertaintyPx
        : Math.hypot(pair.shape.width, pair.shape.height),
      trusted,
    },
    noise: { sigmaK: noiseK, testedSigmaK },
    threshold: {
      riseK: thresholdK,
      falseAlarmsPerFrame: options.falseAlarmsPerFrame,
      powerW: smallestW,
    },
    hotspots: [...hotspots],
    suspects,
    artefacts: [...found.artefacts],
    unexplained: context === null || faults === 0 ? null : unexplainedOf(found.seeds, suspects, faults),
    verdict: sayVerdict({
      suspects,
      hotspots: hotspots.length,
      faults,
      boardKnown: context !== null,
      smallestRiseK: thresholdK,
      firstPx: hotspots[0]?.sourcePx ?? null,
    }),
    nextStep: next.sentence,
    nextStepGain: next.gainBits,
    energy: drawBooks(input, pair, context, found, limits),
    limits,
    cycle: pair.cycle === undefined ? null : describeCycle(pair.cycle, found.seeds, hotspots),
    notes: collectNotes(input, pair, found, thresholdK, limits, smallestW),
  };
}

/** The chance that the first fault hotspot is none of the suspects, or no heat at all. */
function unexplainedOf(seeds: readonly HotspotSeed[], suspects: readonly Suspect[], faults: number): number {
  const first = seeds.find((seed) => seed.source?.candidate.normallyWarm !== true)!;
  const named =
    faults === 1
      ? suspects.reduce((sum, suspect) => sum + suspect.probability, 0)
      : first.weighed.reduce((sum, { probability }) => sum + probability, 0);
  return Math.min(1, Math.max(0, 1 - named));
}

/** Share of the board in view that lies under shiny faces. */
function shinyShareOf({ board, view }: BoardContext): number {
  const shiny = board.regions.filter((region) => region.side === view.side && isShiny(region));
  const sum = shiny.reduce((area, { polygon }) => area + Math.abs(signedArea(polygon)), 0);
  return Math.min(1, sum / Math.abs(signedArea(board.outline)));
}

function inputFile(frame: Frame): InputFile {
  const { width, height } = frame.raster;
  return { file: frame.file, sha256: frame.sha256, width, height };
}
