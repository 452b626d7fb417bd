// cli: the options of `watch` → a folder watched until Ctrl-C, each attempt added, printed and put into the report.
import { watch } from "node:fs";
import { relative, resolve, sep } from "node:path";
import { ToolError } from "../core/errors.js";
import { momentOf } from "../job/moment-of.js";
import { visibleText } from "../report/visible-text.js";
import { addAttempt } from "../store/add-attempt.js";
import { attemptName } from "../store/job-paths.js";
import { claimWatch } from "../watch/claim-watch.js";
import { readRecord, setFileAside } from "../watch/job-record.js";
import { listWatched } from "../watch/list-watched.js";
import type { PlannedAttempt } from "../watch/plan-attempts.js";
import { readWatched } from "../watch/read-watched.js";
import { watchFolder } from "../watch/watch-folder.js";
import { WATCH_DEFAULTS, type WatchOptions, type WatchPorts } from "../watch/watch-ports.js";
import { askRole } from "./ask-role.js";
import { attemptConditions, attemptOptions } from "./attempt-words.js";
import type { CommandOutput } from "./command-output.js";
import { scaleOf } from "./frame-options.js";
import { printFindings } from "./print-findings.js";
import { printVerdict } from "./print-verdict.js";
import { printAttemptNotes } from "./say-outcome.js";
import type { WatchWords } from "./watch-command.js";
import { eventFacts, eventText, listNames } from "./watch-events.js";

/** Watch a folder.
 *  @throws ToolError E_WATCH_FOLDER, E_WATCH_TWICE, and those of opening the job. */
export async function runWatch(folder: string, words: WatchWords, output: CommandOutput): Promise<void> {
  refuseInside(folder, words.job);
  const release = await openClaim(folder, words);
  const signal = untilStopped(folder);
  const counts = { added: 0 };
  const ports: WatchPorts = {
    list: () => listWatched(folder, words.job),
    read: (file) => readWatched(file.path, { scale: scaleOf(wordsOfFrames(words)), unit: words.unit }),
    record: () => readRecord(words.job),
    add: async (planned) => {
      await addPlanned(planned, words, output);
      counts.added++;
      if (words.report) await refreshReport(words, output);
    },
    setAside: (file, sha256, fault) => setFileAside(words.job, file, sha256, fault),
    ask: askRole(signal.stop),
    say: async (event) => {
      if (words.json === true) await output.result(`${JSON.stringify(eventFacts(event))}\n`);
      const text = eventText(event);
      if (text !== null && !(words.quiet === true && event.type === "waiting")) {
        await output.remark(`${visibleText(text)}\n`);
      }
    },
    now: () => performance.now(),
    pause: signal.pause,
    isStopped: signal.isStopped,
  };
  try {
    if (words.quiet !== true && words.json !== true) {
      await output.remark(
        `Watching ${visibleText(folder)} for the job ${visibleText(words.job)}${words.once === true ? "" : "; Ctrl-C ends"}.\n`,
      );
    }
    await watchFolder(ports, optionsOf(words));
    if (words.quiet !== true && words.json !== true) {
      const count = counts.added === 1 ? "1 attempt was" : `${counts.added} attempts were`;
      await output.remark(`Ended: ${count} added.\n`);
    }
  } finally {
    signal.close();
    await release();
  }
}

/** The folder and the job are looked at before the claim, so that a slip leaves nothing behind. */
async function openClaim(folder: string, words: WatchWords) {
  await listWatched(folder, words.job);
  await readRecord(words.job);
  return claimWatch(words.job);
}

function optionsOf(words: WatchWords): WatchOptions {
  const ms = (seconds: number | undefined, otherwise: number): number =>
    seconds === undefined ? otherwise : seconds * 1000;
  const settleMs = ms(words.settle, WATCH_DEFAULTS.settleMs);
  return {
    settleMs,
    gapMs: ms(words.gap, WATCH_DEFAULTS.gapMs),
    patienceMs: ms(words.patience, WATCH_DEFAULTS.patienceMs),
    pollMs: Math.min(WATCH_DEFAULTS.pollMs, Math.max(50, settleMs / 2)),
    tell: words.order === true ? "order" : "name",
    patterns: { baseline: words.baselineNames, powered: words.poweredNames },
    older: words.older === true,
    once: words.once === true,
  };
}

async function addPlanned(
  { baseline, powered }: PlannedAttempt,
  words: WatchWords,
  output: CommandOutput,
): Promise<void> {
  const added = await addAttempt(words.job, {
    baseline: baseline.frames.map((frame) => frame.path),
    powered: powered.frames.map((frame) => frame.path),
    view: words.view,
    board: words.board,
    options: attemptOptions(wordsOfFrames(words)),
    conditions: attemptConditions(words),
    at: momentOf(new Date(powered.frames[0]!.mtimeMs)),
  });
  const { attempt, job } = added;
  const { number } = attempt.attempt;
  const report = `${words.job}/${attemptName(number)}/report.html`;
  const { verdict } = attempt.findings;
  const [baselineNames, poweredNames] = [baseline, powered].map((group) =>
    group.frames.map(({ name }) => name),
  );
  await printAttemptNotes(added, words, output);
  if (words.json === true) {
    const facts = {
      type: "attempt",
      number,
      baseline: baselineNames,
      powered: poweredNames,
      verdict,
      report,
    };
    await output.result(`${JSON.stringify(facts)}\n`);
  } else if (words.quiet === true) await printVerdict(attempt.findings, output);
  else {
    await output.result(
      `${visibleText(
        `Attempt ${number} of ${job.header.device}, powered ${listNames(poweredNames!)}, baseline ${listNames(baselineNames!)}: ${report}`,
      )}\n\n${printFindings(attempt.findings, output.styles)}\n`,
    );
  }
}

/** The report is made of the job at any time: its faults stop no frame. */
async function refreshReport(words: WatchWords, output: CommandOutput): Promise<void> {
  try {
    const { runJobReport } = await import("./run-job-report.js");
    await runJobReport(words.job, { for: "repairer", quiet: true }, { ...output, result: async () => {} });
  } catch (error) {
    if (!(error instanceof ToolError)) throw error;
    await output.remark(`The report was not refreshed: ${visibleText(error.message)}\n`);
  }
}

function wordsOfFrames(words: WatchWords) {
  return { ...words, baseline: [], powered: [] };
}

/** A job that watched itself would take its own copies for new frames. */
function refuseInside(folder: string, job: string): void {
  const way = relative(resolve(job), resolve(folder));
  if (way !== "" && (way === ".." || way.startsWith(`..${sep}`) || resolve(way) === way)) return;
  throw new ToolError("E_WATCH_FOLDER", {
    problem: "the folder to be watched is the job's own, or lies in it",
    fix: "Watch the folder that the camera's computer writes to",
    place: { file: folder },
  });
}

/** Ctrl-C, an ordered end and changes in the folder end a pause early. A second Ctrl-C ends the process at once. */
function untilStopped(folder: string) {
  let stopped = false;
  let wake: () => void = () => {};
  const stop = (): void => {
    stopped = true;
    wake();
  };
  process.once("SIGINT", stop);
  process.once("SIGTERM", stop);
  let watcher: ReturnType<typeof watch> | null = null;
  try {
    watcher = watch(folder, () => wake());
    // Polling goes on without it: some drives tell of no changes.
    watcher.on("error", () => {});
  } catch {
    watcher = null;
  }
  return {
    stop,
    isStopped: () => stopped,
    pause: (ms: number): Promise<void> =>
      new Promise((done) => {
        if (stopped) return done();
        const timer = setTimeout(() => wake(), ms);
        wake = () => {
          clearTimeout(timer);
          done();
        };
      }),
    close: (): void => {
      watcher?.close();
      process.off("SIGINT", stop);
      process.off("SIGTERM", stop);
    },
  };
}
