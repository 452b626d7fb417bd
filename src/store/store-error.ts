// store: an error of the disk → an error in our own form, with what to do.
import { ToolError } from "../core/errors.js";
import { diskReason } from "../report/output-error.js";

/** Do something to a job folder; what the disk refuses becomes E_JOB_WRITE. Errors of ours pass as they are. */
export async function wordErrors<Out>(folder: string, work: () => Promise<Out>): Promise<Out> {
  try {
    return await work();
  } catch (error) {
    throw wordError(folder, error);
  }
}

function wordError(folder: string, error: unknown): unknown {
  const { code, syscall } = error as NodeJS.ErrnoException;
  if (error instanceof ToolError || code === undefined || syscall === undefined) return error;
  return jobWriteError(folder, error);
}

/** Make the error for a job's folder in which the disk refuses something. @param file or folder in question. */
export function jobWriteError(file: string, error: unknown): ToolError {
  return new ToolError("E_JOB_WRITE", {
    problem: `expected to read and write in the job's folder, but ${diskReason(error)}`,
    fix: "Make room or give permission and do it again; what stood in the job before is unchanged",
    place: { file },
  });
}
