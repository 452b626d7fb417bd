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
import type { ResultForm } from "../../src/report/json-pieces.js";
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

/** File of the forms that results are held against and written by, from the project's folder. */
export const FORMS_FILE = "src/report/result-forms.ts";

const RESULTS = {
  comparison: comparisonSchema,
  excess: excessSchema,
  findings: findingsSchema,
  profile: profileSchema,
};

/** Words of JSON Schema that a form keeps; of the others a form says the same by what it has not. */
const KEPT = ["type", "const", "enum", "minimum", "maximum", "exclusiveMinimum", "required"];
const SAID_OTHERWISE = ["$schema", "propertyNames", "additionalProperties", "minItems", "maxItems"];

/** Make the text of the file of forms. @throws Error if a schema says what a form can't. */
export function makeResultForms(): string {
  const forms = Object.entries(RESULTS).map(([name, schema]) => {
    const form = JSON.stringify(formOf(z.toJSONSchema(schema, { target: "draft-2020-12", io: "input" })));
    const constant = `${name.toUpperCase()}_FORM`;
    return `// biome-ignore format: written by a script.\nexport const ${constant}: ResultForm = ${form};\n`;
  });
  return [
    "// report: the schemas of results → forms by which they are checked and written. Written by `npm run schemas`.\n",
    'import type { ResultForm } from "./json-pieces.js";\n\n',
    forms.join("\n"),
  ].join("");
}

type JsonSchema = z.core.JSONSchema.JSONSchema;

function formOf(schema: JsonSchema | boolean): ResultForm {
  if (typeof schema === "boolean") throw new Error("a form can't say that anything, or nothing, will do");
  if (Array.isArray(schema.type)) {
    const [type, ...others] = schema.type;
    return formOf({
      anyOf: [{ ...schema, type }, ...others.map((other) => ({ type: other }))],
    } as JsonSchema);
  }
  const { anyOf, items, prefixItems, properties, ...rest } = schema;
  const strange = Object.keys(rest).filter((word) => !KEPT.includes(word) && !SAID_OTHERWISE.includes(word));
  const isOr = anyOf !== undefined && (anyOf.length !== 2 || JSON.stringify(anyOf[1]) !== '{"type":"null"}');
  if (strange.length > 0 || isOr || Array.isArray(items)) {
    throw new Error(`a form can't say ${JSON.stringify({ ...rest, anyOf })}`);
  }
  const kept = Object.entries(rest).filter(([word]) => KEPT.includes(word));
  return {
    ...Object.fromEntries(kept),
    ...(anyOf && { anyOf: [formOf(anyOf[0]!)] }),
    // Beside `prefixItems` it says of further items whether there may be any, as `maxItems` does.
    ...(items !== undefined && !prefixItems && { items: formOf(items as JsonSchema) }),
    ...(prefixItems && { prefixItems: prefixItems.map(formOf) }),
    ...(properties && {
      properties: Object.fromEntries(Object.entries(properties).map(([key, one]) => [key, formOf(one)])),
    }),
  };
}
