// findings: frames, pair and what was found → the notes that go with the findings.
import { countOf } from "../core/count-of.js";
import { formatPowerSize, formatSignificant } from "../core/format-quantity.js";
import { type Note, note } from "../core/notes.js";
import { capitalised } from "../core/sentence-case.js";
import type { Frame } from "../frames/frame.js";
import { median } from "../numeric/median.js";
import { rangeOf } from "../numeric/pixel-arithmetic.js";
import type { OddFrame } from "../rise/find-jolts.js";
import type { AnalysisInput } from "./analyse-options.js";
import { countHiddenPixels } from "./count-hidden-pixels.js";
import { cycleNotes } from "./describe-cycle.js";
import { describePlate, isTimeAsked } from "./describe-plate.js";
import { describeTimeDoubt } from "./describe-time-doubt.js";
import type { Artefact, Limit } from "./findings-schema.js";
import type { Found } from "./found.js";
import { MOST_MIRRORED_K, strangest } from "./judge-artefacts.js";
import type { PreparedPair } from "./prepare-pair.js";
import { type SeenView, viewWords } from "./seen-view.js";

/** A camera's offset moves by tenths of a kelvin between two captures, a table in the sun by a few, K. */
const MOST_DRIFT_K = 5;
/** A bench without power is somewhere between, °C; common practice, no source. Frames of 15 to 40 °C read in the wrong
 *  one of °C and °F lie outside. */
const LEAST_BENCH_C = 5;
const MOST_BENCH_C = 55;
/** … and most are between these, °C. */
const USUAL_BENCH_C = [10, 40] as const;
/** Cooling this many times stronger than any warming is worth a word. */
const SWAPPED_RATIO = 2.5;

/** Collect the remarks: those of the readers first, then what the analysis has to say of each view and of itself.
 *  @param thresholdK smallest peak that would have been seen, K.
 *  @param limits what shiny faces can hide, the worst first.
 *  @param smallestW fewest watts that would have been found in a part; null where not known.
 */
export function collectNotes(
  input: AnalysisInput,
  views: readonly SeenView[],
  found: Found,
  thresholdK: number,
  limits: readonly Limit[],
  smallestW: number | null,
): Note[] {
  const notes: Note[] = [...(input.notes ?? [])];
  for (const view of views) {
    const words = viewWords(views, view.name);
    const where = views.length === 1 ? "" : `${capitalised(words)}: `;
    for (const { code, text } of viewNotes(view, thresholdK)) notes.push(note(code, `${where}${text}`));
  }
  if (found.seeds.length === 0) {
    notes.push(
      note(
        "N_NOTHING_HOT",
        `No hotspot. A small spot whose peak stands out by ${formatSignificant(thresholdK, 2)} K would have been seen${
          smallestW === null
            ? ""
            : `; half of the parts would have been found with ${formatPowerSize(smallestW)} each, the others need more`
        }.`,
      ),
    );
  }
  const strange = strangest(found.strange);
  if (strange !== null) notes.push(note("N_RISE_STRANGE", strangeText(strange)));
  if (limits.length > 0) notes.push(note("N_SHINY_LIMIT", shinyLimit(limits)));
  if (input.board && !input.view) {
    notes.push(
      note(
        "N_VIEW_MISSING",
        "A board map without a view can't be laid over the frames: hotspots are in pixels only.",
      ),
    );
  }
  if (found.fit !== null && found.seeds.length > 0) {
    const { burst, afterS = null } = views[0]!.pair;
    const timeS = burst?.effectiveTimeS ?? afterS;
    notes.push(
      note("N_PLATE_ASSUMED", describePlate(input.board ?? {}, found.fit.state, timeS, !isTimeAsked(notes))),
    );
    const { timeDoubt } = found.fit;
    if (timeDoubt !== null)
      notes.push(note("N_TIME_DOUBT", describeTimeDoubt(timeDoubt, burst !== undefined)));
  }
  return notes;
}

function strangeText({ px, riseK }: Pick<Artefact, "px" | "riseK">): string {
  return `The ${formatSignificant(riseK!, 2)} K at pixel (${px.join(", ")}) are more than a person mirrored in the face there can make, and yet no heat spreads from there as in a circuit board. Check the map's millimetres, its place in the frame and the finish it tells, and whether what is there is joined to the board; a lamp or an iron that is mirrored does the same.`;
}

/** What there is to say of the frames of one view. */
function viewNotes({ baseline, powered, pair, placed }: SeenView, thresholdK: number): Note[] {
  const notes: Note[] = [];
  const { trusted, uncertaintyPx } = pair.alignment;
  if (!trusted) {
    notes.push(
      note(
        "N_ALIGNMENT_WEAK",
        `The frames hold too little structure, or differ too much, to be aligned${
          Number.isFinite(uncertaintyPx) ? ` (± ${uncertaintyPx.toFixed(2)} px)` : ""
        }: they were compared as they are.`,
      ),
    );
  }
  const odd = pair.burst?.odd ?? [];
  if (odd.length > 0) {
    notes.push(note("N_FRAMES_LEFT_OUT", framesLeftOut(odd, powered.length)));
  }
  if (Math.abs(pair.drift.offsetK) > MOST_DRIFT_K) {
    notes.push(
      note(
        "N_DRIFT_LARGE",
        `Everything changed by ${pair.drift.offsetK.toFixed(1)} K between baseline and powered, more than a camera drifts by. Check the unit and the scale of both, and that they were taken in one sitting.`,
      ),
    );
  }
  const doubt = temperatureDoubt(baseline[0]!);
  if (doubt !== null) notes.push(note("N_TEMPERATURE_DOUBT", doubt));
  if (pair.cycle !== undefined) notes.push(...cycleNotes(pair.cycle, placed !== null));
  const hashes = new Set(powered.map((frame) => frame.sha256));
  const same = baseline.find((frame) => frame.sha256 !== null && hashes.has(frame.sha256));
  if (same !== undefined) {
    const held = baseline.filter(({ sha256 }) => sha256 === same.sha256).length;
    const apart =
      held > 1
        ? ` The file holds ${held} frames, and all of them count in both roles: if some were taken without power and some with it, export each as a file of its own.`
        : "";
    notes.push(
      note(
        "N_SAME_FRAMES",
        `${same.file} is given as baseline and as powered frame: nothing can have changed in it.${apart}`,
      ),
    );
  }
  if (lookSwapped(pair, thresholdK)) {
    notes.push(
      note(
        "N_ROLES_SWAPPED",
        "What changed most got cooler with power. Check that baseline and powered frames are not the wrong way round; a part that was still hot from before, and a hand or a lamp that was mirrored and is gone, do the same.",
      ),
    );
  }
  const hidden = countHiddenPixels(pair.rise);
  if (hidden > 0) {
    notes.push(
      note(
        "N_NO_READING",
        `${countOf(hidden, "pixel")} inside the picture ${hidden === 1 ? "has" : "have"} no reading: heat there was not looked for, and the place of a spot beside them is unsure.`,
      ),
    );
  }
  const { spike, change, stuck } = pair.badPixels.counts;
  const bad = spike + change + stuck;
  if (bad > 0)
    notes.push(
      note(
        "N_PIXELS_REPAIRED",
        `${countOf(bad, "faulty pixel")} ${bad === 1 ? "was" : "were"} taken from ${bad === 1 ? "its" : "their"} neighbours.`,
      ),
    );
  return notes;
}

/** Say that a baseline is too cold or too hot for a bench, and whether °C and °F were exchanged; null where it is
 *  neither. */
function temperatureDoubt({ raster }: Frame): string | null {
  const middleC = median(raster.data);
  if (!(middleC < LEAST_BENCH_C || middleC > MOST_BENCH_C)) return null;
  const isCold = middleC < LEAST_BENCH_C;
  const otherC = isCold ? middleC * 1.8 + 32 : (middleC - 32) / 1.8;
  const isOther = otherC > USUAL_BENCH_C[0] && otherC < USUAL_BENCH_C[1];
  const other = isOther
    ? `; if it holds ${isCold ? "°C and was read as °F" : "°F and was read as °C"}, it is ${otherC.toFixed(1)} °C`
    : "";
  return `The middle of the baseline is ${middleC.toFixed(1)} °C, ${isCold ? "cold" : "hot"} for a board without power${other}. Check unit and scale, given or assumed, unless the board lies in a ${isCold ? "cold" : "heated"} chamber or was not yet cool: heat that is found, and its watts, scale with them.`;
}

/** Faces named in a note; the findings list them all. */
const MOST_FACES = 3;

function shinyLimit(limits: readonly Limit[]): string {
  const faces = limits.slice(0, MOST_FACES).map(({ ref, riseK, powerW }) => {
    const under = powerW === null ? "" : `, or ${formatPowerSize(powerW)} under it`;
    return `${ref} a rise of ${formatSignificant(riseK, 2)} K${under}`;
  });
  const rest = limits.length - faces.length;
  const more = rest === 0 ? "" : `; ${rest} more hide less`;
  return `Shiny faces mirror the room. Unseen could remain: ${faces.join("; ")}${more}.`;
}

/** Which frames of a burst were left out, and why. */
function framesLeftOut(odd: readonly OddFrame[], frames: number): string {
  const moved = odd.filter(({ shiftPx }) => shiftPx !== null);
  const other = odd.filter(({ shiftPx }) => shiftPx === null);
  const name = (list: readonly OddFrame[]) =>
    `${list.length === 1 ? "frame" : "frames"} ${list.map(({ index }) => index + 1).join(", ")}`;
  const parts: string[] = [];
  if (moved.length > 0) {
    const most = Math.max(...moved.map(({ shiftPx }) => shiftPx!));
    parts.push(`${name(moved)} (moved by up to ${formatSignificant(most, 2)} px)`);
  }
  if (other.length > 0) parts.push(`${name(other)} (something else in the picture)`);
  return `Of the ${frames} frames of the burst ${parts.join(" and ")} don't fit the others and were left out. Keep the board and the camera still during the burst.`;
}

/** True if what changed most got cooler: at the finest size tested, where parts show and drift does not, or at any size
 *  by more than a person who was mirrored and went away can explain. Wider sizes alone would take every can that
 *  mirrored a hand for frames in the wrong roles.
 */
function lookSwapped(pair: PreparedPair, thresholdK: number): boolean {
  const sizes = pair.layers.map(({ contrast }) => extremes(contrast.data));
  const cooled = (some: readonly Extremes[]): boolean => {
    const warmestK = Math.max(thresholdK, ...some.map((size) => size.warmestK));
    return Math.max(...some.map((size) => size.coolestK)) > SWAPPED_RATIO * warmestK;
  };
  if (cooled(sizes.slice(0, 1))) return true;
  return cooled(sizes) && sizes.some(({ coolest }) => -pair.smoothRise.data[coolest]! > MOST_MIRRORED_K);
}

interface Extremes {
  readonly warmestK: number;
  readonly coolestK: number;
  /** Pixel of the latter. */
  readonly coolest: number;
}

/** Largest contrast upwards and downwards at one size, K; 0 where there is none. */
function extremes(contrast: Float32Array): Extremes {
  const { least, most } = rangeOf(contrast);
  const coolestK = Math.max(0, -least);
  return { warmestK: Math.max(0, most), coolestK, coolest: coolestK > 0 ? contrast.indexOf(least) : 0 };
}
