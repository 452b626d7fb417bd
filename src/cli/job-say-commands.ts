// cli: the words of `faultglow job reading`, `action`, `remark` and `withdraw`: what is said without frames.
import { Command } from "commander";
import type { CommandOutput } from "./command-output.js";
import { addCommon, addMoment } from "./job-options.js";
import type { JobActionWords, JobReadingWords, JobSayWords, JobWithdrawWords } from "./job-words.js";

/** Describe the commands that say something of a job. */
export function jobSayCommands(output: CommandOutput): Command[] {
  return [readingCommand(output), actionCommand(output), remarkCommand(output), withdrawCommand(output)];
}

function readingCommand(output: CommandOutput): Command {
  const command = new Command("reading")
    .summary("keep a reading of the meter, or what a good board shows")
    .description(
      "Keep a reading at a net, or at a part and its pin. V is typed as the meter shows it: 0.45, 450 mV, 4k7, OL.",
    )
    .argument("<DIR>", "folder of the job")
    .option("--net <NET>", "net that was measured")
    .option("--ref <REF>", "part that was measured at")
    .option("--pin <PIN>", "its pin; with --ref")
    .option("--diode <V>", "diode mode, volts")
    .option("--resistance <R>", "resistance, ohms")
    .option("--voltage <V>", "voltage, volts")
    .option("--current <A>", "current, amperes")
    .option("--board <NAME>", "which board of the job, where it has several")
    .option("--reference", "this is what a good board shows there; V may be a range such as 0.40-0.45")
    .option("--low-by-nature", "this rail reads low on a good board; with --reference")
    .option("--source <TEXT>", "where the reference is from")
    .option(
      "--table <F>",
      "take many from a table, CSV or text: a row for each place, with net, or ref and pin, and value; values are " +
        "references, but for those under a head such as measured; in place of a place and a value",
    )
    .option("--remark <TEXT>", "anything else");
  return addCommon(addMoment(command)).action(async (folder: string, words: JobReadingWords) => {
    const { runJobReading } = await import("./run-job-reading.js");
    await runJobReading(folder, words, output);
  });
}

function actionCommand(output: CommandOutput): Command {
  const command = new Command("action")
    .summary("keep what was done to the device")
    .description("Keep what was done. What comparisons and the evidence make of later attempts rests on it.")
    .argument("<DIR>", "folder of the job")
    .option("--lifted <REF...>", "parts that were lifted off, and not put back")
    .option("--replaced <REF...>", "parts that were replaced")
    .option("--reflowed <REF...>", "parts whose joints were melted again")
    .option("--cleaned [REF...]", "what was cleaned; without parts, the board")
    .option("--shield-off [REF...]", "shields that were taken off")
    .option("--shield-on [REF...]", "shields that were put on")
    .option("--boards-split", "the boards of the device were taken apart")
    .option("--boards-joined", "the boards of the device were joined again")
    .option("--other [REF...]", "anything else; --remark says what")
    .option("--board <NAME>", "which board of the job, where it has several")
    .option("--remark <TEXT>", "how, with what, what was seen");
  return addCommon(addMoment(command)).action(async (folder: string, words: JobActionWords) => {
    const { runJobAction } = await import("./run-job-action.js");
    await runJobAction(folder, words, output);
  });
}

function remarkCommand(output: CommandOutput): Command {
  const command = new Command("remark")
    .summary("keep a remark")
    .description("Keep a remark: anything that belongs to the job and is no reading and no action.")
    .argument("<DIR>", "folder of the job")
    .argument("<TEXT>", "the remark");
  return addCommon(addMoment(command)).action(async (folder: string, text: string, words: JobSayWords) => {
    const { runJobRemark } = await import("./run-job-remark.js");
    await runJobRemark(folder, text, words, output);
  });
}

function withdrawCommand(output: CommandOutput): Command {
  const command = new Command("withdraw")
    .summary("take back what was said by mistake")
    .description(
      "Take a line of the journal back. It stays in the journal, as its withdrawal does, and no longer counts.",
    )
    .argument("<DIR>", "folder of the job")
    .argument("<LINE>", "number of the line, as job show tells it")
    .requiredOption("--reason <TEXT>", "why");
  return addCommon(command).action(async (folder: string, line: string, words: JobWithdrawWords) => {
    const { runJobWithdraw } = await import("./run-job-remark.js");
    await runJobWithdraw(folder, line, words, output);
  });
}
