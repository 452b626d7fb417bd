// sources: heat of the parts that warm on a healthy board too → what the model gets wrong of it, as columns of the fit.
import type { OptionsOf, ResolvedOptions } from "../core/options.js";
import { gaussianFilter } from "../numeric/gaussian-filter.js";
import { peakOf } from "../numeric/pixel-errors.js";
import type { SetFit } from "./candidate-pool.js";
import { boardColumn } from "./column.js";
import { heatOfSet } from "./heat-of-set.js";
import { finishError } from "./heat-or-mirror.js";
import { FIRST_INNER_SHAPE } from "./mirror-shapes.js";
import type { NuisanceColumn } from "./nuisance-columns.js";
import type { PlateState } from "./plate-state.js";
import type { Candidate, SourceModel } from "./source-model.js";
import { unevenWaves } from "./uneven-copper.js";

/** Defaults of `knownHeatErrors`. */
export const KNOWN_HEAT_DEFAULTS = Object.freeze({
  /** Beside less known heat than this many times the noise of a pixel, its errors are nothing. */
  leastPeak: 17,
  /** By which share of its mean rise a body's is uneven, in each shape: a die is smaller than its package and off its
   *  centre. */
  bodyShare: 0.3,
  /** Blur beyond that of the optics, px, with the share of it that may be there: softer optics, and a lens's stray
   *  light. */
  blurs: [
    { sigmaPx: 1, share: 0.5 },
    { sigmaPx: 3.5, share: 0.1 },
  ],
});

/** Lay out how the rise of the normally warm parts may differ from what the model tells of it. The rest of the model's
 *  error is taken for noise of each pixel; beside a processor that would hide every small part, while copper makes
 *  waves, a finish makes one step per face, and a body's unevenness ends at the body.
 *  @param set what was found at first. @param answer its fit.
 *  @param sigmaK noise of a pixel.
 *  @returns none where those parts show little.
 */
export function knownHeatErrors(
  model: SourceModel,
  state: PlateState,
  set: readonly Candidate[],
  answer: SetFit,
  sigmaK: number,
  options: OptionsOf<typeof KNOWN_HEAT_DEFAULTS> = {},
): NuisanceColumn[] {
  const o = { ...KNOWN_HEAT_DEFAULTS, ...options };
  const powersW = answer.powersW.map((powerW, c) => (set[c]!.normallyWarm ? powerW : 0));
  const heat = heatOfSet(model, state, set, { powersW, bodyShares: answer.bodyShares });
  const peakK = peakOf(heat);
  if (peakK < o.leastPeak * sigmaK) return [];
  return [
    ...unevenWaves(model, heat),
    ...blurredOtherwise(model, heat, o),
    ...otherFinishes(model, heat),
    ...set.flatMap((one, c) => unevenBody(model, one, answer, c, sigmaK, o)),
  ];
}

/** What softer optics make of the heat, at its own edges and at the board's. */
function blurredOtherwise(
  { pictures }: SourceModel,
  heat: Float32Array,
  { blurs }: ResolvedOptions<typeof KNOWN_HEAT_DEFAULTS>,
): NuisanceColumn[] {
  const alone = pictures.length === 1;
  return pictures.flatMap(({ seen: { width, height }, offset, at }) =>
    blurs.map(({ sigmaPx, share }): NuisanceColumn => {
      const blurred = gaussianFilter(heat.slice(offset, offset + width * height), width, height, sigmaPx);
      const values = Float32Array.from(at, (i) => blurred[i - offset]! - heat[i]!);
      return { what: "optics", column: boardColumn(at, values, alone), priorSigma: share };
    }),
  );
}

/** A face of another emissivity than its finish's shows the board's warmth as a step. */
function otherFinishes({ candidates }: SourceModel, heat: Float32Array): NuisanceColumn[] {
  return candidates.flatMap(({ body, emissivity }): NuisanceColumn[] => {
    if (body === null || body.at === null) return [];
    const { at } = body;
    const values = body.values.map((value, k) => (value / emissivity) * heat[at[k]!]!);
    return [{ what: "finish", column: { at, values }, priorSigma: finishError(emissivity) }];
  });
}

/** Slopes and curvatures over the body of one of the set. */
function unevenBody(
  model: SourceModel,
  one: Candidate,
  { powersW, bodyShares }: SetFit,
  c: number,
  sigmaK: number,
  { bodyShare }: ResolvedOptions<typeof KNOWN_HEAT_DEFAULTS>,
): NuisanceColumn[] {
  if (!one.normallyWarm || one.body === null) return [];
  const priorSigma = bodyShare * powersW[c]! * bodyShares[c]! * one.maxBodyKPerW * one.emissivity;
  if (priorSigma < 0.5 * sigmaK) return [];
  return model
    .mirrorColumns(one)
    .slice(FIRST_INNER_SHAPE)
    .map((column) => ({ what: "body", column, priorSigma }));
}
