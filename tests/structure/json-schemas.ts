// The schemas of the code → the JSON Schemas that lie in src/schemas.
import { z } from "zod";
import { boardMapSchema, viewSchema } from "../../src/board/board-schema.js";
import { comparisonSchema } from "../../src/compare/comparison-schema.js";
import { excessSchema } from "../../src/compare/excess-schema.js";
import { profileSchema } from "../../src/compare/profile-schema.js";
import { evidenceSchema } from "../../src/evidence/evidence-schema.js";
import { findingsSchema } from "../../src/findings/findings-schema.js";
import { scaleSchema } from "../../src/frames/scale-schema.js";
import { attemptSchema } from "../../src/job/attempt-schema.js";
import { entrySchema } from "../../src/job/entry-schema.js";
import { jobSchema } from "../../src/job/job-schema.js";
import { placingSchema } from "../../src/place/placing-schema.js";
import { ownerSchema } from "../../src/store/process-owner.js";

/** Folder of the JSON Schemas, from the project's folder. */
export const SCHEMA_FOLDER = "src/schemas";

const SCHEMAS: readonly { name: string; description: string; schema: z.ZodType }[] = [
  {
    name: "board",
    description: "Board map: outline and named parts, millimetres, seen from the top side.",
    schema: boardMapSchema,
  },
  {
    name: "view",
    description: "View: points of the board and the pixels of the baseline frame where they are seen.",
    schema: viewSchema,
  },
  {
    name: "scale",
    description: "Scale of a grey picture: °C at its darkest and lightest level, or gain and offset.",
    schema: scaleSchema,
  },
  {
    name: "findings",
    description: "Findings: what one attempt showed; written as findings.json and by find --json.",
    schema: findingsSchema,
  },
  {
    name: "comparison",
    description: "Comparison: what became of each part's heat between two attempts on one board.",
    schema: comparisonSchema,
  },
  {
    name: "profile",
    description: "Healthy profile: what each part of good boards of one map shows, with its scatter.",
    schema: profileSchema,
  },
  {
    name: "excess",
    description: "Excess: by how much each part of an attempt shows more than a healthy profile.",
    schema: excessSchema,
  },
  {
    name: "job",
    description: "Job: one device on the bench; job.json of a job folder.",
    schema: jobSchema,
  },
  {
    name: "attempt",
    description: "Attempt: frames, conditions and options of a power-on; attempt.json in a job folder.",
    schema: attemptSchema,
  },
  {
    name: "entry",
    description: "Entry: one line of journal.jsonl in a job folder.",
    schema: entrySchema,
  },
  {
    name: "lock",
    description: "Lock: who writes to a job folder at the moment.",
    schema: ownerSchema,
  },
  {
    name: "placing",
    description:
      "Placing: the view of a new baseline found from an earlier one; printed by board place --json.",
    schema: placingSchema,
  },
  {
    name: "evidence",
    description: "Evidence: what a whole job says of every part, over attempts, readings and actions.",
    schema: evidenceSchema,
  },
];

/** Make the text of every JSON Schema, by file name. They describe what is read, so unknown keys are allowed. */
export function makeJsonSchemas(): Map<string, string> {
  return new Map(
    SCHEMAS.map(({ name, description, schema }) => {
      const { $schema, ...body } = z.toJSONSchema(schema, { target: "draft-2020-12", io: "input" });
      const whole = {
        $schema,
        $id: `urn:faultglow:${name}:1`,
        title: `faultglow/${name}`,
        description,
        ...body,
      };
      return [`${name}.json`, `${JSON.stringify(whole, null, 2)}\n`];
    }),
  );
}
