// serve: an attempt of a job and a place in its frame → how the place warmed from frame to frame.
import type { Course } from "../api/attempts-schema.js";
import { ToolError } from "../core/errors.js";
import type { Raster } from "../core/raster.js";
import type { KeptFrame } from "../job/attempt-schema.js";
import { type FileFrames, type FrameSource, readFrameFile } from "../read/read-frame-file.js";
import { burstTimes } from "../rise/burst-times.js";
import { frameSources } from "../store/analyse-attempt.js";
import { openJob } from "../store/open-job.js";
import { WORK_SHELF } from "./work-shelf.js";
import type { DoWork } from "./works.js";

/** Files read at a time. */
const AT_ONCE = 4;
/** The attempt whose frames are on the shelf: one place after the other is looked at in it. */
let shelved = "";

/** Follow a disc through the powered frames, against the mean of the baseline there.
 *  @throws ToolError E_BENCH_NONE if there is no such view; those of opening and reading. */
export const attemptCourse: DoWork<"course"> = async ({
  folder,
  number,
  view,
  x,
  y,
  radius,
}): Promise<Course> => {
  const job = await openJob(folder);
  const attempt = job.attempts.find((one) => one.attempt.number === number)?.attempt;
  const kept = attempt?.views[view];
  if (attempt === undefined || kept === undefined) {
    throw new ToolError("E_BENCH_NONE", {
      problem: `attempt ${number} has no such view`,
      fix: "Load the page again",
    });
  }
  const { scale, unit, rateHz, cycleS } = attempt.options;
  const key = `${folder} ${number} ${view}`;
  if (key !== shelved) WORK_SHELF.clear();
  shelved = key;
  const options = { scale: scale ?? undefined, unit: unit ?? undefined };
  const readOne = async (source: FrameSource): Promise<FileFrames> => {
    const known = WORK_SHELF.find(source, options);
    if (known !== null) return known;
    const file = await readFrameFile(source, options);
    WORK_SHELF.put(source, options, file);
    return file;
  };
  const read = async (frames: readonly KeptFrame[]): Promise<(number | null)[]> => {
    const sources = frameSources(frames, folder);
    const means: (number | null)[] = [];
    for (let start = 0; start < sources.length; start += AT_ONCE) {
      for (const file of await Promise.all(sources.slice(start, start + AT_ONCE).map(readOne)))
        means.push(...file.frames.map(({ raster }) => meanOver(raster, x, y, radius).mean));
    }
    return means;
  };
  const before = (await read(kept.baseline)).filter((value) => value !== null);
  const baseline = before.length === 0 ? null : before.reduce((sum, value) => sum + value, 0) / before.length;
  const during = await read(kept.powered);
  return {
    timesS: rateHz === null ? null : timesOf(during.length, rateHz, cycleS !== null),
    risesK: during.map((value) => (value === null || baseline === null ? null : value - baseline)),
    pixels: pixelsIn(x, y, radius),
  };
};

/** A burst begins at power-on, as its findings count; a supply that is switched on and off has no such moment. */
function timesOf(count: number, rateHz: number, isCycled: boolean): number[] {
  return isCycled ? Array.from({ length: count }, (_, k) => k / rateHz) : [...burstTimes(count, rateHz)];
}

function meanOver({ width, height, data }: Raster, x: number, y: number, radius: number) {
  let sum = 0;
  let count = 0;
  for (let j = Math.max(0, Math.ceil(y - radius)); j <= Math.min(height - 1, Math.floor(y + radius)); j++) {
    for (let i = Math.max(0, Math.ceil(x - radius)); i <= Math.min(width - 1, Math.floor(x + radius)); i++) {
      const value = data[j * width + i]!;
      if ((i - x) ** 2 + (j - y) ** 2 > radius ** 2 || Number.isNaN(value)) continue;
      sum += value;
      count++;
    }
  }
  return { mean: count === 0 ? null : sum / count };
}

function pixelsIn(x: number, y: number, radius: number): number {
  let count = 0;
  for (let j = Math.ceil(y - radius); j <= y + radius; j++)
    for (let i = Math.ceil(x - radius); i <= x + radius; i++)
      if ((i - x) ** 2 + (j - y) ** 2 <= radius ** 2) count++;
  return count;
}
