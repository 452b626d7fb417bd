// findings: what was found → the findings as the contract has them, with suspects, verdict, next step and notes.
import { emissivityOf, FINISH_EMISSIVITY } from "../board/emissivity.js";
import { degreesFromRadians } from "../core/units.js";
import type { Frame } from "../frames/frame.js";
import { median } from "../numeric/median.js";
import { smallestPeak } from "../rise/local-contrast.js";
import { FIT_DEFAULTS } from "../sources/fit-defaults.js";
import { explainSuspect } from "../suspects/explain-suspect.js";
import { sayNextStep, sayVerdict, type VerdictInput } from "../suspects/verdict.js";
import type { AnalyseOptions, AnalysisInput } from "./analyse-options.js";
import { collectNotes } from "./collect-notes.js";
import type { Findings, Hotspot, InputFile, Suspect } from "./findings-schema.js";
import type { Found } from "./found.js";
import type { BoardContext, HotspotSeed } from "./measure-hotspot.js";
import type { PreparedPair } from "./prepare-pair.js";

/** With a board, a step on a moulded part smaller than this is taken for the room mirrored in its finish, K. */
const LEAST_STEP_K =
  (FIT_DEFAULTS.leastHeatOdds - FIT_DEFAULTS.heatOddsFaint) *
  FIT_DEFAULTS.roomStepK *
  (1 - FINISH_EMISSIVITY.moulded.emissivity);

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
    notes: collectNotes(input, pair, found, thresholdK),
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

function inputFile(frame: Frame): InputFile {
  const { width, height } = frame.raster;
  return { file: frame.file, sha256: frame.sha256, width, height };
}
