// page: what went wrong, in parts → sentences.
import type { ErrorWords } from "../../api/answer-error-schema.js";
import { placeText } from "../../core/errors.js";
import { capitalised } from "../../core/sentence-case.js";

/** Word an error as sentences, with its place.
 *  @param isNamed the file stands beside it already, and is not named again.
 */
export function faultText({ problem, fix, place }: ErrorWords, isNamed = false): string {
  const { file, ...within } = place ?? {};
  const where = placeText(isNamed ? within : { file, ...within });
  return `${capitalised(problem)}${where === "" ? "" : ` (${where})`}. ${fix}.`;
}
