// core: the problems of a file → the one error that is thrown for them.
import { type ErrorPlace, ToolError } from "./errors.js";
import type { Problem } from "./json-problem.js";

/** How many problems one message lists. */
const LISTED = 3;

/** Make an error of the errors among problems.
 *  @param place of the value as a whole; the path of the first error is added.
 *  @param listAll what to do to see all of them, said where the message does not list them all.
 *  @returns null if there is none. */
export function problemsError(
  problems: readonly Problem[],
  place: Omit<ErrorPlace, "path">,
  listAll: string,
): ToolError | null {
  const errors = problems.flatMap((problem) => (problem.severity === "error" ? problem : []));
  const first = errors[0];
  if (first === undefined) return null;
  const texts = errors
    .slice(0, LISTED)
    .map(({ path, text }, i) => (i === 0 || path === "" ? text : `at ${path}: ${text}`));
  const more = errors.length - texts.length;
  if (more > 0) texts.push(`and ${more} more`);
  return new ToolError(first.code, {
    problem: texts.join("; "),
    fix: more > 0 ? `${first.fix}. ${listAll}` : first.fix,
    place: { ...place, path: first.path === "" ? undefined : first.path },
  });
}
