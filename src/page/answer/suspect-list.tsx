// page: findings → suspects with bars, and hotspots that no suspect stands for: the same numbers as on the terminal.
import type { JobState } from "../../api/jobs-schema.js";
import { formatProbability, formatQuantity } from "../../core/format-quantity.js";
import {
  flagMeaning,
  hotspotPlace,
  hotspotPower,
  nearestParts,
  sideWithOdds,
  suspectPower,
  testedSigmaK,
} from "../../report/describe-findings.js";
import { showNumber } from "../state/settings.js";
import { shownSuspects } from "./shown-suspects.js";

interface SuspectListProps {
  readonly attempt: JobState["attempts"][number];
  /** Ref that is pointed at, here or on the board. */
  readonly pointed: string | null;
  readonly onPoint: (ref: string | null) => void;
}

/** Suspects in their order. */
export function SuspectList({ attempt, pointed, onPoint }: SuspectListProps) {
  const { findings } = attempt;
  const suspects = shownSuspects(findings);
  const named = new Set(findings.suspects.map(({ hotspot }) => hotspot));
  const unnamed = findings.hotspots.filter(({ rank }) => !named.has(rank));
  if (suspects.length === 0 && unnamed.length === 0) return null;
  return (
    <section aria-label="Suspects" class="suspects">
      <h2>Suspects</h2>
      <ol>
        {suspects.map((suspect) => {
          const hotspot = findings.hotspots.find(({ rank }) => rank === suspect.hotspot);
          return (
            <li
              key={`${suspect.side} ${suspect.ref}`}
              class={pointed === suspect.ref ? "pointed" : ""}
              onPointerEnter={() => onPoint(suspect.ref)}
              onPointerLeave={() => onPoint(null)}
            >
              <details onToggle={(event) => onPoint(event.currentTarget.open ? suspect.ref : null)}>
                <summary>
                  <strong class="ref">{suspect.ref}</strong>
                  {suspect.side === "bottom" && <span class="dim"> (bottom)</span>}
                  <data class="chance" value={suspect.probability}>
                    {suspect.normallyWarm
                      ? "warm anyway"
                      : showNumber(formatProbability(suspect.probability))}
                  </data>
                  <Bar share={suspect.normallyWarm ? 0 : suspect.probability} />
                  <data class="watts" value={suspect.powerW ?? ""}>
                    {suspect.powerW === null ? "" : showNumber(suspectPower(suspect, findings))}
                  </data>
                </summary>
                {hotspot !== undefined && (
                  <p class="small">
                    {showNumber(
                      [
                        `Rise ${formatQuantity(hotspot.peakRiseK, testedSigmaK(findings, hotspot.view), "K").text}`,
                        `source at ${hotspotPlace(hotspot)}`,
                        sideWithOdds(hotspot),
                        hotspot.flags.map(flagMeaning).join("; "),
                      ]
                        .filter((text) => text !== "")
                        .join("; "),
                    )}
                  </p>
                )}
                {suspect.why.length > 0 && (
                  <ul class="small">
                    {suspect.why.map((line) => (
                      <li key={line}>{showNumber(line)}</li>
                    ))}
                  </ul>
                )}
              </details>
            </li>
          );
        })}
        {unnamed.map((hotspot) => (
          <li key={hotspot.rank}>
            <span class="ref">hotspot {hotspot.rank}</span>{" "}
            <span class="small">
              {showNumber(
                [
                  `${formatQuantity(hotspot.peakRiseK, testedSigmaK(findings, hotspot.view), "K").text} at ${hotspotPlace(hotspot)}`,
                  hotspot.powerW === null ? "" : hotspotPower(hotspot),
                  hotspot.nearest.length === 0 ? "" : `near ${nearestParts(hotspot, 2)}`,
                ]
                  .filter((text) => text !== "")
                  .join("; "),
              )}
            </span>
          </li>
        ))}
      </ol>
      {suspects.some(({ powerW }) => powerW !== null) && (
        <p class="dim small">
          {findings.inputs.volts === null || findings.inputs.amps === null
            ? "Watts are by the frames alone: what was fed in is not known."
            : "Watts are by the frames and by what was fed in."}
        </p>
      )}
      {findings.unexplained !== null && (
        <p class="rest">
          None of the named parts:{" "}
          <data value={findings.unexplained}>{showNumber(formatProbability(findings.unexplained))}</data>
        </p>
      )}
    </section>
  );
}

function Bar({ share }: { readonly share: number }) {
  return (
    <svg class="bar" viewBox="0 0 100 8" preserveAspectRatio="none" aria-hidden="true">
      <rect class="bar-ground" width="100" height="8" />
      <rect class="bar-part" width={100 * share} height="8" />
    </svg>
  );
}
