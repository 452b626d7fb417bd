// store: files of frames, board and view → findings, by the way that `find`, the job folder and its check all take.
import type { BoardMap, View } from "../board/board-schema.js";
import { formatSeconds } from "../core/format-quantity.js";
import { type Note, note } from "../core/notes.js";
import { analyse } from "../findings/analyse.js";
import type { OnStage } from "../findings/analyse-options.js";
import type { Analysis } from "../findings/analysis.js";
import type { Scale } from "../frames/scale.js";
import type { TemperatureUnit } from "../frames/temperature-unit.js";
import { clearGarbage } from "../read/clear-garbage.js";
import type { FrameShelf } from "../read/frame-shelf.js";
import { type FrameSpool, openFrameSpool } from "../read/frame-spool.js";
import type { FrameSource } from "../read/read-frame-file.js";
import { readFrameSources } from "../read/read-frames.js";

/** Frames of one camera position. */
export interface ViewFiles {
  readonly baseline: readonly FrameSource[];
  readonly powered: readonly FrameSource[];
  /** How the first baseline frame sees the board; null without a board. */
  readonly view: { readonly view: View; readonly file: string; readonly notes: readonly Note[] } | null;
}

/** What is analysed, and what was told of it. */
export interface FilesToAnalyse {
  readonly board: { readonly map: BoardMap; readonly file: string; readonly notes: readonly Note[] } | null;
  readonly primary: ViewFiles;
  readonly other: ViewFiles | null;
  /** What was noted where the files of the frames were looked for. */
  readonly fileNotes?: readonly Note[];
  readonly scale: Scale | null;
  readonly unit: TemperatureUnit | null;
  readonly rateHz: number | null;
  /** From power-on to powered frames that are averaged, s; null or left out where not known. */
  readonly afterS?: number | null;
  readonly cycleS: number | "find" | null;
  readonly volts: number | null;
  readonly amps: number | null;
  /** Null: the default of `analyse`. */
  readonly falseAlarmsPerFrame: number | null;
}

/** Read frames and analyse them.
 *  @param options.onFile called after each frame that was read; `onRead` after the last one, `onStage` as `analyse`
 *  says.
 *  @throws ToolError those of `readFrames` and `analyse`.
 */
export async function analyseFiles(
  files: FilesToAnalyse,
  options: {
    toolVersion: string;
    onFile?: (read: number, total: number) => void;
    onRead?: () => void | Promise<void>;
    onStage?: OnStage;
    /** Where frames of files may be that were read before. */
    shelf?: FrameShelf | undefined;
  },
): Promise<Analysis> {
  const spool = openFrameSpool();
  try {
    return await analyseWith(spool, files, options);
  } finally {
    spool.close();
  }
}

async function analyseWith(
  spool: FrameSpool,
  files: FilesToAnalyse,
  options: Parameters<typeof analyseFiles>[1],
): Promise<Analysis> {
  const { board, primary, other } = files;
  const read = (sources: readonly FrameSource[]) =>
    readFrameSources(sources, {
      unit: files.unit ?? undefined,
      scale: files.scale ?? undefined,
      onFile: options.onFile,
      spool,
      shelf: options.shelf,
    });
  const baseline = await read(primary.baseline);
  const powered = await read(primary.powered);
  const otherBaseline = other === null ? null : await read(other.baseline);
  const otherPowered = other === null ? null : await read(other.powered);
  await options.onRead?.();
  const notes: Note[] = [
    ...(board?.notes ?? []),
    ...(primary.view?.notes ?? []),
    ...(files.fileNotes ?? []),
    ...baseline.notes,
    ...powered.notes,
    ...averagedNote(powered.frames.length, files, ""),
    ...rateNote(powered.frames.length, files),
    ...(other?.view?.notes ?? []),
    ...(otherBaseline?.notes ?? []),
    ...(otherPowered?.notes ?? []),
    ...averagedNote(otherPowered?.frames.length ?? 0, files, " of the other view"),
  ];
  return analyse(
    {
      baseline: baseline.frames,
      powered: powered.frames,
      board: board?.map ?? null,
      boardFile: board?.file ?? null,
      view: primary.view?.view ?? null,
      viewFile: primary.view?.file ?? null,
      otherSide:
        other === null || other.view === null || otherBaseline === null || otherPowered === null
          ? null
          : {
              baseline: otherBaseline.frames,
              powered: otherPowered.frames,
              view: other.view.view,
              viewFile: other.view.file,
              rateHz: files.rateHz,
            },
      scale: baseline.scale ?? powered.scale,
      rateHz: files.rateHz,
      afterS: files.afterS ?? null,
      cycleS: files.cycleS,
      volts: files.volts,
      amps: files.amps,
      notes,
    },
    {
      toolVersion: options.toolVersion,
      ...(files.falseAlarmsPerFrame === null ? {} : { falseAlarmsPerFrame: files.falseAlarmsPerFrame }),
    },
    (ended) => {
      // What a stage of a long burst leaves behind is not to wait for the next one's.
      if (spool.isFull) clearGarbage();
      options.onStage?.(ended);
    },
  );
}

/** Say that one frame makes no burst. */
function rateNote(count: number, { rateHz, cycleS }: Pick<FilesToAnalyse, "rateHz" | "cycleS">): Note[] {
  if (count !== 1 || rateHz === null || cycleS !== null) return [];
  return [
    note(
      "N_RATE_UNUSED",
      "A rate was given for one powered frame, which is no burst: it was taken as a single one. Give all frames from power-on, or in place of the rate how many seconds after power-on it was taken (--after).",
    ),
  ];
}

/** Say that frames were averaged, and how to say when they were taken: in one place, for both ways exclude each
 *  other. */
function averagedNote(
  count: number,
  { rateHz, afterS = null }: Pick<FilesToAnalyse, "rateHz" | "afterS">,
  whose: string,
): Note[] {
  if (count < 2 || rateHz !== null) return [];
  const timing =
    afterS === null
      ? "If they follow each other from power-on, give --rate HZ; if all were taken about as long after it, say how many seconds by --after. Either makes the watts better known."
      : `All count as taken ${formatSeconds(afterS)} after power-on. If they follow each other from power-on, give --rate HZ in place of --after.`;
  return [note("N_POWERED_AVERAGED", `The ${count} powered frames${whose} were averaged. ${timing}`)];
}
