// compare: what became of one part's heat → why it is called so, in a sentence.
import { formatProbability, formatSignificant } from "../core/format-quantity.js";
import type { Hotspot } from "../findings/findings-schema.js";
import type { HotspotFlag } from "../findings/hotspot-flags.js";
import type { Division } from "./divide-power.js";
import type { JudgedHeat } from "./judge-heat.js";

/** What a ratio is of, by what was divided out. */
const SHARE_WORDS: Readonly<Record<Division["by"], string>> = {
  fed: "For each watt fed in it",
  warm: "Held against the parts that are warm anyway it",
  none: "It",
};
/** Watts that say another ratio than both ways together by more than this (logarithm) are explained; … */
const WATTS_APART_LOG = Math.log(1.3);
/** … by more than this, told beside it. */
const WATTS_BESIDE_LOG = Math.log(1.05);

const EXCEEDS_FEED: HotspotFlag = "exceedsFeed";

/** False where what was fed in forbids the watts of a hotspot. */
export function powerStands(hotspot: Pick<Hotspot, "flags">): boolean {
  return !hotspot.flags.includes(EXCEEDS_FEED);
}

/** Say why a part's heat is called what it is called. @param watts as both attempts tell them; null where they don't
 *  stand. */
export function sayChange(judged: JudgedHeat, watts: readonly [number | null, number | null]): string {
  return `${changeWords(judged, watts)}${leftOutWords(judged)}`;
}

/** Which watts are missing beside a part, since what was fed in forbids them. */
function leftOutWords({ heat: { match } }: JudgedHeat): string {
  const which = [
    ...(match.before === null || powerStands(match.before) ? [] : ["earlier"]),
    ...(match.after === null || powerStands(match.after) ? [] : ["later"]),
  ];
  if (which.length === 0) return "";
  return ` Its watts in the ${which.join(" and the ")} attempt are left out: the frames show more than was fed in.`;
}

function changeWords(judged: JudgedHeat, watts: readonly [number | null, number | null]): string {
  const { heat, change, z, log, test, untested, together } = judged;
  const { before, after, match, shown } = heat;
  const inBoth = shown[0] && shown[1];
  if (before === null || after === null) {
    return `It is on the map of the ${before === null ? "later" : "earlier"} attempt alone.`;
  }
  if (!heat.bothSeen) {
    const none = !before.seen && !after.seen;
    const blind = none
      ? "Neither attempt sees it"
      : `The ${before.seen ? "later" : "earlier"} attempt does not see it`;
    return inBoth ? `${blind}, but both show heat there.` : `${blind}.`;
  }
  const others =
    heat.orElse.length === 0 ? "" : ` The source may be ${heat.orElse.join(" or ")} in its place.`;
  if (untested === "cycle") {
    const which = inBoth ? "Both attempts show it" : "One attempt shows it";
    return `${which}; the supply was switched on and off, and what that means differs between them, so strengths can't be compared.${others}`;
  }
  if (judged.goesWith !== undefined && judged.behind !== undefined) {
    const [here, there] = judged.behind === 0 ? ["earlier", "later"] : ["later", "earlier"];
    return `In the ${there} attempt it heats. In the ${here} one ${judged.goesWith} heats close beside it: what its face shows there may be heat of ${judged.goesWith}.${others}`;
  }
  if (judged.goesWith !== undefined) {
    return `It goes along with ${judged.goesWith}, which heats close beside it and changed, so it may be a slip of the plate's model.${others}`;
  }
  if (test.kind === "one") {
    if (test.doubt !== null) {
      const there = shown[0] ? "later" : "earlier";
      if (test.doubt === "watts left") {
        return `No heat was found in the ${there} attempt, but what the fit leaves to it there is too much to be called none: it may heat more weakly.${others}`;
      }
      if (test.doubt === "a step left") {
        return `No heat was found in the ${there} attempt, but the face is warmer than the board around it there: it may heat more weakly.${others}`;
      }
      const shows = `What the ${shown[0] ? "earlier" : "later"} attempt shows`;
      return test.doubt === "mirrored"
        ? `${shows} may be the room mirrored in it, which goes and comes by itself.${others}`
        : match.before === null && match.after === null
          ? `${shows} is a step of its face and no hotspot, which uneven copper may make of warmth around it.`
          : `${shows} makes no step of its own beside stronger heat, so it may be a slip of the plate's model.${others}`;
    }
    const [here, there] = shown[0] ? ["earlier", "later"] : ["later", "earlier"];
    if (heat.byFit && (change === "gone" || change === "new")) {
      const warmth =
        heat.warmthSigmas > 0 ? `, and its place is warmer there than the heat of both explains` : "";
      return `Neither attempt lists it; the fit gives it heat in the ${here} attempt alone${warmth} (${formatSignificant(Math.abs(z!), 2)} sigma).${others}`;
    }
    if (change === "gone" || change === "new") {
      return `The ${there} attempt would have shown heat as strong as in the ${here} one (${formatSignificant(Math.abs(z!), 2)} sigma beyond what it could miss).${faceWords(judged)}${others}`;
    }
    return `The ${there} attempt could have missed heat as weak as in the ${here} one.${faceWords(judged)}${others}`;
  }
  if (log === null) {
    return untested === "power"
      ? `Both attempts show it; it stands for the input power itself.${others}`
      : `Both attempts show it; by how much it differs can't be measured.${faceWords(judged)}${others}`;
  }
  const times = formatSignificant(Math.exp(log.ratio), 2);
  const range = formatSignificant(Math.exp(log.sigma), 2);
  const doubt =
    heat.probability < 0.6 ? ` It is the source with ${formatProbability(heat.probability)}.` : "";
  const alone = together ? " With that the power fed in and all other parts are explained." : "";
  const told = `${SHARE_WORDS[judged.division.by]} heats ${times} times as much as before, known to a factor of ${range}.`;
  return `${told}${wattsWords(judged, watts)}${alone}${faceWords(judged)}${doubt}${others}`;
}

/** Why the watts that stand beside a ratio say another one. */
function wattsWords(
  { division, log }: JudgedHeat,
  [earlier, later]: readonly [number | null, number | null],
): string {
  if (log === null || earlier === null || later === null || !(earlier > 0 && later > 0)) return "";
  const byWatts = later / earlier / division.factor;
  const apart = Math.abs(Math.log(byWatts) - log.ratio);
  const times = formatSignificant(byWatts, 2);
  if (apart < WATTS_BESIDE_LOG || times === formatSignificant(Math.exp(log.ratio), 2)) return "";
  if (apart < WATTS_APART_LOG) {
    return ` Its watts alone would say ${times} times; how much it stands out of the board around it is heard beside them.`;
  }
  return ` Its watts alone would say ${times} times; they hang on what was fed in and on how far heat had spread each time, so how much it stands out of the board around it is heard beside them.`;
}

/** Where no hotspot was found for it. */
function faceWords({ heat: { match, shown } }: JudgedHeat): string {
  const faint = [
    ...(shown[0] && match.before === null ? ["earlier"] : []),
    ...(shown[1] && match.after === null ? ["later"] : []),
  ];
  if (faint.length === 0) return "";
  return ` In the ${faint.join(" and the ")} attempt no hotspot was found for it, but its face or the board around it shows it.`;
}
