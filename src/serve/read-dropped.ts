// serve: a file that was dropped → what it is, what its frames show, and what is wrong with it.
import sharp from "sharp";
import type { InboxFrame } from "../api/inbox-schema.js";
import { ToolError } from "../core/errors.js";
import { readFrameSources } from "../read/read-frames.js";
import { errorWords } from "./error-words.js";
import { sortOfJson } from "./json-sort.js";
import type { DoWork } from "./works.js";

/** Faults of a picture that holds no temperatures and may be one to draw over. */
const PHOTO_FAULTS: readonly string[] = ["E_FRAME_TYPE", "E_PICTURE_COLOUR", "E_PICTURE_ALPHA"];
/** Read a dropped file, and say what is wrong with it in place of throwing. */
export const readDropped: DoWork<"readDropped"> = async (file) => {
  const sort = await sortOfJson(file.path, file.name);
  if (sort !== null) return { sort, frame: null, notes: [], error: null };
  try {
    const { frames, scale, notes } = await readFrameSources([file]);
    const { width, height, data } = frames[0]!.raster;
    const from = file.beside?.from ?? null;
    const frame: InboxFrame = {
      width,
      height,
      frames: frames.length,
      ...levelsOf(data),
      noiseK: noiseOf(data, width),
      scaleFrom: scale === null ? null : (from ?? "the picture itself"),
    };
    return { sort: "frame", frame, notes: [...notes], error: null };
  } catch (error) {
    if (!(error instanceof ToolError)) throw error;
    if (PHOTO_FAULTS.includes(error.code) && (await isPicture(file.path))) {
      return { sort: "photo", frame: null, notes: [], error: null };
    }
    return { sort: "unreadable", frame: null, notes: [], error: errorWords(error) };
  }
};

async function isPicture(path: string): Promise<boolean> {
  try {
    const { width, height } = await sharp(path).metadata();
    return width > 0 && height > 0;
  } catch {
    return false;
  }
}

function levelsOf(data: Float32Array) {
  const sorted = data.filter((value) => !Number.isNaN(value)).sort();
  const at = (share: number): number => sorted[Math.round(share * (sorted.length - 1))]!;
  return {
    lowC: at(0),
    medianC: at(0.5),
    highC: at(1),
    contrastK: at(0.995) - at(0.5),
    missing: data.length - sorted.length,
  };
}

/** From the median of the differences between neighbours in a row: edges of parts are too few to move it. The median of a
 *  normal difference is 0.6745 of its standard deviation, which is √2 times that of a pixel. */
function noiseOf(data: Float32Array, width: number): number | null {
  const differences = new Float32Array(data.length);
  let count = 0;
  for (let i = 1; i < data.length; i++) {
    const difference = Math.abs(data[i]! - data[i - 1]!);
    if (i % width !== 0 && !Number.isNaN(difference)) differences[count++] = difference;
  }
  if (count < 16) return null;
  return differences.subarray(0, count).sort()[count >> 1]! / 0.6745 / Math.SQRT2;
}
