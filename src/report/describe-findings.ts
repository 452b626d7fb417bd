// report: parts of the findings → sentences and cells that terminal and report share.

import {
  formatPositive,
  formatPower,
  formatProbability,
  formatQuantity,
  formatSignificant,
  formatToSigma,
} from "../core/format-quantity.js";
import type { Findings, Hotspot, Suspect, ViewName } from "../findings/findings-schema.js";
import { HOTSPOT_FLAGS, type HotspotFlag } from "../findings/hotspot-flags.js";

/** Turns below this move no pixel of a 640 px wide frame by more than a tenth: 320 px × 0.02° = 0.11 px. */
const STILL_DEG = 0.02;

/** Say how far the powered frame had moved and whether that is to be trusted. */
export function describeAlignment(findings: Pick<Findings, "alignment">): string {
  const { dxPx, dyPx, rotationDeg, uncertaintyPx, trusted } = findings.alignment;
  if (!trusted) {
    return "The powered frame could not be aligned to the baseline with confidence: edges and places may be off. Fix the board and the camera, and take both frames again.";
  }
  const uncertainty = `± ${formatSignificant(uncertaintyPx, 1)} px`;
  if (Math.hypot(dxPx, dyPx) < 2 * uncertaintyPx && Math.abs(rotationDeg) < STILL_DEG) {
    return `The board had not moved between the frames (${uncertainty}).`;
  }
  const across = `${formatToSigma(Math.abs(dxPx), uncertaintyPx, "px")} to the ${dxPx < 0 ? "left" : "right"}`;
  const along = `${formatToSigma(Math.abs(dyPx), uncertaintyPx, "px")} ${dyPx < 0 ? "up" : "down"}`;
  const turn = `${formatSignificant(Math.abs(rotationDeg), 2)}° ${rotationDeg < 0 ? "anticlockwise" : "clockwise"}`;
  return `The powered frame had moved ${across} and ${along} and turned ${turn} (${uncertainty}); this was undone before the frames were subtracted.`;
}

/** Say how noisy the difference is and from which rise on something counts. */
export function describeNoise(findings: Pick<Findings, "noise" | "threshold">): string {
  const { noise, threshold } = findings;
  return (
    `The noise of one pixel of the difference is ${formatSignificant(noise.sigmaK, 2)} K, ` +
    `${formatSignificant(noise.testedSigmaK, 2)} K at the scale that is tested. ` +
    `A rise counts from ${formatSignificant(threshold.riseK, 2)} K on: the sensor's noise alone reaches that ` +
    `${howOften(threshold.falseAlarmsPerFrame)}.`
  );
}

function howOften(falseAlarmsPerFrame: number): string {
  if (falseAlarmsPerFrame >= 1) return `${formatSignificant(falseAlarmsPerFrame, 2)} times a frame`;
  return `about once in ${formatSignificant(1 / falseAlarmsPerFrame, 2)} frames`;
}

/** Say what was fed in, how much of it the sources explain, what is missing and what that can mean; null without volts
 *  and amps.
 */
export function describeEnergy(findings: Findings): string | null {
  const { volts, amps } = findings.inputs;
  if (volts === null || amps === null) return null;
  const fedW = volts * amps;
  const fed = `${formatSignificant(volts, 3)} V × ${formatSignificant(amps, 3)} A = ${formatPower(fedW, null).text} were fed in.`;
  const { energy } = findings;
  if (!energy) {
    return findings.cycle
      ? `${fed} The supply went on and off: the watts told are those while it was on, and no balance is drawn of them.`
      : `${fed} The heat of the hotspots is not known in watts, so no balance can be drawn.`;
  }
  if (!(fedW > 0)) return `${fed} ${energy.meaning}`;
  const { seenW, seenSigmaW, missingW, missingSigmaW, boardLossW, boardLossSigmaW, exclusive } = energy;
  const share = formatPositive((100 * seenW) / fedW, (100 * seenSigmaW) / fedW, "%").text;
  const seen =
    seenW > 0
      ? `By the frames alone the sources found amount to ${formatPower(seenW, seenSigmaW).text}, which is ${share} of it${exclusive === true ? "" : "; the heat told of each part is held against what was fed in, too"}.`
      : "No source was found.";
  const left = missingW > 0 ? ` Missing: ${formatPower(missingW, missingSigmaW, fedW).text}.` : "";
  const loss =
    boardLossW === null || boardLossSigmaW === null || boardLossW < LOSS_SIGMAS * boardLossSigmaW
      ? ""
      : ` By its mean rise the whole board gives off ${formatPower(boardLossW, boardLossSigmaW).text}, which is all of its heat once it has come to rest.`;
  return `${fed} ${seen}${left}${loss} ${energy.meaning}`;
}

/** A loss that does not stand out of its uncertainty by so many times is not worth a sentence. */
const LOSS_SIGMAS = 2;

/** Heat of a suspect with the uncertainty of its hotspot. */
export function suspectPower(suspect: Suspect, findings: Findings): string {
  const hotspot = findings.hotspots.find((spot) => spot.rank === suspect.hotspot);
  return hotspotPower(hotspot, suspect.powerW);
}

/** Watts that what was fed in forbids are not told as if they stood. */
const NOT_STANDING: HotspotFlag = "exceedsFeed";

/** Heat of a hotspot, or of a part that it stands for, with its uncertainty. */
export function hotspotPower(hotspot: Hotspot | undefined, powerW = hotspot?.powerW ?? null): string {
  const { text } = formatPower(powerW, hotspot?.powerSigmaW ?? null);
  return powerW === null || wattsStand(hotspot) ? text : `${text} (more than was fed)`;
}

/** False where the feed forbids the watts of a hotspot. */
export function wattsStand(hotspot: Hotspot | undefined): boolean {
  return hotspot?.flags.includes(NOT_STANDING) !== true;
}

/** Where a hotspot's source lies: board millimetres where they are known, else frame pixels. */
export function hotspotPlace(hotspot: Hotspot): string {
  if (hotspot.sourceMm !== null) return placeWithSigma(hotspot.sourceMm, hotspot.sourceSigmaMm, "mm");
  return placeWithSigma(hotspot.sourcePx, hotspot.sourceSigmaPx, "px");
}

/** The named parts near a hotspot, as `U12 91 %, C4 3 % (0.8 mm off)`. */
export function nearestParts(hotspot: Hotspot, most: number): string {
  const parts = hotspot.nearest.slice(0, most).map((part) => {
    const off =
      part.distanceMm > 0 ? ` (${formatToSigma(part.distanceMm, hotspot.sourceSigmaMm, "mm")} off)` : "";
    return `${part.ref} ${formatProbability(part.probability)}${off}`;
  });
  return parts.length === 0 ? "–" : parts.join(", ");
}

/** What to call a view: by its side, or by its order where both show the same one. */
export function viewWords({ otherSide }: Findings, name: ViewName = "primary"): string {
  if (!otherSide || otherSide.side === otherSide.primarySide) {
    return name === "primary" ? "first view" : "second view";
  }
  return `${name === "primary" ? otherSide.primarySide : otherSide.side} view`;
}

/** Noise at the scale that is tested, in the view that shows something, K. */
export function testedSigmaK({ noise, otherSide }: Findings, name: ViewName = "primary"): number {
  return name === "other" && otherSide ? otherSide.noise.testedSigmaK : noise.testedSigmaK;
}

/** Odds beyond this are not told apart. */
const MOST_ODDS = 1000;

/** The side that more probably has the source, with its odds, as `bottom 40 : 1`; "" unless both sides were seen. */
export function sideWithOdds({ sideOdds }: Hotspot): string {
  if (!sideOdds) return "";
  const { top, bottom } = sideOdds;
  const ratio = Math.max(top, bottom) / Math.min(top, bottom);
  const odds = ratio > MOST_ODDS ? `> ${MOST_ODDS}` : formatSignificant(ratio, 2);
  return `${top >= bottom ? "top" : "bottom"} ${odds} : 1`;
}

/** What a flag means; a flag that this version does not know is printed as it is. */
export function flagMeaning(flag: string): string {
  return Object.hasOwn(HOTSPOT_FLAGS, flag) ? HOTSPOT_FLAGS[flag as keyof typeof HOTSPOT_FLAGS] : flag;
}

function placeWithSigma(point: readonly [number, number], sigma: number | null, unit: string): string {
  const x = formatQuantity(point[0], sigma, "");
  const y = formatQuantity(point[1], sigma, "");
  return `${x.value}, ${y.value}${x.sigma === null ? "" : ` ± ${x.sigma}`} ${unit}`;
}
