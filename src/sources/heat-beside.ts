// sources: what was found, and what each part was given beside it → parts close to a source that may heat as well.
import { polygonGap } from "../board/polygon-distance.js";
import { UNEVEN_COPPER } from "./copper-fields.js";
import { type HeatJudge, heatLogOdds } from "./heat-log-odds.js";
import { isFault } from "./recast-candidate.js";
import type { FittedSource } from "./source-fit.js";
import type { Candidate } from "./source-model.js";
import type { TriedPart } from "./try-parts.js";

/** Evidence below which nothing is said of a part (3.2 σ: noise alone brings it to one in a thousand), and log odds of
 *  its face against the room, mirrored. */
const LEAST_EVIDENCE = 10;
const LEAST_LOG_ODDS = -3;
/** The chance that a part heats which is left with enough of both right beside a source. Set on simulated boards, one
 *  in eleven of which has two such faults (see the decision record). */
const USUAL_CHANCE = 0.4;
/** Less is not worth a line. */
const LEAST_CHANCE = 0.05;

/** A part that may heat beside one that does. */
export interface HeatBeside {
  readonly candidate: Candidate;
  /** The source right beside it. */
  readonly beside: Candidate;
  /** Watts that it would have, and their standard deviation, W. */
  readonly powerW: number;
  readonly powerSigmaW: number;
  /** χ² that it takes off beyond what uneven copper makes of the other heat, ÷ the residual scale. */
  readonly evidence: number;
  /** Probability that it heats. */
  readonly chance: number;
  /** Probability that what its face shows is the room, mirrored, as far as the face and the board around it tell. */
  readonly mirrorChance: number;
}

/** List parts in view, right beside a fault, that bring too little to stand as sources, and yet more than noise: a
 *  bridge of solder heats two parts. They take no part in the fit.
 *  @param set what was found. @param listed those of it that stand.
 *  @param tried what the fit gives each part beside what was found.
 *  @returns the most probable first.
 */
export function heatBeside(
  judge: HeatJudge,
  set: readonly Candidate[],
  listed: readonly FittedSource[],
  tried: ReadonlyMap<Candidate, TriedPart>,
): HeatBeside[] {
  const faults = listed.filter(({ candidate, byFeed }) => isFault(candidate) && byFeed === null);
  const shown = new Set(listed.map(({ candidate }) => candidate.footprint));
  const out: HeatBeside[] = [];
  for (const [candidate, part] of tried) {
    if (candidate.body === null || candidate.normallyWarm || candidate.ref === null) continue;
    if (shown.has(candidate.footprint) || !(part.evidence >= LEAST_EVIDENCE)) continue;
    const source = nearestOf(faults, candidate, judge.options.neighbourMm);
    if (source === null) continue;
    const share = part.powerW / source.powerW;
    const chance = USUAL_CHANCE / (1 + (UNEVEN_COPPER / share) ** 2);
    if (!(chance >= LEAST_CHANCE)) continue;
    const others = set.filter(({ footprint }) => footprint !== candidate.footprint);
    const logOdds = heatLogOdds(judge, candidate, others);
    if (!(logOdds >= LEAST_LOG_ODDS)) continue;
    out.push({
      candidate,
      beside: source.candidate,
      powerW: part.powerW,
      powerSigmaW: Math.hypot(part.sigmaW, judge.model.plate.powerError(judge.pool.state) * part.powerW),
      evidence: part.evidence,
      chance,
      mirrorChance: 1 / (1 + Math.exp(logOdds)),
    });
  }
  return out.sort((a, b) => b.chance - a.chance);
}

/** The source nearest to a candidate, no further from it than so; null if there is none. */
function nearestOf(
  sources: readonly FittedSource[],
  { polygon }: Candidate,
  mostMm: number,
): FittedSource | null {
  let best: FittedSource | null = null;
  let least = mostMm;
  for (const source of sources) {
    const gap = polygonGap(source.candidate.polygon, polygon);
    if (gap > least || source.candidate.ref === null) continue;
    [best, least] = [source, gap];
  }
  return best;
}
