// report: a comparison and a folder → comparison.json and comparison.html in it.
import { join } from "node:path";
import { type Comparison, comparisonSchema } from "../compare/comparison-schema.js";
import { makeFolders } from "./make-folders.js";
import { outputError } from "./output-error.js";
import { renderComparison } from "./render-comparison.js";
import { serialiseChecked } from "./serialise-checked.js";
import { writeFilesAtomic } from "./write-files-atomic.js";

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
  const [comparisonPath, page] = await writeOutputFiles(folder, [
    ["comparison.json", json],
    ["comparison.html", renderComparison(comparison)],
  ]);
  return { comparison: comparisonPath!, page: page! };
}

/** Write files of results into a folder, which is created: all of them or none.
 *  @returns their paths. @throws ToolError E_OUTPUT if the folder or a file can't be written.
 */
export async function writeOutputFiles(
  folder: string,
  files: readonly (readonly [name: string, text: string])[],
): Promise<string[]> {
  const paths = files.map(([name, text]) => [join(folder, name), text] as const);
  try {
    await makeFolders(folder);
    await writeFilesAtomic(paths);
  } catch (error) {
    throw outputError(error, folder);
  }
  return paths.map(([path]) => path);
}
