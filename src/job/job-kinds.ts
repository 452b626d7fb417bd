// job: what the files of a job are called in errors.
import type { FileKind } from "../core/schema-problems.js";

const codes = { kindCode: "E_JOB_KIND", valueCode: "E_JOB_VALUE" } as const;

/** What job.json is called. */
export const JOB_KIND: FileKind = Object.freeze({
  kind: "faultglow/job",
  version: 1,
  name: "a job",
  ...codes,
});

/** What attempt.json is called. */
export const ATTEMPT_KIND: FileKind = Object.freeze({
  kind: "faultglow/attempt",
  version: 1,
  name: "an attempt",
  ...codes,
});

/** What a line of the journal is called. */
export const ENTRY_KIND: FileKind = Object.freeze({
  kind: "faultglow/entry",
  version: 1,
  name: "a line of the journal",
  ...codes,
});

/** What findings.json is called. */
export const FINDINGS_KIND: FileKind = Object.freeze({
  kind: "faultglow/findings",
  version: 1,
  name: "a file of findings",
  ...codes,
});
