// evidence: findings → what they advise about a change that no part of the map is there for.
import type { Findings } from "../findings/findings-schema.js";

/** Beginnings and end of that advice as `nextStep` had it before it stood in a field of its own. */
const OLDER =
  /(?:^|\. )((?:Look what lies at|Capture the (?:top|bottom) side too:) .* was taken for something mirrored\.)$/;

/** The advice about a change on no part; null without one. Findings that were kept before `nextStepUnmapped` was have
 *  it as the last sentence of `nextStep` alone, and a job keeps findings for years.
 */
export function unmappedAdvice({
  nextStep,
  nextStepUnmapped,
}: Pick<Findings, "nextStep" | "nextStepUnmapped">): string | null {
  return nextStepUnmapped ?? OLDER.exec(nextStep ?? "")?.[1] ?? null;
}
