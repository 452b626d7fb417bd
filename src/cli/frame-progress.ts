// cli: how many frames have been read → one line on the terminal that is redrawn, and gone at the end.
import type { CommandOutput } from "./command-output.js";

/** Progress is worth a line only from this many files on: fewer are read before one could read it. */
const LEAST_FILES = 50;
/** Redraw every so many files: more often only slows the reading down. */
const STEP_FILES = 10;

/** Shows how far the reading of frames is. */
export interface FrameProgress {
  /** @param read files read so far. @param total of how many. */
  readonly show: (read: number, total: number) => void;
  /** Wipe the line. */
  readonly done: () => Promise<void>;
}

/** Do some work that shows how far its reading is; the line is wiped whether it goes well or not, so that an error does
 *  not stand behind it. */
export async function withProgress<Out>(
  output: CommandOutput,
  quiet: boolean,
  work: (progress: FrameProgress) => Promise<Out>,
): Promise<Out> {
  const progress = frameProgress(output, quiet);
  try {
    return await work(progress);
  } finally {
    await progress.done();
  }
}

/** Make a progress line on stderr; it stays silent if stderr is no terminal or if asked to be quiet. */
export function frameProgress(output: CommandOutput, quiet: boolean): FrameProgress {
  const silent = quiet || !output.canRedraw;
  let drawn = false;
  return {
    show: (read, total) => {
      if (silent || total < LEAST_FILES || read % STEP_FILES !== 0) return;
      drawn = true;
      void output.remark(`\rreading frames: ${read} of ${total} files\u001b[K`);
    },
    done: async () => {
      if (drawn) await output.remark("\r\u001b[K");
      drawn = false;
    },
  };
}
