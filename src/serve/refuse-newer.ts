// serve: JSON of a file that the bench keeps beside a job → an error if a newer version of the tool wrote it.

import { problemsError } from "../core/problems-error.js";
import { kindProblem } from "../core/schema-problems.js";

/** The files of the bench, in words. All are of version 1. */
const NAMES = {
  "faultglow/dropped": "a dropped file",
  "faultglow/draft": "a draft",
  "faultglow/bench": "the bench's settings",
} as const;

/** Refuse what a newer version has written: it would be left out, and written over.
 *  @param value what the file holds; anything that is of no newer version is let through.
 *  @throws ToolError E_JOB_KIND */
export function refuseNewer(value: unknown, kind: keyof typeof NAMES, file: string): void {
  const { kind: found, version } = (value ?? {}) as { kind?: unknown; version?: unknown };
  if (found !== kind || !(Number.isInteger(version) && (version as number) > 1)) return;
  const codes = { kindCode: "E_JOB_KIND", valueCode: "E_JOB_VALUE" } as const;
  const problem = kindProblem(value, { kind, version: 1, name: NAMES[kind], ...codes });
  const error = problem === null ? null : problemsError([problem], { file }, "");
  if (error !== null) throw error;
}
