// report: an analysis → the section of report.html that gives every hotspot in numbers.
import { formatQuantity, formatSignificant } from "../core/format-quantity.js";
import type { Analysis } from "../findings/analysis.js";
import type { Findings, Hotspot } from "../findings/findings-schema.js";
import { viewOf } from "../findings/view-names.js";
import {
  flagMeaning,
  hotspotPlace,
  hotspotPower,
  nearestParts,
  sideWithOdds,
  testedSigmaK,
  viewWords,
} from "./describe-findings.js";
import { htmlTable } from "./html-table.js";

const MOST_NEAREST = 4;

/** Every hotspot in numbers. */
export function hotspotsSection({ findings }: Analysis): string {
  if (findings.hotspots.length === 0) return "<h2>Hotspots</h2><p>None.</p>";
  const twoViews = Boolean(findings.otherSide);
  const withSide = findings.hotspots.some((hotspot) => hotspot.sideOdds);
  const withOnset = findings.hotspots.some((hotspot) => hotspot.onsetS !== null);
  const withFlags = findings.hotspots.some(({ flags }) => flags.length > 0);
  // With the columns of two views, or of flags, there is room for all of them only if some wrap.
  const isWide = twoViews || withFlags;
  const rows = findings.hotspots.map((hotspot) => [
    String(hotspot.rank),
    ...(twoViews ? [seenIn(hotspot, findings)] : []),
    peakRise(hotspot, testedSigmaK(findings, hotspot.view)),
    `${formatSignificant(hotspot.significance, 2)} σ`,
    ...(withSide ? [sideWithOdds(hotspot)] : []),
    hotspotPlace(hotspot),
    hotspotArea(hotspot),
    hotspotPower(hotspot),
    ...(withOnset
      ? [
          formatQuantity(hotspot.onsetS, hotspot.onsetSigmaS ?? null, "s").text,
          formatQuantity(hotspot.rateKPerS ?? null, hotspot.rateSigmaKPerS ?? null, "K/s").text,
        ]
      : []),
    nearestParts(hotspot, MOST_NEAREST),
    ...(withFlags ? [hotspot.flags.map(flagMeaning)] : []),
  ]);
  const onset = withOnset
    ? [
        { title: "Onset", as: "number" as const },
        { title: "Warming", as: "number" as const },
      ]
    : [];
  return `<h2>Hotspots</h2>${htmlTable(
    "Hotspots",
    [
      { title: "Rank", as: "number" },
      ...(twoViews ? [{ title: "Seen in", as: "words" as const }] : []),
      isWide ? { title: "Peak rise" } : { title: "Peak rise", as: "number" as const },
      { title: "Rise ÷ noise", as: "number" },
      ...(withSide ? [{ title: "Side", as: "number" as const }] : []),
      isWide ? { title: "Source at" } : { title: "Source at", as: "number" as const },
      { title: "Area", as: "number" },
      isWide ? { title: "Heat" } : { title: "Heat", as: "number" as const },
      ...onset,
      { title: "Nearest parts", as: isWide ? "name" : "words" },
      ...(withFlags ? [{ title: "Mind", as: "words" as const }] : []),
    ],
    rows,
  )}`;
}

/** The view that the numbers are of, and what the other one shows. */
function seenIn(hotspot: Hotspot, findings: Findings): string {
  const name = viewOf(hotspot);
  const away = name === "primary" ? "other" : "primary";
  const there = viewWords(findings, away);
  const { otherView } = hotspot;
  return `${viewWords(findings, name)}; ${
    otherView
      ? `${formatQuantity(otherView.peakRiseK, testedSigmaK(findings, away), "K").text} in the ${there}`
      : `no peak in the ${there}`
  }`;
}

/** As the camera shows it and, where the finish is known, as the surface truly warmed. */
function peakRise({ peakRiseK, trueRiseK }: Hotspot, sigmaK: number): string {
  const shown = formatQuantity(peakRiseK, sigmaK, "K").text;
  return typeof trueRiseK === "number" ? `${shown} (surface ${formatSignificant(trueRiseK, 3)} K)` : shown;
}

/** A source without a peak of its own covers no area. */
function hotspotArea(hotspot: Hotspot): string {
  if (hotspot.areaPx === 0) return "–";
  return hotspot.areaMm2 === null ? `${hotspot.areaPx} px` : `${formatSignificant(hotspot.areaMm2, 2)} mm²`;
}
