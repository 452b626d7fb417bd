// core: a JSON value and the schema it should fit → what does not fit, in words, and the keys that are not known.
import * as z from "zod";
import type { ErrorCode } from "./errors.js";
import { foundText, type Problem, pathText, valueAt } from "./json-problem.js";
import { nearestWord } from "./nearest-word.js";

/** What the files of one kind are called, and the codes of their errors. */
export interface FileKind {
  /** The `kind` that stands in the file. */
  readonly kind: string;
  /** Newest version that this program reads. */
  readonly version: number;
  /** In words: "a board map". */
  readonly name: string;
  readonly kindCode: ErrorCode;
  readonly valueCode: ErrorCode;
}

/** Check `kind` and `version` before anything else, as nothing else can be judged without them.
 *  @returns null if they fit. */
export function kindProblem(value: unknown, expected: FileKind): Problem | null {
  const problem = (path: string, text: string, fix: string): Problem => {
    return { severity: "error", code: expected.kindCode, path, text, fix };
  };
  const head = `"kind": "${expected.kind}", "version": ${expected.version}`;
  if (typeof value !== "object" || value === null || Array.isArray(value)) {
    return problem(
      "",
      `${expected.name} is an object with ${head}, but this is ${foundText(value)}`,
      `Give ${expected.name}`,
    );
  }
  const { kind, version } = value as { kind?: unknown; version?: unknown };
  if (kind !== expected.kind) {
    const text = `${expected.name} has kind "${expected.kind}", but this file has ${
      kind === undefined ? "no kind" : `kind ${foundText(kind)}`
    }`;
    return problem("kind", text, `Give ${expected.name}; if it is one, write ${head} at its start`);
  }
  if (version === expected.version) return null;
  const newer = typeof version === "number" && Number.isInteger(version) && version > expected.version;
  return problem(
    "version",
    newer
      ? `the file is version ${version}, made by a newer faultglow; this one reads version ${expected.version}`
      : `expected version ${expected.version}, found ${foundText(version)}`,
    newer ? "Install the newer faultglow" : `Write "version": ${expected.version}`,
  );
}

/** Places of one sort that are listed; a file with more is not what it was taken for. */
const MOST_PLACES = 1000;

/** List where a value does not fit a schema, in the order of the schema; a thousand places at most. */
export function schemaProblems(value: unknown, schema: z.ZodType, code: ErrorCode): Problem[] {
  const result = schema.safeParse(value);
  return result.success ? [] : issueProblems(value, result.error.issues, code);
}

/** Word what a schema found wrong with a value; a thousand places at most. */
export function issueProblems(
  value: unknown,
  issues: readonly z.core.$ZodIssue[],
  code: ErrorCode,
): Problem[] {
  return issues.slice(0, MOST_PLACES).map((issue) => {
    const found = valueAt(value, issue.path);
    const path = pathText(issue.path);
    const key = issue.path[issue.path.length - 1];
    if (found === undefined && typeof key === "string") {
      const hint = misspelt(valueAt(value, issue.path.slice(0, -1)), key);
      const text = `${key} is missing${hint === null ? "" : `; does "${hint}" stand for it?`}`;
      const fix = hint === null ? `Add ${key}: ${expectedText(issue)}` : `Rename "${hint}" to ${key}`;
      return { severity: "error", code, path, text, fix };
    }
    const expected = expectedText(issue);
    const meant =
      issue.code === "invalid_value" ? nearestWord(String(found), issue.values.map(String)) : null;
    return {
      severity: "error",
      code,
      path,
      text: `expected ${expected}, found ${foundText(found)}${meant === null ? "" : `; did you mean "${meant}"?`}`,
      fix: meant === null ? `Write ${expected}` : `Write "${meant}"`,
    };
  });
}

/** List keys of a value that its schema does not know, a thousand at most; `$schema` (JSON Schema) is let through. */
export function unknownKeys(value: unknown, schema: z.ZodType): Problem[] {
  return keysBelow(value, schema, [], { places: MOST_PLACES });
}

function keysBelow(
  value: unknown,
  schema: z.ZodType,
  path: readonly PropertyKey[],
  left: { places: number },
): Problem[] {
  if (left.places === 0) return [];
  if (schema instanceof z.ZodOptional) return keysBelow(value, schema.unwrap() as z.ZodType, path, left);
  if (schema instanceof z.ZodArray && Array.isArray(value)) {
    return value.flatMap((item, i) => keysBelow(item, schema.element as z.ZodType, [...path, i], left));
  }
  if (!(schema instanceof z.ZodObject) || typeof value !== "object" || value === null) return [];
  const shape = schema.shape as Record<string, z.ZodType>;
  return Object.entries(value).flatMap(([key, item]) => {
    if (Object.hasOwn(shape, key)) return keysBelow(item, shape[key]!, [...path, key], left);
    if ((key === "$schema" && path.length === 0) || left.places === 0) return [];
    left.places--;
    const meant = nearestWord(key, Object.keys(shape));
    return {
      severity: "warning" as const,
      code: "N_UNKNOWN_KEY" as const,
      path: pathText([...path, key]),
      text: `the key "${key}" is not known and is left out${meant === null ? "" : `; did you mean ${meant}?`}`,
      fix:
        meant === null ? "Remove it, or leave it if it is a remark of your own" : "Rename it, or remove it",
    };
  });
}

/** The key of an object that is probably a slip for a missing one. */
function misspelt(parent: unknown, key: string): string | null {
  if (typeof parent !== "object" || parent === null) return null;
  return Object.keys(parent).find((other) => nearestWord(other, [key]) !== null) ?? null;
}

function expectedText(issue: z.core.$ZodIssue): string {
  switch (issue.code) {
    case "invalid_type":
      return TYPE_TEXT[issue.expected] ?? `a value of type ${issue.expected}`;
    case "invalid_value":
      return issue.values.length === 1
        ? JSON.stringify(issue.values[0])
        : `one of ${issue.values.map((value) => JSON.stringify(value)).join(", ")}`;
    case "too_small":
    case "too_big":
      return sizeText(issue);
    case "invalid_format":
      return formatText(issue);
    default:
      return wordsOfKinds(issue.message) ?? issue.message;
  }
}

/** Of several kinds of things, told apart by one word, zod lists the words in a form of its own. */
function wordsOfKinds(message: string): string | null {
  const words = /^Invalid discriminator value\. Expected '(.*)'$/.exec(message)?.[1]?.split("' | '");
  return words === undefined ? null : `one of ${words.map((word) => JSON.stringify(word)).join(", ")}`;
}

const TYPE_TEXT: Readonly<Record<string, string>> = {
  number: "a number",
  int: "a whole number",
  string: "a text in quotes",
  boolean: "true or false",
  array: "a list",
  tuple: "a point [x, y]",
  object: "an object",
};

function formatText({ format, pattern }: z.core.$ZodIssueInvalidStringFormat): string {
  if (format === "datetime") return "a moment such as 2031-03-01T08:05:00Z";
  return pattern === undefined || pattern === "/\\S/"
    ? "a text that is not blank"
    : `a text that fits ${pattern}`;
}

function sizeText(issue: z.core.$ZodIssueTooSmall | z.core.$ZodIssueTooBig): string {
  if (issue.origin === "array") {
    // Every list of exactly two in these files is a point.
    if (issue.code === "too_big")
      return Number(issue.maximum) === 2 ? "a point [x, y]" : `a list of at most ${String(issue.maximum)}`;
    const point = issue.path.length === 0 || isPointPath(issue.path);
    if (point) return "a point [x, y]";
    // Lists are mostly named by what they hold: fiducials, regions.
    const name = issue.path.at(-1);
    const what = typeof name === "string" && name.endsWith("s") ? ` ${name}` : "";
    return `a list of ${String(issue.minimum)} or more${what}`;
  }
  if (issue.origin === "string") {
    return issue.code === "too_small"
      ? `a text of ${String(issue.minimum)} letters or more`
      : `a text of at most ${String(issue.maximum)} letters`;
  }
  if (issue.code === "too_small") {
    return `a number ${issue.inclusive ? "not below" : "above"} ${String(issue.minimum)}`;
  }
  return `a number ${issue.inclusive ? "not above" : "below"} ${String(issue.maximum)}`;
}

function isPointPath(path: readonly PropertyKey[]): boolean {
  const last = path[path.length - 1];
  return typeof last === "number" || last === "board" || last === "pixel";
}
