// cli: the words of `faultglow job …` → their options; the work itself is loaded only when it is asked for.
import { Command, Option } from "commander";
import { ToolError } from "../core/errors.js";
import type { Audience } from "../report/job-report-model.js";
import { addConditionOptions } from "./attempt-words.js";
import { holdsCommands } from "./command-group.js";
import type { CommandOutput } from "./command-output.js";
import { addFrameOptions, checkFrameWords } from "./frame-options.js";
import { addCommon, addMoment, dateOption } from "./job-options.js";
import { jobSayCommands } from "./job-say-commands.js";
import type {
  JobAttemptWords,
  JobCheckWords,
  JobIndexWords,
  JobNewWords,
  JobPackWords,
  JobReportWords,
  JobWeighWords,
  JobWords,
} from "./job-words.js";
import { numberOption } from "./number-option.js";
import { TOLERANCE_HELP, toleranceOption } from "./tolerance-option.js";

/** Describe `job` and its subcommands. */
export function jobCommand(output: CommandOutput): Command {
  const job = new Command("job")
    .summary("keep a job: attempts, readings, actions, and proof of them")
    .description(
      "Keep all that is measured, changed and found on one device in a folder that proves itself.",
    );
  job.addCommand(newCommand(output));
  job.addCommand(attemptCommand(output));
  for (const command of jobSayCommands(output)) job.addCommand(command);
  for (const command of readCommands(output)) job.addCommand(command);
  holdsCommands(job, "job show DIR");
  job.addHelpText(
    "after",
    "\nExamples:\n" +
      "  faultglow job new meter --device 'soil-moisture meter' --board board.json\n" +
      "  faultglow job attempt meter --baseline off/ --powered on/ --view view.json --after 20\n" +
      "  faultglow job reading meter --net VSYS --diode 0.22\n" +
      "  faultglow job action meter --replaced C6\n" +
      "  faultglow job show meter\n" +
      "  faultglow job report meter\n",
  );
  return job;
}

function newCommand(output: CommandOutput): Command {
  const command = new Command("new")
    .summary("begin a job")
    .description("Begin a job in a new folder.")
    .argument("<DIR>", "folder of the job; it does not exist yet, or is empty")
    .requiredOption("--device <NAME>", "model or name of the device")
    .option("--complaint <TEXT>", "what the customer said")
    .option("--board <F...>", "board map; two for a device whose board is split")
    .option("--symptom <TEXT>", "how the fault shows")
    .option(
      "--restarts-after <S>",
      "it restarts, or switches off, so many seconds after power-on",
      numberOption("--restarts-after", { what: "seconds", above: 0 }),
    )
    .option("--draws <A>", "current that it draws", numberOption("--draws", { what: "amperes", above: 0 }))
    .option("--connected <WHAT...>", "what was connected then")
    .option("--remark <TEXT>", "anything else");
  return addCommon(addMoment(command)).action(async (folder: string, words: JobNewWords) => {
    const { runJobNew } = await import("./run-job-new.js");
    await runJobNew(folder, words, output);
  });
}

function attemptCommand(output: CommandOutput): Command {
  const command = new Command("attempt")
    .summary("add frames of a power-on, and analyse them")
    .description(
      "Add an attempt: copy its frames into the job, analyse them, and keep the findings with all that made them.\n" +
        "F is a file, a folder or a pattern, as for find.",
    )
    .argument("<DIR>", "folder of the job");
  addFrameOptions(command, "attempt").option(
    "--view-from <N>",
    "in place of --view: find it by the baseline and view of attempt N, which saw the same side of the board",
    numberOption("--view-from", { what: "the number of an attempt", whole: true }),
  );
  addConditionOptions(command);
  command.addHelpText(
    "after",
    "\nExamples:\n" +
      "  faultglow job attempt meter --baseline off/ --powered on/ --view view.json \\\n" +
      "      --after 20 --volts 0.9 --amps 0.21 --rail VSYS\n" +
      "  faultglow job attempt meter --baseline off-2/ --powered on-2/ --view-from 1 --after 20\n",
  );
  return addCommon(addMoment(command), "print the verdict alone, and warnings and errors").action(
    async (folder: string, words: JobAttemptWords) => {
      if (words.viewFrom !== undefined && words.view !== undefined) {
        throw new ToolError("E_USAGE", {
          problem:
            "--view and --view-from came together, but each of them alone says how the baseline sees the board",
          fix: "Keep one of the two",
        });
      }
      checkFrameWords(words.viewFrom === undefined ? words : { ...words, view: "" }, "attempt");
      const { runJobAttempt } = await import("./run-job-attempt.js");
      await runJobAttempt(folder, words, output);
    },
  );
}

function readCommands(output: CommandOutput): Command[] {
  const show = new Command("show")
    .summary("tell all that was said, in its order")
    .description("Tell a job: what was measured, changed and found, in the order in which it was.")
    .argument("<DIR>", "folder of the job");
  const report = new Command("report")
    .summary("write the report to hand over")
    .description("Write the report of a job as HTML and PDF.")
    .argument("<DIR>", "folder of the job")
    .addOption(
      new Option("--for <WHOM>", "for the repairer, with all figures, or for the customer, without the maths")
        .choices(["repairer", "customer"] satisfies Audience[])
        .default("repairer"),
    )
    .option("--out <DIR>", "folder for the report (default: report in the job's folder)");
  const check = new Command("check")
    .summary("verify hashes, forms and references, and compute all findings again")
    .description(
      "Check that a job is what it was. Exit status 2 if it is not.\n" +
        "Findings that another version made may differ; then it is said how, and is no error.",
    )
    .argument("<DIR>", "folder of the job")
    .option("--no-recompute", "leave out computing the findings again");
  const pack = new Command("pack")
    .summary("make one zip of a job")
    .description(
      "Put all files of a job into one zip, to hand over, with its report as a page and a list of what is in it. The same job gives the same bytes, by the same version.",
    )
    .argument("<DIR>", "folder of the job")
    .option("--out <F>", "zip to write (default: the folder's name with .zip, beside it)")
    .option("--replace", "overwrite that file if it is there already");
  const unpack = new Command("unpack")
    .summary("open a zip that pack has made")
    .description("Open a packed job into a new folder, and check its hashes.")
    .argument("<F>", "zip")
    .argument("<DIR>", "folder for the job; it does not exist yet, or is empty");
  const index = new Command("index")
    .summary("list the jobs in a folder, or look for some")
    .description(
      "List the jobs in a folder and the folders in it, the latest first. Options narrow the list.",
    )
    .argument("<DIR>", "folder with jobs in it")
    .option("--device <NAME>", "part of the device's name")
    .option("--ref <REF>", "a part that was suspected, worked on or measured at")
    .option("--net <NET>", "a net that was fed or measured, or on which such a part lies")
    .option("--text <TEXT>", "part of complaint or remarks")
    .option(
      "--since <DATE>",
      "something was said on that date or later, such as 2031-03-01",
      dateOption("--since"),
    )
    .option("--until <DATE>", "begun on that date or before", dateOption("--until"));
  const withoutReadings = [
    "--without-readings",
    "leave the readings out of the suspects' probabilities, which count them by the net that each part is on",
  ] as const;
  for (const command of [show, report]) {
    command.option(...withoutReadings).option("--tolerance <NAME=V...>", TOLERANCE_HELP, toleranceOption);
  }
  addCommon(show).action(async (folder: string, words: JobWeighWords) => {
    const { runJobShow } = await import("./run-job-show.js");
    await runJobShow(folder, words, output);
  });
  addCommon(report).action(async (folder: string, words: JobReportWords) => {
    const { runJobReport } = await import("./run-job-report.js");
    await runJobReport(folder, words, output);
  });
  addCommon(check).action(async (folder: string, words: JobCheckWords) => {
    const { runJobCheck } = await import("./run-job-check.js");
    await runJobCheck(folder, words, output);
  });
  addCommon(pack).action(async (folder: string, words: JobPackWords) => {
    const { runJobPack } = await import("./run-job-pack.js");
    await runJobPack(folder, words, output);
  });
  addCommon(unpack).action(async (file: string, folder: string, words: JobWords) => {
    const { runJobUnpack } = await import("./run-job-pack.js");
    await runJobUnpack(file, folder, words, output);
  });
  addCommon(index).action(async (folder: string, words: JobIndexWords) => {
    const { runJobIndex } = await import("./run-job-index.js");
    await runJobIndex(folder, words, output);
  });
  return [show, report, check, pack, unpack, index];
}
