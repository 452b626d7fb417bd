// job: text of a JSON file of a job → its checked value.
import type * as z from "zod";
import { problemsError } from "../board/problems-error.js";
import { type FileKind, kindProblem, schemaProblems } from "../board/schema-problems.js";
import { ToolError } from "../core/errors.js";

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
  const wrongKind = kindProblem(value, kind);
  const problems = wrongKind ? [wrongKind] : schemaProblems(value, schema, kind.valueCode);
  const place = line === undefined ? file : `${file}, line ${line}`;
  const error = problemsError(problems, place, "The others are listed once these are right");
  if (error !== null) throw error;
  return schema.parse(value);
}
