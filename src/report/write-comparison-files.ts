// report: a comparison and a folder → comparison.json and comparison.html in it.
import type { Comparison } from "../compare/comparison-schema.js";
import { jsonPieces } from "./json-pieces.js";
import { renderComparison } from "./render-comparison.js";
import { COMPARISON_FORM } from "./result-forms.js";
import { writeOutputFiles } from "./write-output-files.js";

/** Paths of the files of a comparison. */
export interface ComparisonFiles {
  readonly comparison: string;
  readonly page: string;
}

/** Write the files of a comparison; the folder is created, files of the same name are replaced whole. The page comes
 *  last.
 *  @throws ToolError E_OUTPUT if the folder or a file can't be written.
 */
export async function writeComparisonFiles(comparison: Comparison, folder: string): Promise<ComparisonFiles> {
  const json = jsonPieces(comparison, COMPARISON_FORM, "comparison");
  const [comparisonPath, page] = await writeOutputFiles(folder, [
    ["comparison.json", json],
    ["comparison.html", renderComparison(comparison)],
  ]);
  return { comparison: comparisonPath!, page: page! };
}
