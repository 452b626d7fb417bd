// frames: values as a file holds them → °C, by gain and offset, the unit given, the unit stated, or a guess.
import { ToolError } from "../core/errors.js";
import { type Note, note } from "../core/notes.js";
import { select } from "../numeric/select-rank.js";
import type { LinearScale } from "./scale.js";
import { type TemperatureUnit, toCelsius, UNIT_SIGNS } from "./temperature-unit.js";

/** What may be said of the values from outside. */
export interface ValueOptions {
  /** Goes before what the file states. */
  readonly unit?: TemperatureUnit | undefined;
  /** For counts of a sensor: °C = gainCPerLevel · value + offsetC. Goes before every unit. */
  readonly linear?: LinearScale | undefined;
  /** Name for messages. */
  readonly file?: string | undefined;
}

/** Medians that, as °C, no board survives, and that as K are −43 … 147 °C: then kelvin is the better guess. */
const KELVIN_GUESS = Object.freeze({ low: 230, high: 420 });

/** Find out how the values of a file become °C.
 *  Order: gain and offset, the unit given, the unit the file states; without any, kelvin is guessed where the median
 *  can't be that of a board in °C, else °C is assumed. Either is told in a note.
 *  @param values of the file's first frame; not modified.
 *  @param stated the unit that the file states, null if none; may throw where the statement can't be understood.
 *  @throws ToolError what `stated` throws, if the unit hangs on it.
 */
export function convertValues(
  values: Float64Array,
  stated: () => TemperatureUnit | null,
  options: ValueOptions,
): { convert: (values: Float64Array) => Float32Array; notes: Note[] } {
  const notes: Note[] = [];
  const name = options.file ?? "the text";
  const { linear } = options;
  if (linear !== undefined) {
    const inHeader = statedOrNull(stated);
    if (inHeader !== null) {
      notes.push(
        note(
          "N_OPTION_WINS",
          `${name}: the header states ${UNIT_SIGNS[inHeader]}, but gain and offset were given and hold. If only the other frames are counts, give those a scale file instead.`,
        ),
      );
    }
    return { convert: (v) => applyLinear(v, linear), notes };
  }
  if (options.unit !== undefined) {
    const unit = options.unit;
    const inHeader = statedOrNull(stated);
    if (inHeader !== null && inHeader !== unit) {
      notes.push(
        note(
          "N_OPTION_WINS",
          `${name}: the header states ${UNIT_SIGNS[inHeader]}, but ${UNIT_SIGNS[unit]} was given and holds.`,
        ),
      );
    }
    return { convert: (v) => toCelsius(v, unit), notes };
  }
  const unit = stated();
  if (unit !== null) return { convert: (v) => toCelsius(v, unit), notes };
  const median = roughMedian(values);
  if (median >= KELVIN_GUESS.low && median <= KELVIN_GUESS.high) {
    notes.push(
      note(
        "N_UNIT_GUESSED",
        `${name} states no unit; its median of ${median.toFixed(1)} is no temperature of a board in °C, so the values were taken for K. Say the unit to be sure.`,
      ),
    );
    return { convert: (v) => toCelsius(v, "K"), notes };
  }
  notes.push(note("N_UNIT_ASSUMED", `${name} states no unit; its values were read as °C.`));
  return { convert: (v) => toCelsius(v, "C"), notes };
}

function applyLinear(values: Float64Array, linear: LinearScale): Float32Array {
  const result = new Float32Array(values.length);
  for (let i = 0; i < values.length; i++) result[i] = linear.gainCPerLevel * values[i]! + linear.offsetC;
  return result;
}

/** A header that can't be understood does not matter where the unit is given. */
function statedOrNull(stated: () => TemperatureUnit | null): TemperatureUnit | null {
  try {
    return stated();
  } catch (error) {
    if (error instanceof ToolError) return null;
    throw error;
  }
}

/** Median of at most about a thousand readings spread over the matrix: enough to tell 25 from 298. */
function roughMedian(values: Float64Array): number {
  const step = Math.max(1, Math.floor(values.length / 1000));
  const sample = new Float64Array(Math.ceil(values.length / step));
  let count = 0;
  for (let i = 0; i < values.length; i += step) if (!Number.isNaN(values[i]!)) sample[count++] = values[i]!;
  return count === 0 ? Number.NaN : select(sample, count, count >> 1);
}
