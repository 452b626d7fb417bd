// report: an error of the disk → an error in our own form, with what to do.
import { ToolError } from "../core/errors.js";

/** What the system's words for a refusal mean. */
const REASONS: Readonly<Record<string, string>> = {
  ENOSPC: "the disk is full",
  EDQUOT: "your share of the disk is used up",
  EACCES: "you have no permission",
  EPERM: "you have no permission",
  EROFS: "the disk may only be read",
  EIO: "the disk reports a fault",
  EMFILE: "too many files are open",
  ENAMETOOLONG: "the name of the folder is too long",
  EEXIST: "there is a file of that name",
  ENOTDIR: "a part of its path is a file",
  EISDIR: "there is a folder of that name",
  ENOENT: "there is no such folder",
  EFBIG: "the file would be too large for this disk",
};

/** Say in words why the system refused to write; its own word where there is none of ours. */
export function diskReason(error: unknown): string {
  const code = error instanceof Error && "code" in error ? String(error.code) : String(error);
  return REASONS[code] ?? `the system said ${code}`;
}

/** Make the error for a folder of results that can't be written. */
export function outputError(error: unknown, folder: string): ToolError {
  return new ToolError("E_OUTPUT", {
    problem: `expected a folder that can be written to, but ${diskReason(error)}`,
    fix: "Give --out a folder that does not exist yet or that you may write to, on a disk with room",
    place: { file: folder },
  });
}
