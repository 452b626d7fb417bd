// serve: a file that was dropped → what it is, what its frames show, and what is wrong with it.
import type { InboxFrame } from "../api/inbox-schema.js";
import { ToolError } from "../core/errors.js";
import { median, quantile } from "../numeric/median.js";
import { fileStamp } from "../read/known-hashes.js";
import { type ReadFrames, readFrameSources } from "../read/read-frames.js";
import { errorWords } from "./error-words.js";
import { isJsonName, sortOfJson } from "./json-sort.js";
import { isPhoto } from "./photo-file.js";
import { WORK_HASHES, WORK_SHELF } from "./work-shelf.js";
import type { DoWork, DroppedFile } from "./works.js";

/** Faults of a picture that holds no temperatures and may be one to draw over. */
const PHOTO_FAULTS: readonly string[] = [
  "E_FRAME_TYPE",
  "E_FRAME_LARGE",
  "E_PICTURE_COLOUR",
  "E_PICTURE_ALPHA",
];
/** Of a JSON file that is none of those that are looked for. */
const NO_KIND = errorWords(
  new ToolError("E_FRAME_TYPE", {
    problem: "a board map, a view or a scale was expected in this JSON file, but it is none of them",
    fix: "Leave it out, or write its kind at its start",
  }),
);

/** Read a dropped file, and say what is wrong with it in place of throwing. */
export const readDropped: DoWork<"readDropped"> = async (file) => {
  const sort = await sortOfJson(file.path, file.name);
  if (sort !== null) return { sort, frame: null, notes: [], error: null };
  if (isJsonName(file.name)) return { sort: "unreadable", frame: null, notes: [], error: NO_KIND };
  try {
    const read = await readHashed(file);
    WORK_SHELF.put(file, {}, read);
    const { frames, scale, notes } = read;
    const { width, height, data } = frames[0]!.raster;
    const from = file.beside?.from ?? null;
    const frame: InboxFrame = {
      width,
      height,
      frames: frames.length,
      ...levelsOf(data, width),
      noiseK: noiseOf(data, width),
      scaleFrom: scale === null ? null : (from ?? "the picture itself"),
    };
    return { sort: "frame", frame, notes: [...notes], error: null };
  } catch (error) {
    if (!(error instanceof ToolError)) throw error;
    const photo = PHOTO_FAULTS.includes(error.code) ? await isPhoto(file.path).catch(errorWords) : false;
    if (photo === true) return { sort: "photo", frame: null, notes: [], error: null };
    return { sort: "unreadable", frame: null, notes: [], error: photo === false ? errorWords(error) : photo };
  }
};

/** Read a file; what was hashed as it came, and is as it was, is not hashed again. */
async function readHashed(file: DroppedFile): Promise<ReadFrames> {
  const stamp = await fileStamp(file.path);
  const hashedAs = stamp !== null && file.received?.stamp === stamp ? file.received.sha256 : undefined;
  const read = await readFrameSources([{ ...file, hashedAs }]);
  const sha256 = read.frames[0]?.sha256;
  if (stamp !== null && sha256 && (hashedAs !== undefined || (await fileStamp(file.path)) === stamp))
    WORK_HASHES.note(stamp, sha256);
  return read;
}

/** Working memory for selections: frames of one size come one after the other. */
let scratch = new Float64Array(0);
let differences = new Float32Array(0);

/** Of a larger frame only some of the rows are looked at for what is in the middle of all: so many differences tell
 *  their median to half a percent, and so many readings a quantile more closely than the noise. */
const MOST_PIXELS = 1 << 16;

/** Rows that are looked at: every so many. */
const rowStep = (data: Float32Array): number => Math.max(1, Math.floor(data.length / MOST_PIXELS));

/** Lowest and highest are those of all readings. */
function levelsOf(data: Float32Array, width: number) {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  let missing = 0;
  for (let i = 0; i < data.length; i++) {
    const value = data[i]!;
    // All but a few lie between those that were met before.
    if (value >= low && value <= high) continue;
    if (value < low) low = value;
    if (value > high) high = value;
    if (Number.isNaN(value)) missing++;
  }
  const some = someRows(data, width);
  if (scratch.length < some.length) scratch = new Float64Array(some.length);
  const medianC = median(some, scratch);
  return { lowC: low, medianC, highC: high, contrastK: quantile(some, 0.995, scratch) - medianC, missing };
}

/** Readings of some of the rows, all of a frame that is not large; a frame whose readings miss there is looked at
 *  whole. */
function someRows(data: Float32Array, width: number): Float32Array {
  const step = rowStep(data);
  if (step === 1) return data;
  const rows = Math.ceil(data.length / width / step);
  const some = new Float32Array(rows * width);
  for (let k = 0; k < rows; k++) some.set(data.subarray(k * step * width, (k * step + 1) * width), k * width);
  return some.every(Number.isNaN) ? data : some;
}

/** From the median of the differences between neighbours in a row: edges of parts are too few to move it. The median of
 *  a normal difference is 0.6745 of its standard deviation, which is √2 times that of a pixel. */
function noiseOf(data: Float32Array, width: number): number | null {
  const height = data.length / width;
  const step = rowStep(data);
  if (differences.length < data.length) differences = new Float32Array(data.length);
  let count = 0;
  for (let y = 0; y < height; y += step) {
    for (let i = y * width + 1; i < (y + 1) * width; i++) {
      const difference = Math.abs(data[i]! - data[i - 1]!);
      if (!Number.isNaN(difference)) differences[count++] = difference;
    }
  }
  if (count < 16) return null;
  return median(differences.subarray(0, count), scratch) / 0.6745 / Math.SQRT2;
}
