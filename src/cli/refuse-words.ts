// cli: words of a command that don't go together → the error that says so.
import { ToolError } from "../core/errors.js";

/** Refuse the words of a command. @throws ToolError E_USAGE */
export function refuseWords(problem: string, fix: string): never {
  throw new ToolError("E_USAGE", { problem, fix });
}
