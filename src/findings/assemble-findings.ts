// findings: what was found → the findings as the contract has them, with suspects, verdict, next step and notes.
import { FINISH_EMISSIVITY, isShiny } from "../board/emissivity.js";
import { signedArea } from "../board/polygon.js";
import type { Note, NoteCode } from "../core/notes.js";
import { degreesFromRadians } from "../core/units.js";
import type { Frame } from "../frames/frame.js";
import { median } from "../numeric/median.js";
import { smallestPeak } from "../rise/local-contrast.js";
import { FIT_DEFAULTS } from "../sources/fit-defaults.js";
import { leastHeatStep } from "../sources/least-heat-step.js";
import { chooseNextStep, type FrameDoubt } from "../suspects/next-step.js";
import { namedParts, sayVerdict, type VerdictInput } from "../suspects/verdict.js";
import type { AnalyseOptions, AnalysisInput } from "./analyse-options.js";
import { askQuestions } from "./ask-question.js";
import { collectNotes } from "./collect-notes.js";
import { describeCycle } from "./describe-cycle.js";
import { drawBooks } from "./draw-books.js";
import type { Cycle, Findings, Hotspot, InputFile, OtherSideFindings, Suspect } from "./findings-schema.js";
import type { Found } from "./found.js";
import { hiddenLimits, smallestPower } from "./hidden-limits.js";
import { identifyBoard } from "./identify-board.js";
import { strangest } from "./judge-artefacts.js";
import { listSuspects } from "./list-suspects.js";
import type { HotspotSeed } from "./measure-hotspot.js";
import { measureParts } from "./measure-parts.js";
import { comparableFeedW, seedsToTell } from "./seeds-with-feed.js";
import { type BoardView, boardViews, type SeenView, sidesOf } from "./seen-view.js";
import { unmappedChange } from "./unmapped-change.js";
import { viewOf } from "./view-names.js";

/** With a board, a step on a moulded part smaller than this is taken for the room mirrored in its finish, K. */
const leastStepK = (): number => {
  // Always the same number, searched for once.
  stepOnMouldedK ??= leastHeatStep(FINISH_EMISSIVITY.moulded.emissivity, FIT_DEFAULTS.leastHeatOdds);
  return stepOnMouldedK;
};
let stepOnMouldedK: number | undefined;

/** Put everything found into the findings.
 *  @param views prepared, the primary one first.
 *  @param seeds those found, with their watts held against what was fed in: what hotspots and suspects tell. Energy
 *  books have them as the frames alone tell, what attempts are compared by as the fit found them.
 */
export function assembleFindings(
  input: AnalysisInput,
  options: AnalyseOptions,
  views: readonly SeenView[],
  found: Found,
  seeds: readonly HotspotSeed[],
  hotspots: readonly Hotspot[],
): Findings {
  const standing = hotspots.slice(0, seeds.length);
  const stands = (rank: number | null) => rank === null || rank <= standing.length;
  const primary = views[0]!;
  const { pair } = primary;
  const onBoard = boardViews(views)?.views ?? null;
  const faults = found.seeds.filter((seed) => seed.source?.candidate.normallyWarm !== true).length;
  const fedW =
    typeof input.volts === "number" && typeof input.amps === "number" ? input.volts * input.amps : null;
  const comparableW = comparableFeedW(input, pair);
  const suspects = onBoard === null ? [] : listSuspects(seeds, found.beside, hotspots, onBoard, comparableW);
  const limits = onBoard === null || found.fit === null ? [] : hiddenLimits(onBoard, found.fit);
  const smallestW = found.fit === null ? null : smallestPower(found.fit, null);
  const thresholdK = thresholdOf(primary);
  const notes = collectNotes(input, views, found, thresholdK, limits, smallestW);
  const unmapped = onBoard === null ? null : unmappedChange(found.artefacts, hotspots, onBoard, thresholdK);
  const answer: VerdictInput = {
    suspects: suspects.filter(({ hotspot }) => stands(hotspot)),
    beside: suspects.filter(({ hotspot }) => !stands(hotspot)),
    hotspots: standing.length,
    faults,
    byPowerAlone: found.seeds.every(
      ({ source }) => source === null || source.candidate.normallyWarm || source.byFeed !== null,
    ),
    boardKnown: onBoard !== null,
    smallestRiseK: thresholdK,
    firstPx: hotspots[0]?.sourcePx ?? null,
    strange: strangest(found.strange),
    unmapped,
  };
  const next = chooseNextStep({
    doubt: doubtOf(notes),
    boardKnown: onBoard !== null,
    hotspots: standing.length,
    aligned: views.every((view) => view.pair.alignment.trusted),
    strange: answer.strange,
    unmapped,
    faults: onBoard === null ? [] : askQuestions(onBoard, found.seeds, standing),
    named: namedParts(answer).map(({ ref }) => ref),
    nothing: {
      viewSide: primary.placed?.view.side ?? null,
      bothSides: onBoard !== null && sidesOf(onBoard).size > 1,
      fedW,
      smallestW,
      reflections: found.artefacts.filter((a) => a.kind === "reflection").length,
      shinyShare: onBoard === null ? 0 : shinyShareOf(onBoard),
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
      ...(primary.pair.afterS === undefined ? {} : { afterS: primary.pair.afterS }),
      volts: input.volts ?? null,
      amps: input.amps ?? null,
    },
    options: {
      falseAlarmsPerFrame: options.falseAlarmsPerFrame,
      tailFactor: options.tailFactor,
      ...((input.cycleS ?? null) === null ? {} : { cycleS: input.cycleS }),
    },
    ...alignmentAndNoise(primary),
    threshold: {
      riseK: thresholdK,
      falseAlarmsPerFrame: options.falseAlarmsPerFrame,
      powerW: smallestW,
    },
    hotspots: [...hotspots],
    suspects,
    artefacts: [...found.artefacts],
    unexplained: onBoard === null || faults === 0 ? null : unexplainedOf(found, suspects, faults),
    verdict: sayVerdict(answer),
    nextStep: next.sentence,
    nextStepGain: next.gainBits,
    ...(next.unmapped === undefined ? {} : { nextStepUnmapped: next.unmapped }),
    energy: drawBooks(
      input,
      onBoard,
      { ...found, seeds: seedsToTell(found.seeds) },
      limits,
      seeds.some(({ exceedsFeed }) => exceedsFeed === true),
    ),
    limits,
    cycle: cycleOf(primary, found.seeds, standing),
    otherSide: onBoard?.[1] === undefined ? null : otherSideOf(input, onBoard, found.seeds, standing),
    board: onBoard === null || found.fit === null ? null : identifyBoard(onBoard, found.fit),
    ...(onBoard === null || found.fit === null
      ? {}
      : { parts: measureParts(onBoard, found.fit, found.seeds, standing, leastStepK()) }),
    notes,
  };
}

/** The doubt of the frames themselves that a note speaks of; null without one. */
function doubtOf(notes: readonly Note[]): FrameDoubt | null {
  const noted = (code: NoteCode): boolean => notes.some((each) => each.code === code);
  if (noted("N_SAME_FRAMES")) return "same";
  if (noted("N_ROLES_SWAPPED")) return "swapped";
  return noted("N_DRIFT_LARGE") ? "everything" : null;
}

/** Smallest rise that counts in a view, K. */
function thresholdOf({ pair, placed }: SeenView): number {
  const seenK = smallestPeak(pair.layers, pair.threshold);
  // A mirrored room does not follow the supply: cycled, every step that is seen is heat.
  return placed === null || pair.cycle !== undefined ? seenK : Math.max(seenK, leastStepK());
}

/** How well the frames of a view were brought together, and their noise. */
function alignmentAndNoise({ pair }: SeenView): Pick<Findings, "alignment" | "noise"> {
  const { transform, uncertaintyPx, trusted } = pair.alignment;
  return {
    alignment: {
      dxPx: transform.dxPx,
      dyPx: transform.dyPx,
      rotationDeg: degreesFromRadians(transform.angleRad),
      uncertaintyPx: Number.isFinite(uncertaintyPx)
        ? uncertaintyPx
        : Math.hypot(pair.shape.width, pair.shape.height),
      trusted,
    },
    noise: { sigmaK: median(pair.pixelNoise.data), testedSigmaK: median(pair.layers[0]!.noise.data) },
  };
}

/** The rhythm in the frames of a view, with the hotspots that belong to it. */
function cycleOf(
  { name, pair }: SeenView,
  seeds: readonly HotspotSeed[],
  hotspots: readonly Hotspot[],
): Cycle | null {
  if (pair.cycle === undefined) return null;
  const own = seeds.flatMap((seed, k) => (viewOf(seed) === name ? [k] : []));
  return describeCycle(
    pair.cycle,
    own.map((k) => seeds[k]!),
    own.map((k) => hotspots[k]!),
  );
}

function otherSideOf(
  { otherSide }: AnalysisInput,
  [primary, other]: readonly BoardView[],
  seeds: readonly HotspotSeed[],
  hotspots: readonly Hotspot[],
): OtherSideFindings {
  return {
    primarySide: primary!.placed.view.side,
    side: other!.placed.view.side,
    inputs: {
      baseline: other!.baseline.map(inputFile),
      powered: other!.powered.map(inputFile),
      view: otherSide?.viewFile ?? null,
      rateHz: other!.rateHz,
    },
    ...alignmentAndNoise(other!),
    threshold: { riseK: thresholdOf(other!) },
    cycle: cycleOf(other!, seeds, hotspots),
  };
}

/** The chance that the first fault hotspot is none of the suspects, or no heat at all. */
function unexplainedOf(
  { seeds, beside }: Pick<Found, "seeds" | "beside">,
  suspects: readonly Suspect[],
  faults: number,
): number {
  const first = seeds.find((seed) => seed.source?.candidate.normallyWarm !== true)!;
  const named =
    faults + beside.length === 1
      ? suspects.reduce((sum, suspect) => sum + suspect.probability, 0)
      : first.weighed.reduce((sum, { probability }) => sum + probability, 0);
  return Math.min(1, Math.max(0, 1 - named));
}

/** Share of the sides in view that lies under shiny faces. */
function shinyShareOf(views: readonly BoardView[]): number {
  const { board } = views[0]!.placed;
  const sides = sidesOf(views);
  const shiny = board.regions.filter((region) => sides.has(region.side) && isShiny(region));
  const sum = shiny.reduce((area, { polygon }) => area + Math.abs(signedArea(polygon)), 0);
  return Math.min(1, sum / (sides.size * Math.abs(signedArea(board.outline))));
}

function inputFile(frame: Frame): InputFile {
  const { width, height } = frame.raster;
  return { file: frame.file, sha256: frame.sha256, width, height };
}
