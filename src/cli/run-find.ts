// cli: the options of `find` → frames read, analysed, printed and written.

import type { Note } from "../core/notes.js";
import { TOOL_VERSION } from "../core/tool-version.js";
import type { Analysis } from "../findings/analysis.js";
import { listFrameFiles } from "../read/list-frame-files.js";
import type { FrameSource } from "../read/read-frame-file.js";
import { readJsonFile } from "../read/read-json-file.js";
import { visibleText } from "../report/visible-text.js";
import { analyseFiles, type FilesToAnalyse, type ViewFiles } from "../store/analyse-files.js";
import type { CommandOutput } from "./command-output.js";
import type { FindWords } from "./find-command.js";
import { scaleOf } from "./frame-options.js";
import { withProgress } from "./frame-progress.js";
import { printFindings } from "./print-findings.js";
import { printVerdict } from "./print-verdict.js";
import { stageTimer } from "./stage-timer.js";

/** Run `find`: read, analyse, write the report if a folder was given, print.
 *  Files come before the printed result, so that whoever reads the result finds them there.
 *  @param clock milliseconds since the process began, for `--timings`.
 */
export async function runFind(
  words: FindWords,
  output: CommandOutput,
  // Not the clock of `performance`, which Node loads when it is first asked for.
  clock: () => number = () => 1000 * process.uptime(),
): Promise<void> {
  const timer = stageTimer(clock);
  timer.ended("start");
  const analysis = await analyseWords(words, output, timer.ended);
  if (words.out !== undefined) {
    const { writeReportFiles } = await import("../report/write-report-files.js");
    const files = await writeReportFiles(analysis, words.out);
    if (words.quiet !== true) await output.remark(`Report: ${visibleText(files.report)}\n`);
  }
  if (words.json === true) {
    const { findingsPieces } = await import("../report/serialise-findings.js");
    await output.result(findingsPieces(analysis.findings));
  } else if (words.quiet === true) await printVerdict(analysis.findings, output);
  else await output.result(printFindings(analysis.findings, output.styles));
  timer.ended("report");
  if (words.timings === true) await output.remark(timer.lines());
}

/** Read what the options name and analyse it. `demo` takes the same way.
 *  @param onStage told as each part of the work ends: `read`, and those of `analyse`.
 */
export async function analyseWords(
  words: FindWords,
  output: CommandOutput,
  onStage: (ended: string) => void = () => {},
): Promise<Analysis> {
  // The small files first: a slip in them shows before a long burst is read.
  const board = words.board === undefined ? null : await readBoard(words.board);
  const view = words.view === undefined ? null : await readView(words.view);
  const otherView = words.otherView === undefined ? null : await readView(words.otherView);
  const fileNotes: Note[] = [];
  const sourcesOf = async (patterns: readonly string[]): Promise<FrameSource[]> => {
    const found = await listFrameFiles(patterns);
    fileNotes.push(...found.notes);
    return found.files.map((file) => ({ path: file, name: file }));
  };
  const primary = {
    baseline: await sourcesOf(words.baseline),
    powered: await sourcesOf(words.powered),
    view,
  };
  const other =
    words.otherBaseline === undefined || words.otherPowered === undefined
      ? null
      : {
          baseline: await sourcesOf(words.otherBaseline),
          powered: await sourcesOf(words.otherPowered),
          view: otherView,
        };
  const files: FilesToAnalyse = {
    board,
    primary,
    other,
    fileNotes,
    scale: scaleOf(words) ?? null,
    unit: words.unit ?? null,
    rateHz: words.rate ?? null,
    afterS: words.after ?? null,
    cycleS: words.cycle ?? null,
    volts: words.volts ?? null,
    amps: words.amps ?? null,
    falseAlarmsPerFrame: words.falseAlarms ?? null,
  };
  return withProgress(output, words.quiet === true, (progress) =>
    analyseFiles(files, {
      toolVersion: TOOL_VERSION,
      onFile: progress.show,
      onRead: async () => {
        await progress.done();
        onStage("read");
      },
      onStage,
    }),
  );
}

/** What these need is loaded only where there is a board: the schemas' making takes some milliseconds. */
async function readBoard(file: string): Promise<NonNullable<FilesToAnalyse["board"]>> {
  const { parseBoardMap } = await import("../board/parse-board-map.js");
  const { board, notes } = parseBoardMap((await readJsonFile(file)).value, file);
  return { map: board, file, notes };
}

async function readView(file: string): Promise<NonNullable<ViewFiles["view"]>> {
  const { parseView } = await import("../board/parse-view.js");
  return { ...parseView((await readJsonFile(file)).value, file), file };
}
