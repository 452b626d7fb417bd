// cli: the options of `find` → frames read, analysed, printed and written.
import type { BoardMap, View } from "../board/board-schema.js";
import { parseBoardMap } from "../board/parse-board-map.js";
import { parseView } from "../board/parse-view.js";
import { type Note, note } from "../core/notes.js";
import { analyse } from "../findings/analyse.js";
import type { Analysis } from "../findings/analysis.js";
import { linearScale } from "../frames/parse-scale-option.js";
import type { Scale } from "../frames/scale.js";
import { readFrames } from "../read/read-frames.js";
import { readJsonFile } from "../read/read-json-file.js";
import { serialiseFindings } from "../report/serialise-findings.js";
import { visibleText } from "../report/visible-text.js";
import type { CommandOutput } from "./command-output.js";
import type { FindWords } from "./find-command.js";
import { frameProgress } from "./frame-progress.js";
import { printFindings } from "./print-findings.js";
import { toolVersion } from "./tool-version.js";

/** Run `find`: read, analyse, write the report if a folder was given, print.
 *  Files come before the printed result, so that whoever reads the result finds them there.
 */
export async function runFind(words: FindWords, output: CommandOutput): Promise<void> {
  const analysis = await analyseWords(words, output);
  if (words.out !== undefined) {
    const { writeReportFiles } = await import("../report/write-report-files.js");
    const files = await writeReportFiles(analysis, words.out);
    if (words.quiet !== true) await output.remark(`Report: ${visibleText(files.report)}\n`);
  }
  if (words.json === true) await output.result(serialiseFindings(analysis.findings));
  else if (words.quiet === true) await output.result(`${visibleText(analysis.findings.verdict)}\n`);
  else await output.result(printFindings(analysis.findings, output.styles));
}

/** Read what the options name and analyse it. `demo` takes the same way. */
export async function analyseWords(words: FindWords, output: CommandOutput): Promise<Analysis> {
  // The small files first: a slip in them shows before a long burst is read.
  const board = words.board === undefined ? null : await readBoard(words.board);
  const view = words.view === undefined ? null : await readView(words.view);
  const otherView = words.otherView === undefined ? null : await readView(words.otherView);
  const progress = frameProgress(output, words.quiet === true);
  const reading = { unit: words.unit, scale: scaleOf(words), onFile: progress.show };
  const baseline = await readFrames(words.baseline, reading);
  const powered = await readFrames(words.powered, reading);
  const otherBaseline = await readOther(words.otherBaseline, reading);
  const otherPowered = await readOther(words.otherPowered, reading);
  await progress.done();
  const notes: Note[] = [
    ...(board?.notes ?? []),
    ...(view?.notes ?? []),
    ...baseline.notes,
    ...powered.notes,
    ...averagedNote(powered.frames.length, words),
    ...(otherView?.notes ?? []),
    ...(otherBaseline?.notes ?? []),
    ...(otherPowered?.notes ?? []),
    ...averagedNote(otherPowered?.frames.length ?? 0, words, " of the other view"),
  ];
  return analyse(
    {
      baseline: baseline.frames,
      powered: powered.frames,
      board: board?.board ?? null,
      boardFile: words.board ?? null,
      view: view?.view ?? null,
      viewFile: words.view ?? null,
      otherSide:
        otherView === null || otherBaseline === null || otherPowered === null
          ? null
          : {
              baseline: otherBaseline.frames,
              powered: otherPowered.frames,
              view: otherView.view,
              viewFile: words.otherView ?? null,
              rateHz: words.rate ?? null,
            },
      scale: baseline.scale ?? powered.scale,
      rateHz: words.rate ?? null,
      cycleS: words.cycle ?? null,
      volts: words.volts ?? null,
      amps: words.amps ?? null,
      notes,
    },
    {
      toolVersion: toolVersion(),
      ...(words.falseAlarms === undefined ? {} : { falseAlarmsPerFrame: words.falseAlarms }),
    },
  );
}

async function readBoard(file: string): Promise<{ board: BoardMap; notes: Note[] }> {
  return parseBoardMap((await readJsonFile(file)).value, file);
}

async function readView(file: string): Promise<{ view: View; notes: Note[] }> {
  return parseView((await readJsonFile(file)).value, file);
}

function readOther(
  files: readonly string[] | undefined,
  reading: Parameters<typeof readFrames>[1],
): ReturnType<typeof readFrames> | null {
  return files === undefined ? null : readFrames(files, reading);
}

/** The scale that the options give, in °C; undefined if they give none. */
function scaleOf(words: FindWords): Scale | undefined {
  if (words.scale !== undefined) return words.scale;
  if (words.gain === undefined) return undefined;
  const offset = words.offset ?? 0;
  if (words.unit === "K") return linearScale(words.gain, offset - 273.15);
  if (words.unit === "F") return linearScale((words.gain * 5) / 9, ((offset - 32) * 5) / 9);
  return linearScale(words.gain, offset);
}

function averagedNote(count: number, words: FindWords, whose = ""): Note[] {
  if (count < 2 || words.rate !== undefined) return [];
  return [
    note(
      "N_POWERED_AVERAGED",
      `The ${count} powered frames${whose} were averaged. If they are a burst from power-on, give --rate HZ.`,
    ),
  ];
}
