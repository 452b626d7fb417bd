// report: a result and its schema → the text of its JSON file, checked first.
import type * as z from "zod";

/** Write a result as JSON: keys in the schema's order, two spaces, a last line end.
 *  @param name what it is, for the error.
 *  @throws Error naming the path if it does not fit the schema or holds a number that JSON can't (a fault of ours).
 */
export function serialiseChecked(value: unknown, schema: z.ZodType, name: string): string {
  const result = schema.safeParse(value);
  if (!result.success) {
    const issue = result.error.issues[0];
    const path = issue === undefined ? "" : issue.path.join(".");
    throw new Error(`the ${name} does not fit its own schema at "${path}": ${issue?.message ?? "unknown"}`);
  }
  return `${JSON.stringify(result.data, null, 2)}\n`;
}
