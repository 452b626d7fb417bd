// report: a result and its schema → the text of its JSON file, checked first.
import type * as z from "zod";

/** Write a result as JSON: keys in the schema's order, two spaces, a last line end.
 *  @param name what it is, for the error: "findings".
 *  @throws Error naming the path if it does not fit the schema or holds a number that JSON can't (a fault of ours).
 */
export function serialiseChecked(value: unknown, schema: z.ZodType, name: string): string {
  return jsonText(checkOwn(value, schema, name));
}

/** Hold a result against its own schema.
 *  @returns it with its keys in the schema's order.
 *  @throws Error as `serialiseChecked`.
 */
export function checkOwn<Out>(value: unknown, schema: z.ZodType<Out>, name: string): Out {
  const result = schema.safeParse(value);
  if (result.success) return result.data;
  const issue = result.error.issues[0];
  const path = issue === undefined ? "" : issue.path.join(".");
  throw new Error(`what was made as ${name} does not fit its own schema at "${path}": ${issue?.message}`);
}

/** A value as the text of a JSON file. */
export function jsonText(value: unknown): string {
  return `${JSON.stringify(value, null, 2)}\n`;
}
