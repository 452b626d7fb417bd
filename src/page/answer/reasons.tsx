// page: findings → what was judged to be no heat, the books of energy, alignment and noise, notes.
import type { JobState } from "../../api/jobs-schema.js";
import { formatToSigma } from "../../core/format-quantity.js";
import { doubtRail } from "../../job/doubt-rail.js";
import { alikeArtefacts } from "../../report/alike-artefacts.js";
import {
  describeAlignment,
  describeEnergy,
  describeNoise,
  flagMeaning,
  testedSigmaK,
} from "../../report/describe-findings.js";
import { showNumber } from "../state/settings.js";

/** What stands behind the answer. */
export function Reasons({ attempt }: { readonly attempt: JobState["attempts"][number] }) {
  const { findings } = attempt;
  const { artefacts, notes } = findings;
  const energy = describeEnergy(findings);
  const flags = [...new Set(findings.hotspots.flatMap((hotspot) => hotspot.flags))];
  const flagged = (flag: string): string =>
    findings.hotspots
      .filter((hotspot) => hotspot.flags.some((own) => own === flag))
      .map(({ rank }) => findings.suspects.find((one) => one.hotspot === rank)?.ref ?? `hotspot ${rank}`)
      .join(", ");
  const { rail } = attempt.attempt.conditions;
  const nets = attempt.board?.regions.flatMap((part) => part.nets ?? []) ?? [];
  const meant = rail === null ? null : doubtRail(rail, nets);
  const warnings = notes.filter(({ severity }) => severity === "warning");
  return (
    <>
      {(warnings.length > 0 || flags.length > 0 || meant !== null) && (
        <ul class="plain warnings">
          {meant !== null && (
            <li class="chip warn">
              {`"${rail}" was typed as the rail that was fed, and no net of the board is called so. If "${meant}" was meant, say so with the next attempt: no watts hang on it.`}
            </li>
          )}
          {warnings.map(({ code, text }) => (
            <li key={code + text} class="chip warn">
              {showNumber(text)}
            </li>
          ))}
          {flags.map((flag) => (
            <li key={flag} class="chip warn">
              {flagged(flag)}: {flagMeaning(flag)}
            </li>
          ))}
        </ul>
      )}
      {artefacts.length > 0 && (
        <section aria-label="Judged to be no heat">
          <h2>Seen, and judged to be no heat</h2>
          <ul class="artefacts small">
            {alikeArtefacts(findings).map(({ what, reason, places }) => (
              <li key={places[0]!.letter}>
                {places.map(({ letter, artefact: { riseK, view } }, i) => (
                  <span key={letter}>
                    {i === 0 ? "" : "; "}
                    <strong>{letter}</strong>
                    {riseK === null
                      ? ""
                      : ` ${showNumber(formatToSigma(riseK, testedSigmaK(findings, view), "K"))}`}
                  </span>
                ))}
                : {showNumber(`${what}: ${reason}`)}
              </li>
            ))}
          </ul>
        </section>
      )}
      {energy !== null && (
        <section aria-label="Watts fed and seen">
          <h2>Watts fed and seen</h2>
          <p class="small">{showNumber(energy)}</p>
        </section>
      )}
      <details class="small">
        <summary>Alignment, noise, notes</summary>
        <p>{showNumber(describeAlignment(findings))}</p>
        <p>{showNumber(describeNoise(findings))}</p>
        {notes.map(({ code, text }) => (
          <p key={code + text}>
            <span class="dim">{code}</span> {showNumber(text)}
          </p>
        ))}
      </details>
    </>
  );
}
