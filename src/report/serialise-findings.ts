// report: findings → the text of findings.json, checked against their form first.
import type { Findings } from "../findings/findings-schema.js";
import { jsonPieces } from "./json-pieces.js";
import { FINDINGS_FORM } from "./result-forms.js";

/** Write findings as JSON: keys in the schema's order, options by name, two spaces, a last line end.
 *  The same findings give the same bytes, whatever order their keys were set in.
 *  @returns the text in pieces, to be taken once.
 *  @throws Error naming the path if the findings don't fit the schema or hold a number that JSON can't (a fault of
 *  ours).
 */
export function findingsPieces(findings: Findings): Iterable<string> {
  const options = sortKeys(findings.options, "options");
  return jsonPieces({ ...findings, options }, FINDINGS_FORM, "findings");
}

/** The same as one text. */
export function serialiseFindings(findings: Findings): string {
  return [...findingsPieces(findings)].join("");
}

/** Options are of any shape, so the schema can't vouch for their numbers or their order. */
function sortKeys(value: unknown, path: string): unknown {
  if (typeof value === "number" && !Number.isFinite(value)) {
    throw new Error(`the findings hold ${value} at "${path}", which JSON can't say`);
  }
  if (Array.isArray(value)) return value.map((item, i) => sortKeys(item, `${path}.${i}`));
  if (value === null || typeof value !== "object") return value;
  const entries = Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1));
  return Object.fromEntries(entries.map(([key, item]) => [key, sortKeys(item, `${path}.${key}`)]));
}
