// suspects: a part that a source was found in → the evidence for and against it, in short plain lines.
import { formatPower, formatProbability, formatSignificant } from "../core/format-quantity.js";
import { capitalised } from "../core/sentence-case.js";
import { LEAST_EVIDENCE } from "../sources/fit-defaults.js";
import { ALIKE_ODDS, byOdds, HOPELESS_ODDS, lessLikely, placeLine, sharedNetLine } from "./evidence-lines.js";
import { type OnsetEvidence, onsetFirst, onsetLate } from "./onset-lines.js";
import { type SideEvidence, sideLine } from "./side-line.js";

/** What is known of a part as a source. */
export interface SuspectEvidence extends OnsetEvidence {
  readonly ref: string;
  readonly powerW: number;
  readonly powerSigmaW: number;
  /** Peak of the smoothed rise on it, K. */
  readonly peakRiseK: number;
  /** χ² lost without it, ÷ the residual scale, and the least that counts. */
  readonly evidence: number;
  readonly leastEvidence?: number;
  /** Distance of the hotspot's place from the part's edge, mm; null where the hotspot has no peak of its own. */
  readonly distanceMm: number | null;
  readonly sigmaMm: number | null;
  readonly farSide: boolean;
  /** Where both sides were seen: what the two views say of its side. */
  readonly sides?: SideEvidence | null;
  readonly bodyShare: number;
  readonly normallyWarm: boolean;
  /** The next best named part, and by what factor it is less likely; null if there is none. */
  readonly runnerUp: { readonly ref: string; readonly odds: number } | null;
  readonly shiny: boolean;
  readonly emissivity?: number;
  /** The map states the part's finish. */
  readonly finishStated?: boolean;
  /** Probability that what it shows is the room mirrored in it. */
  readonly mirrorChance?: number;
  /** Flags of its hotspot. */
  readonly flags?: readonly string[];
  /** Another suspect and a net that both are on. */
  readonly sharedNet?: { readonly ref: string; readonly net: string } | null;
  /** Watts fed in. */
  readonly fedW?: number | null;
  /** It was named for those, though by the frames alone it might as well mirror the room. */
  readonly byFeed?: boolean;
}

/** Evidence of so many times the least that counts is called very strong, strong, fair; below it is weak. */
const STRENGTHS = Object.freeze([
  [20, "very strong"],
  [5, "strong"],
  [2, "fair"],
] as const);
/** Bodies that take less than this share of the most they can be warmer do not show it. */
const LEAST_BODY_SHARE = 0.02;
/** Above this chance a reflection is worth a word; the same that sets the flag. */
export const POSSIBLE_REFLECTION = 0.1;
/** A runner-up that is less far behind than this speaks against. */
const CLOSE_ODDS = 3;
/** Flag of a hotspot whose watts and those fed in can't both be right. */
const EXCEEDS_FEED = "exceedsFeed";

/** Say what speaks for a part, then what speaks against it, then what else matters. Lines that speak against begin
 *  so. */
export function explainSuspect(e: SuspectEvidence): string[] {
  const place = placeLine(e.distanceMm, e.sigmaMm);
  const beside = place.startsWith("Against");
  const side = e.sides ? sideLine(e.sides) : null;
  const otherSide = side?.startsWith("Against") ?? false;
  const against = [
    beside ? place : null,
    otherSide ? side : null,
    weakEvidence(e),
    bodyIsCool(e),
    runnerUpAgainst(e),
    onsetLate(e),
    tooManyWatts(e),
    namedByFeed(e),
    ...doubts(e),
  ];
  const lines = [
    beside ? null : place,
    spreadLine(e),
    bodyIsWarm(e),
    otherSide ? null : side,
    goodEvidence(e),
    onsetFirst(e),
    runnerUpBehind(e),
    ...against,
    ...remarks(e),
  ];
  return lines.filter((line) => line !== null);
}

function spreadLine(e: SuspectEvidence): string {
  // Where another part explains the frames better, this one is not what they show.
  const as = e.runnerUp !== null && e.runnerUp.odds < 1 / ALIKE_ODDS ? "nearly as" : "as";
  return `${formatPower(e.powerW, e.powerSigmaW).text} in this part would spread over the board ${as} the frames show${shareOfFed(e)}.`;
}

function shareOfFed({ fedW, powerW, flags = [] }: SuspectEvidence): string {
  if (flags.includes(EXCEEDS_FEED)) return "";
  if (fedW === undefined || fedW === null || !(fedW > 0) || !(powerW <= fedW)) return "";
  return `, ${formatProbability(powerW / fedW)} of what was fed in`;
}

function tooManyWatts({ fedW, powerW, flags = [] }: SuspectEvidence): string | null {
  if (fedW === undefined || fedW === null || !flags.includes(EXCEEDS_FEED)) return null;
  const what = powerW > fedW ? "its watts are" : "with the other sources its watts are";
  return `Against: ${what} more than the ${formatPower(fedW, null).text} that were fed in: watts or feed are wrong.`;
}

function namedByFeed({ byFeed = false }: SuspectEvidence): string | null {
  if (!byFeed) return null;
  return "Against: by the frames alone it may as well mirror the room, or be noise; it is named since the board had power, and no other part took some of it more probably.";
}

function bodyIsWarm(e: SuspectEvidence): string | null {
  if (e.farSide) return "It sits on the other side: what is seen came through the board.";
  if (e.shiny || e.bodyShare <= LEAST_BODY_SHARE) return null;
  return "Its body is warmer than the board around it, as a source's is.";
}

function bodyIsCool(e: SuspectEvidence): string | null {
  if (e.farSide) return null;
  if (e.shiny) {
    const by = e.emissivity === undefined ? "" : ` (emissivity ${formatSignificant(e.emissivity, 2)})`;
    return `Against: its finish is shiny${by}, and what it shows may be the room; only the board around it speaks.`;
  }
  return e.bodyShare > LEAST_BODY_SHARE ? null : "Against: its body is no warmer than the board around it.";
}

function strengthOf(e: SuspectEvidence): string {
  const times = e.evidence / (e.leastEvidence ?? LEAST_EVIDENCE);
  return STRENGTHS.find(([least]) => times >= least)?.[1] ?? "weak";
}

function evidenceWords(e: SuspectEvidence): string {
  const least = formatSignificant(e.leastEvidence ?? LEAST_EVIDENCE, 2);
  return `the evidence is ${strengthOf(e)}: without heat here the frames fit worse by ${formatSignificant(e.evidence, 2)} in χ², and ${least} would count`;
}

function goodEvidence(e: SuspectEvidence): string | null {
  return strengthOf(e) === "weak" ? null : `${capitalised(evidenceWords(e))}.`;
}

function weakEvidence(e: SuspectEvidence): string | null {
  return strengthOf(e) === "weak" ? `Against: ${evidenceWords(e)}.` : null;
}

function runnerUpBehind({ runnerUp }: SuspectEvidence): string | null {
  if (runnerUp === null || !(runnerUp.odds >= CLOSE_ODDS && runnerUp.odds < HOPELESS_ODDS)) return null;
  return `${runnerUp.ref} would explain the frames too, but is ${lessLikely(runnerUp.odds)}.`;
}

function runnerUpAgainst({ runnerUp }: SuspectEvidence): string | null {
  if (runnerUp === null || !(runnerUp.odds < CLOSE_ODDS)) return null;
  const { ref, odds } = runnerUp;
  if (odds < 1 / ALIKE_ODDS) return `Against: ${ref} explains the frames better${byOdds(1 / odds)}.`;
  const how = odds < ALIKE_ODDS ? "about as well" : lessLikely(odds);
  return `Against: ${ref} would explain the frames too, ${how}.`;
}

/** What the flags and the chance of a mirror say against it. */
function doubts(e: SuspectEvidence): string[] {
  const lines: string[] = [];
  const flags = e.flags ?? [];
  const chance = e.mirrorChance ?? 0;
  if (chance > POSSIBLE_REFLECTION || flags.includes("possibleReflection")) {
    lines.push(`Against: a reflection can't be ruled out (${formatProbability(chance)}).`);
    if (e.finishStated === false && !e.farSide) {
      lines.push("Against: the map does not state its finish, which would tell whether it can mirror.");
    }
  }
  if (flags.includes("weakAlignment")) {
    lines.push("Against: the frames could not be aligned with confidence, so the place may be off.");
  }
  if (flags.includes("frameEdge"))
    lines.push("Against: the spot is cut by the frame's edge, and its place with it.");
  return lines;
}

/** What neither speaks for nor against. */
function remarks(e: SuspectEvidence): string[] {
  const lines: string[] = [];
  if (e.normallyWarm) lines.push("It warms on a healthy board too, so its heat is not counted as a fault.");
  if (e.flags?.includes("saturated")) {
    lines.push("The camera's scale ends inside the spot: rise and watts are lower bounds.");
  }
  if (e.sharedNet) lines.push(sharedNetLine(e.sharedNet));
  return lines;
}
