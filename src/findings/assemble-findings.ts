// findings: what was found → the findings as the contract has them, with suspects, verdict, next step and notes.
import { emissivityOf, FINISH_EMISSIVITY } from "../board/emissivity.js";
import { formatSignificant } from "../core/format-quantity.js";
import { type Note, note } from "../core/notes.js";
import { degreesFromRadians } from "../core/units.js";
import type { Frame } from "../frames/frame.js";
import { median } from "../numeric/median.js";
import { smallestPeak } from "../rise/local-contrast.js";
import { FIT_DEFAULTS } from "../sources/fit-defaults.js";
import { explainSuspect } from "../suspects/explain-suspect.js";
import { sayNextStep, sayVerdict, type VerdictInput } from "../suspects/verdict.js";
import type { AnalyseOptions, AnalysisInput } from "./analyse-options.js";
import type { Findings, Hotspot, InputFile, Suspect } from "./findings-schema.js";
import type { Found } from "./found.js";
import type { BoardContext, HotspotSeed } from "./measure-hotspot.js";
import type { PreparedPair } from "./prepare-pair.js";

/** With a board, a step on a moulded part smaller than this is taken for the room mirrored in its finish, K. */
const LEAST_STEP_K =
  (FIT_DEFAULTS.leastHeatOdds - FIT_DEFAULTS.heatOddsFaint) *
  FIT_DEFAULTS.roomStepK *
  (1 - FINISH_EMISSIVITY.moulded.emissivity);

/** A camera's offset moves by tenths of a kelvin between two captures, a table in the sun by a few, K. */
const MOST_DRIFT_K = 5;
/** Cooling this many times stronger than any warming is worth a word. */
const SWAPPED_RATIO = 2.5;

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
  const suspects = context === null ? [] : suspectsOf(found.seeds, hotspots, context);
  const noiseK = median(pair.pixelNoise.data);
  const testedSigmaK = median(pair.layers[0]!.noise.data);
  const seenK = smallestPeak(pair.layers, pair.threshold);
  const thresholdK = found.fit === null ? seenK : Math.max(seenK, LEAST_STEP_K);
  const verdict: VerdictInput = {
    suspects,
    hotspots: hotspots.length,
    faults,
    boardKnown: context !== null,
    viewSide: context?.view.side ?? null,
    aligned: trusted,
    smallestRiseK: thresholdK,
    firstPx: hotspots[0]?.sourcePx ?? null,
    reflections: found.artefacts.filter((a) => a.kind === "reflection").length,
  };
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
    options: { falseAlarmsPerFrame: options.falseAlarmsPerFrame, tailFactor: options.tailFactor },
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
    threshold: { riseK: thresholdK, falseAlarmsPerFrame: options.falseAlarmsPerFrame },
    hotspots: [...hotspots],
    suspects,
    artefacts: [...found.artefacts],
    unexplained: context === null || faults === 0 ? null : unexplainedOf(found.seeds, suspects, faults),
    verdict: sayVerdict(verdict),
    nextStep: sayNextStep(verdict),
    notes: notesOf(input, pair, found, thresholdK),
  };
}

/** Every named part that may be a source: the chance that it is, over all hotspots that are not normally warm. */
function suspectsOf(
  seeds: readonly HotspotSeed[],
  hotspots: readonly Hotspot[],
  { board, view }: BoardContext,
): Suspect[] {
  const byRef = new Map<string, Suspect>();
  seeds.forEach((seed, k) => {
    const source = seed.source!;
    const hotspot = hotspots[k]!;
    const { normallyWarm } = source.candidate;
    seed.weighed.forEach(({ candidate, probability }, place) => {
      const own = candidate === source.candidate;
      if (normallyWarm ? !own : probability < 0.002 && !own) return;
      const ref = candidate.ref!;
      const before = byRef.get(ref);
      const chance = normallyWarm ? 0 : probability;
      const joint = before === undefined ? chance : 1 - (1 - before.probability) * (1 - chance);
      if (before !== undefined && before.probability > chance) {
        byRef.set(ref, { ...before, probability: joint });
        return;
      }
      const other = seed.weighed[place === 0 ? 1 : 0];
      const region = board.regions[candidate.region]!;
      byRef.set(ref, {
        ref,
        side: candidate.side,
        probability: joint,
        powerW: own ? source.powerW : null,
        normallyWarm,
        hotspot: hotspot.rank,
        why: own
          ? explainSuspect({
              ref,
              powerW: source.powerW,
              powerSigmaW: source.powerSigmaW,
              peakRiseK: hotspot.peakRiseK,
              evidence: source.evidence,
              distanceMm: seed.patch === null ? null : distanceOf(hotspot, ref),
              sigmaMm: hotspot.sourceSigmaMm,
              farSide: candidate.side !== view.side,
              bodyShare: source.bodyShare,
              normallyWarm,
              runnerUp:
                other === undefined || normallyWarm
                  ? null
                  : { ref: other.candidate.ref!, odds: probability / other.probability },
              shiny: candidate.side === view.side && emissivityOf(region) < 0.5,
            })
          : [
              `It could make the heat that ${source.candidate.ref ?? "a place outside the named parts"} explains best.`,
            ],
      });
    });
  });
  return [...byRef.values()].sort(
    (a, b) =>
      Number(a.normallyWarm) - Number(b.normallyWarm) ||
      b.probability - a.probability ||
      (a.ref < b.ref ? -1 : 1),
  );
}

function distanceOf(hotspot: Hotspot, ref: string): number | null {
  return hotspot.nearest.find((near) => near.ref === ref)?.distanceMm ?? null;
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

function notesOf(input: AnalysisInput, pair: PreparedPair, found: Found, thresholdK: number): Note[] {
  const notes: Note[] = [...(input.notes ?? [])];
  const { trusted, uncertaintyPx } = pair.alignment;
  if (!trusted) {
    notes.push(
      note(
        "N_ALIGNMENT_WEAK",
        `The frames hold too little structure, or differ too much, to be aligned${
          Number.isFinite(uncertaintyPx) ? ` (± ${uncertaintyPx.toFixed(2)} px)` : ""
        }: they were compared as they are.`,
      ),
    );
  }
  if (Math.abs(pair.drift.offsetK) > MOST_DRIFT_K) {
    notes.push(
      note(
        "N_DRIFT_LARGE",
        `Everything changed by ${pair.drift.offsetK.toFixed(1)} K between baseline and powered, more than a camera drifts by. Check the unit and the scale of both, and that they were taken in one sitting.`,
      ),
    );
  }
  const powered = new Set(input.powered.map((frame) => frame.sha256));
  const same = input.baseline.find((frame) => frame.sha256 !== null && powered.has(frame.sha256));
  if (same !== undefined) {
    notes.push(
      note(
        "N_SAME_FRAMES",
        `${same.file} is given as baseline and as powered frame: nothing can have changed in it.`,
      ),
    );
  }
  const { warmestK, coolestK } = extremes(pair);
  if (coolestK > SWAPPED_RATIO * Math.max(warmestK, thresholdK)) {
    notes.push(
      note(
        "N_ROLES_SWAPPED",
        "What changed most got cooler with power. Check that baseline and powered frames are not the wrong way round; a hand or a lamp that was mirrored before and is gone does the same.",
      ),
    );
  }
  if (found.seeds.length === 0) {
    notes.push(
      note(
        "N_NOTHING_HOT",
        `No hotspot. A small spot whose peak stands out by ${formatSignificant(thresholdK, 2)} K would have been seen.`,
      ),
    );
  }
  const { spike, change, stuck } = pair.badPixels.counts;
  const bad = spike + change + stuck;
  if (bad > 0)
    notes.push(note("N_PIXELS_REPAIRED", `${bad} faulty pixels were taken from their neighbours.`));
  if (input.board && !input.view) {
    notes.push(
      note(
        "N_VIEW_MISSING",
        "A board map without a view can't be laid over the frames: hotspots are in pixels only.",
      ),
    );
  }
  if (found.fit !== null && found.seeds.length > 0) {
    const given = input.board?.plate?.lossWPerM2K;
    notes.push(
      note(
        "N_PLATE_ASSUMED",
        `Watts rest on a loss of ${given ?? 20} W/m²K for both faces together (${given === undefined ? "a default; it varies by a quarter from bench to bench" : "from the board map"}); the cooling length fitted to the frames is ${found.fit.coolingLengthMm} mm.`,
      ),
    );
  }
  return notes;
}

/** Largest contrast upwards and downwards at the finest size tested, K. */
function extremes(pair: PreparedPair): { warmestK: number; coolestK: number } {
  let warmestK = 0;
  let coolestK = 0;
  for (const contrastK of pair.layers[0]!.contrast.data) {
    if (contrastK > warmestK) warmestK = contrastK;
    else if (-contrastK > coolestK) coolestK = -contrastK;
  }
  return { warmestK, coolestK };
}

function inputFile(frame: Frame): InputFile {
  const { width, height } = frame.raster;
  return { file: frame.file, sha256: frame.sha256, width, height };
}
