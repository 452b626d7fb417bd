// report: names, contents and a folder → files of results in it, all of them or none.
import { join } from "node:path";
import { makeFolders } from "./make-folders.js";
import { outputError } from "./output-error.js";
import { type Contents, writeFilesAtomic } from "./write-files-atomic.js";

/** Write files of results into a folder, which is created: all of them or none.
 *  @returns their paths. @throws ToolError E_OUTPUT if the folder or a file can't be written.
 */
export async function writeOutputFiles(
  folder: string,
  files: readonly (readonly [name: string, contents: Contents])[],
): Promise<string[]> {
  const paths = files.map(([name, contents]) => [join(folder, name), contents] as const);
  try {
    await makeFolders(folder);
    await writeFilesAtomic(paths);
  } catch (error) {
    throw outputError(error, folder);
  }
  return paths.map(([path]) => path);
}
