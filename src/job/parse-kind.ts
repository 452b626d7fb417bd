// job: text of a JSON file of a job → its checked value.
import type * as z from "zod";
import { checkKind } from "../core/check-kind.js";
import { ToolError } from "../core/errors.js";
import type { FileKind } from "../core/schema-problems.js";

/** Parse a file of a job that is of one kind.
 *  @param file its name, for errors.
 *  @param line 1-based, where the file has one value a line.
 *  @throws ToolError E_JSON_SYNTAX, E_JOB_KIND or E_JOB_VALUE.
 */
export function parseKind<Out>(
  text: string,
  kind: FileKind,
  schema: z.ZodType<Out>,
  file: string,
  line?: number,
): Out {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    throw new ToolError("E_JSON_SYNTAX", {
      problem: `expected ${kind.name} as JSON, found text that is not`,
      fix: "Take this file from a copy of the job",
      place: { file, line },
    });
  }
  return checkKind(value, kind, schema, { file, line }, "The others are listed once these are right");
}
