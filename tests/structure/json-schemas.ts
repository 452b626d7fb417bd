// The schemas of the code → the JSON Schemas that lie in src/schemas.
import { z } from "zod";
import { boardMapSchema, viewSchema } from "../../src/board/board-schema.js";
import { findingsSchema } from "../../src/findings/findings-schema.js";
import { scaleSchema } from "../../src/frames/scale-schema.js";

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
