// report: a comparison and a folder → comparison.json and comparison.html in it.
import { join } from "node:path";
import { type Comparison, comparisonSchema } from "../compare/comparison-schema.js";
import { ToolError } from "../core/errors.js";
import { makeFolders } from "./make-folders.js";
import { renderComparison } from "./render-comparison.js";
import { serialiseChecked } from "./serialise-checked.js";
import { writeFileAtomic } from "./write-file-atomic.js";

/** Paths of the files of a comparison. */
export interface ComparisonFiles {
  readonly comparison: string;
  readonly page: string;
}

/** Write the files of a comparison; the folder is created, files of the same name are replaced whole. The page comes last.
 *  @throws ToolError E_OUTPUT if the folder or a file can't be written.
 */
export async function writeComparisonFiles(comparison: Comparison, folder: string): Promise<ComparisonFiles> {
  const json = serialiseChecked(comparison, comparisonSchema, "comparison");
  return {
    comparison: await writeOutputFile(folder, "comparison.json", json),
    page: await writeOutputFile(folder, "comparison.html", renderComparison(comparison)),
  };
}

/** Write one file of results into a folder, which is created.
 *  @returns its path. @throws ToolError E_OUTPUT if the folder or the file can't be written.
 */
export async function writeOutputFile(folder: string, name: string, text: string): Promise<string> {
  const path = join(folder, name);
  try {
    await makeFolders(folder);
    await writeFileAtomic(path, text);
  } catch (error) {
    const reason = error instanceof Error && "code" in error ? String(error.code) : String(error);
    throw new ToolError("E_OUTPUT", {
      problem: `expected a folder that can be written to, but the system said ${reason}`,
      fix: "Give --out a folder that does not exist yet or that you may write to, on a disk with room",
      place: { file: folder },
    });
  }
  return path;
}
