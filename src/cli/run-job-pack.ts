// cli: the words of `job pack` and `job unpack` → a zip made or opened, and a line that says so.
import { basename, dirname, join, resolve } from "node:path";
import { visibleText } from "../report/visible-text.js";
import { packJob } from "../store/pack-job.js";
import { unpackJob } from "../store/unpack-job.js";
import type { CommandOutput } from "./command-output.js";
import type { JobPackWords, JobWords } from "./job-words.js";
import { printNotes } from "./say-outcome.js";
import { refuseIfThere } from "./write-new-file.js";

/** Pack a job.
 *  @throws ToolError E_OUTPUT if the zip is there already and may not be replaced; those of `packJob`.
 */
export async function runJobPack(folder: string, words: JobPackWords, output: CommandOutput): Promise<void> {
  const file = words.out ?? besideFolder(folder);
  await refuseIfThere(file, words.replace === true);
  const packed = await packJob(folder, file);
  if (packed.noReport !== null) {
    await output.remark(
      `Warning: the pack holds no report, for it can't be made: ${visibleText(packed.noReport)} The job itself is packed whole.\n`,
    );
  }
  if (words.json === true) await output.result(`${JSON.stringify({ folder, ...packed }, null, 2)}\n`);
  else if (words.quiet !== true) {
    await output.result(
      `Packed ${packed.files} files, and ${packed.noReport === null ? "the report and the list" : "the list"}, ` +
        `into ${visibleText(packed.file)} (${packed.bytes} bytes)\n` +
        `SHA-256 of the zip: ${packed.sha256}\nSeal of the job:    ${packed.seal}\n`,
    );
  }
}

/** The folder's own name, also where it is given as `.`. */
function besideFolder(folder: string): string {
  const whole = resolve(folder);
  const beside = `${basename(whole)}.zip`;
  return resolve(folder, "..") === process.cwd() ? beside : join(dirname(whole), beside);
}

/** Open a pack.
 *  @throws ToolError those of `unpackJob`.
 */
export async function runJobUnpack(
  file: string,
  folder: string,
  words: JobWords,
  output: CommandOutput,
): Promise<void> {
  const { job, files, leftOut } = await unpackJob(file, folder);
  await printNotes(job.notes, words, output);
  if (words.json === true) {
    const { id, device } = job.header;
    await output.result(
      `${JSON.stringify({ folder, id, device, files, leftOut, seal: job.seal }, null, 2)}\n`,
    );
  } else if (words.quiet !== true) {
    const lines = [
      `Opened ${visibleText(job.header.device)} in ${visibleText(folder)}: ${files} files, hashes as they should be.`,
      `Seal: ${job.seal}`,
    ];
    if (leftOut.length > 0) {
      lines.push(
        `Left in the zip, for they are no part of a job: ${visibleText(leftOut.slice(0, 5).join(", "))}`,
      );
    }
    await output.result(`${lines.join("\n")}\n`);
  }
}
