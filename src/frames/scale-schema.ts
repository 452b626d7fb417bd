// frames: the shape of a scale file beside a picture → a schema that reads and describes it.
import * as z from "zod";
import { type ErrorPlace, ToolError } from "../core/errors.js";
import { foundText } from "../core/json-problem.js";
import { linearScale, parseScaleOption } from "./parse-scale-option.js";
import type { Scale } from "./scale.js";

const head = { kind: z.literal("faultglow/scale"), version: z.literal(1) };

/** A scale by its ends: °C at level 0 and at the largest level. */
const rangeScaleSchema = z.object({ ...head, lowC: z.number(), highC: z.number() });
/** A scale by gain and offset: °C = gainCPerLevel · level + offsetC. */
const linearScaleSchema = z.object({ ...head, gainCPerLevel: z.number(), offsetC: z.number() });
/** What a scale file holds: one of the two. */
export const scaleSchema = z.union([rangeScaleSchema, linearScaleSchema]);

/** Read a scale from text: a JSON object as in a scale file, or `LO:HI`.
 *  @throws ToolError E_SCALE_VALUE, naming the place in the JSON, what was expected and what was found.
 */
export function parseScaleText(text: string, place: ErrorPlace): Scale {
  if (!text.trimStart().startsWith("{")) return parseScaleOption(text.trim(), place);
  let json: unknown;
  try {
    json = JSON.parse(text);
  } catch (error) {
    throw misfit(`a scale in JSON was expected, but it does not parse: ${(error as Error).message}`, place);
  }
  return readScaleObject(json, place);
}

/** Read a scale from the value of a scale file.
 *  @throws ToolError E_SCALE_VALUE if it does not fit the schema.
 */
export function readScaleObject(json: unknown, place: ErrorPlace): Scale {
  const keys = typeof json === "object" && json !== null ? Object.keys(json) : [];
  const range = keys.includes("lowC") || keys.includes("highC");
  if (range && (keys.includes("gainCPerLevel") || keys.includes("offsetC"))) {
    throw misfit(
      "either lowC and highC or gainCPerLevel and offsetC was expected, but both are there",
      place,
    );
  }
  if (range) {
    const { lowC, highC } = check(rangeScaleSchema, json, place);
    return parseScaleOption(`${lowC}:${highC}`, place);
  }
  const { gainCPerLevel, offsetC } = check(linearScaleSchema, json, place);
  return linearScale(gainCPerLevel, offsetC, place);
}

function check<T>(schema: z.ZodType<T>, json: unknown, place: ErrorPlace): T {
  const result = schema.safeParse(json, { reportInput: true });
  if (result.success) return result.data;
  const issue = result.error.issues[0]!;
  const found = foundText(issue.input);
  const path = issue.path.length === 0 ? undefined : issue.path.join(".");
  throw misfit(
    `${issue.message.replace(/^Invalid input: /, "").replace(/, received .*$/, "")}, but found ${found}`,
    { ...place, path },
  );
}

function misfit(problem: string, place: ErrorPlace): ToolError {
  return new ToolError("E_SCALE_VALUE", {
    problem,
    fix: 'A scale file reads { "kind": "faultglow/scale", "version": 1, "lowC": 20, "highC": 45 }',
    place,
  });
}
