// core: parsed JSON of one kind of file → its checked value, or the one error that lists what is wrong.
import type * as z from "zod";
import type { ErrorPlace } from "./errors.js";
import { problemsError } from "./problems-error.js";
import { type FileKind, issueProblems, kindProblem } from "./schema-problems.js";

/** Check that a value is of a kind and a version that can be read, and fits the schema of that kind.
 *  @param place of the value as a whole.
 *  @param listAll what to do to see all problems, said where the message does not list them all.
 *  @throws ToolError `kindCode` or `valueCode` of the kind; the message lists up to three problems. */
export function checkKind<Out>(
  value: unknown,
  kind: FileKind,
  schema: z.ZodType<Out>,
  place: Omit<ErrorPlace, "path">,
  listAll: string,
): Out {
  const wrongKind = kindProblem(value, kind);
  const result = wrongKind === null ? schema.safeParse(value) : null;
  if (result?.success) return result.data;
  const problems = wrongKind ? [wrongKind] : issueProblems(value, result!.error!.issues, kind.valueCode);
  // One problem at least is an error, so that there is one to throw.
  throw problemsError(problems, place, listAll)!;
}
