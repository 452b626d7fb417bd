// read: what is wrong with a PNG → the error that says so.
import { ToolError } from "../core/errors.js";

/** The error for a PNG file that is damaged or breaks the standard. */
export function corruptPng(problem: string, file: string): ToolError {
  return new ToolError("E_PNG_CORRUPT", {
    problem,
    fix: "The file is damaged: copy or export it again",
    place: { file },
  });
}
