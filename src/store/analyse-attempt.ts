// store: an attempt whose frames are kept → its analysis, the same whenever and wherever it is made.
import { parseBoardMap } from "../board/parse-board-map.js";
import { parseView } from "../board/parse-view.js";
import type { Analysis } from "../findings/analysis.js";
import type { Attempt, KeptFrame } from "../job/attempt-schema.js";
import type { FrameSource } from "../read/read-frame-file.js";
import { analyseFiles, type ViewFiles } from "./analyse-files.js";
import { frameName, pathIn } from "./job-paths.js";

/** What of an attempt says how it is analysed. */
export type AttemptPlan = Pick<Attempt, "board" | "views" | "options" | "conditions">;

/** Analyse an attempt. All names in the findings are those that the attempt gives its files, never paths.
 *  @param folder where `frames/` is.
 *  @param board the map's JSON as it lies in the file: what `parseBoardMap` has to say of it belongs to the findings.
 *  @param views the same of each view; null where it has none.
 */
export async function analyseAttempt(
  plan: AttemptPlan,
  folder: string,
  board: unknown,
  views: readonly unknown[],
  options: Pick<Parameters<typeof analyseFiles>[1], "toolVersion" | "onFile" | "shelf">,
): Promise<Analysis> {
  const sources = (frames: readonly KeptFrame[]): FrameSource[] => frameSources(frames, folder);
  const filesOf = (k: number): ViewFiles => {
    const { baseline, powered, view } = plan.views[k]!;
    return {
      baseline: sources(baseline),
      powered: sources(powered),
      view: view === null ? null : { ...parseView(views[k], view.file), file: view.file },
    };
  };
  const { scale, unit, rateHz, afterS, cycleS, falseAlarmsPerFrame } = plan.options;
  const { volts, amps } = plan.conditions;
  return analyseFiles(
    {
      board: plan.board === null ? null : mapOf(board, plan.board.file),
      primary: filesOf(0),
      other: plan.views.length > 1 ? filesOf(1) : null,
      scale,
      unit,
      rateHz,
      ...(afterS === undefined ? {} : { afterS }),
      cycleS,
      falseAlarmsPerFrame,
      // The books need both; one alone is kept with the attempt and told, no more.
      volts: volts !== null && amps !== null ? volts : null,
      amps: volts !== null && amps !== null ? amps : null,
    },
    options,
  );
}

function mapOf(value: unknown, file: string) {
  const { board, notes } = parseBoardMap(value, file);
  return { map: board, notes, file };
}

/** Say where kept frames are, and what they are called. */
export function frameSources(frames: readonly KeptFrame[], folder: string): FrameSource[] {
  return frames.map((frame) => ({
    path: pathIn(folder, frameName(frame)),
    name: frame.name,
    beside: frame.scaleBeside ?? null,
    sha256: frame.sha256,
  }));
}
