// findings: a source and its peaks in the views → what is known of its hotspot before that is measured.
import type { DetectedPatch } from "../hotspots/detect-patches.js";
import type { HeatBeside } from "../sources/heat-beside.js";
import type { FittedSource } from "../sources/source-fit.js";
import type { Candidate } from "../sources/source-model.js";
import { namedFirst, weighAll, weighAlternatives } from "../suspects/weigh-alternatives.js";
import { weighSides } from "../suspects/weigh-sides.js";
import type { BesideSeed, HotspotSeed, MeasuredSeed } from "./measure-hotspot.js";

/** Evidence at which a source is as likely heat as not, above what it had to bring to be listed. */
const DOUBTFUL_EVIDENCE = 15;

/** A source that stands, with the chance of each part that may be it.
 *  @param patches its peak in each view, null where it makes none.
 */
export function seedOf(
  source: FittedSource,
  patches: readonly (DetectedPatch | null)[],
  minEvidence: number,
  bothSides: boolean,
): HotspotSeed {
  const sure = 1 - Math.exp(-Math.max(0, source.evidence - 0.5 * minEvidence) / DOUBTFUL_EVIDENCE);
  const heatChance = sure * source.heatChance;
  const isNamed = (candidate: Candidate) => candidate.ref !== null;
  return {
    ...peaksOf(patches),
    source,
    byPower: source.byFeed !== null,
    weighed:
      source.byFeed === null
        ? weighAlternatives(source.alternatives, isNamed, heatChance)
        : namedFirst(source.byFeed, isNamed),
    sides: bothSides ? weighSides(source.byFeed ?? weighAll(source.alternatives, isNamed, heatChance)) : null,
  };
}

/** A part that may heat beside such a source.
 *  @param patches as for `seedOf`.
 */
export function besideSeedOf(
  source: HeatBeside,
  patches: readonly (DetectedPatch | null)[],
  bothSides: boolean,
): BesideSeed {
  const weighed = [{ candidate: source.candidate, probability: source.chance }];
  return {
    ...peaksOf(patches),
    source,
    mayNotHeat: true,
    weighed,
    sides: bothSides ? weighSides(weighed) : null,
  };
}

/** The view that a hotspot belongs to, and its peaks. */
function peaksOf([first = null, second = null]: readonly (DetectedPatch | null)[]): Pick<
  MeasuredSeed,
  "patch" | "view" | "otherPatch"
> {
  const inOther = first === null && second !== null;
  return {
    patch: inOther ? second : first,
    view: inOther ? "other" : "primary",
    otherPatch: inOther ? null : second,
  };
}
