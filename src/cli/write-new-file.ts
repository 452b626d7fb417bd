// cli: a path and a text → a new file, or an error if one is there already.
import { ToolError } from "../core/errors.js";
import { isThere } from "../read/is-there.js";
import { writeFileAtomic } from "../report/write-file-atomic.js";

/** Write a file whole. One that is there already may be a day's work and is replaced only on request.
 *  @throws ToolError E_OUTPUT if it is there and may not be replaced, or can't be written. */
export async function writeNewFile(path: string, text: string, replace: boolean): Promise<void> {
  try {
    if (!replace && (await isThere(path))) {
      throw new ToolError("E_OUTPUT", {
        problem: "the file is there already",
        fix: "Choose another name, or add --replace",
        place: { file: path },
      });
    }
    await writeFileAtomic(path, text);
  } catch (error) {
    if (error instanceof ToolError) throw error;
    throw new ToolError("E_OUTPUT", {
      problem: `the file can't be written: ${(error as Error).message}`,
      fix: "Check the folder and its permissions",
      place: { file: path },
    });
  }
}
