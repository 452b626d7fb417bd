// frames: a frame → an error if its temperatures can't be, notes if they are doubtful.
import { countOf } from "../core/count-of.js";
import { ToolError } from "../core/errors.js";
import { type Note, note } from "../core/notes.js";
import { kernelsFor } from "../numeric/kernels.js";
import type { Frame } from "./frame.js";
import { pixelText } from "./pixel-text.js";

/** What a frame is held against. */
const FRAME_LIMITS = Object.freeze({
  /** No bench and no thermal camera for boards goes below; common practice, no source. */
  lowestC: -100,
  /** Above the melting point of copper's solders, of glass and of silver: no board is there any more. */
  highestC: 1000,
  /** Share of the pixels at one end of the scale from which on the frame counts as saturated. */
  saturatedShare: 0.01,
});

/** Check every value of a frame.
 *  Infinite values are an error (no sensor reads them; a division by zero upstream does), NaN is no reading.
 *  @returns N_SATURATED if more than 1 % of the pixels stand at an end of the scale.
 *  @throws ToolError E_FRAME_EMPTY if there is no reading at all; E_FRAME_INFINITE or E_FRAME_RANGE with the
 *    count, the first place and the likely cause.
 */
export function checkFrame(frame: Frame): Note[] {
  const { data, width } = frame.raster;
  if (isPlausible(data)) return saturationNotes(frame);
  let readings = 0;
  let infinite = 0;
  let firstInfinite = -1;
  let outside = 0;
  let firstOutside = -1;
  for (let i = 0; i < data.length; i++) {
    const valueC = data[i]!;
    if (valueC >= FRAME_LIMITS.lowestC && valueC <= FRAME_LIMITS.highestC) readings++;
    else if (valueC === Infinity || valueC === -Infinity) {
      if (infinite++ === 0) firstInfinite = i;
    } else if (!Number.isNaN(valueC)) {
      if (outside++ === 0) firstOutside = i;
    }
  }
  const place = { file: placeName(frame) };
  if (infinite > 0) {
    throw new ToolError("E_FRAME_INFINITE", {
      problem: `${countOf(infinite, "value")} of the frame ${infinite === 1 ? "is" : "are"} infinite, the first at pixel ${pixelText(firstInfinite, width)}`,
      fix: "Export the frame again; write an empty field or NaN where there is no reading",
      place,
    });
  }
  if (outside > 0) {
    const first = data[firstOutside]!;
    throw new ToolError("E_FRAME_RANGE", {
      problem: `${countOf(outside, "value")} of the frame ${outside === 1 ? "lies" : "lie"} outside ${FRAME_LIMITS.lowestC} … ${FRAME_LIMITS.highestC} °C, the first at pixel ${pixelText(firstOutside, width)}: ${Number(first.toPrecision(7))}`,
      fix: likelyCause(frame, outside / (outside + readings)),
      place,
    });
  }
  if (readings === 0) {
    throw new ToolError("E_FRAME_EMPTY", {
      problem: `none of the ${data.length} pixels of the frame has a reading`,
      fix: "Export the frame again",
      place,
    });
  }
  return saturationNotes(frame);
}

/** True if every pixel has a reading within the limits: most frames are so, and this is told soonest. */
function isPlausible(data: Float32Array): boolean {
  const { lowestC, highestC } = FRAME_LIMITS;
  const kernels = kernelsFor(data.length);
  if (kernels !== null) {
    return data.length > 0 && kernels.run.allBetween(kernels.put(data), data.length, lowestC, highestC) === 1;
  }
  for (let i = 0; i < data.length; i++) if (!(data[i]! >= lowestC && data[i]! <= highestC)) return false;
  return data.length > 0;
}

/** The file of a frame, and which of its frames, for messages; undefined for a frame made in memory. */
function placeName(frame: Frame): string | undefined {
  if (frame.file === null) return undefined;
  return frame.index === 0 ? frame.file : `${frame.file}, frame ${frame.index + 1}`;
}

function saturationNotes(frame: Frame): Note[] {
  if (frame.saturated === null) return [];
  const pixels = frame.raster.data.length;
  const notes: Note[] = [];
  for (const [end, at] of [
    ["lowest", frame.saturated.low],
    ["highest", frame.saturated.high],
  ] as const) {
    if (at <= FRAME_LIMITS.saturatedShare * pixels) continue;
    notes.push(
      note(
        "N_SATURATED",
        `${placeName(frame) ?? "A frame"}: ${at} of ${pixels} pixels (${((100 * at) / pixels).toFixed(1)} %) stand at the ${end} level of the scale; what lies beyond it was not recorded.`,
      ),
    );
  }
  return notes;
}

/** What most likely went wrong, from what the values would mean in the ways in which counts are written. */
function likelyCause(frame: Frame, share: number): string {
  if (frame.stepK !== null) return "The scale or the gain and offset are wrong for this picture; check them";
  if (share < 0.5) return "Look at the export: a few values that can't be are torn or broken cells";
  const values = frame.raster.data.filter((value) => Number.isFinite(value)).sort();
  const median = values[values.length >> 1]!;
  for (const [times, gain] of [
    [100, 0.01],
    [10, 0.1],
  ] as const) {
    const valueC = median * gain - 273.15;
    // Between −40 and 150 °C: where cameras for boards and boards themselves are.
    if (!(valueC > -40 && valueC < 150)) continue;
    const kelvin = `kelvin × ${times}: give gain ${gain} and offset -273.15`;
    const hundredthsC = median * 0.01;
    // Where boards lie on a bench: counts of a sensor are seldom in so narrow a span.
    if (!(hundredthsC > 10 && hundredthsC < 40)) return `The values look like ${kelvin}`;
    const celsius = "°C × 100: give gain 0.01 and offset 0";
    const [first, second] = valueC > 10 && valueC < 40 ? [kelvin, celsius] : [celsius, kelvin];
    return `The values look like ${first}, or like ${second}`;
  }
  return "Check the unit (C, F or K) that was given or assumed; if the values are counts of the sensor, give gain and offset";
}
