// findings: the plate's state and what its map tells → which of its constants watts rest on.

import type { BoardMap } from "../board/board-schema.js";
import { formatSeconds, formatSignificant } from "../core/format-quantity.js";
import type { Note } from "../core/notes.js";
import { PlateConstants } from "../sources/plate-constants.js";
import type { PlateState } from "../sources/plate-state.js";
import { SOURCE_MODEL_DEFAULTS } from "../sources/source-model.js";

/** A constant of which watts take less than this share, as a power of it, is not named. */
const LEAST_SHARE = 0.1;

const CAPACITY_BY = {
  told: "from the board map",
  byThickness: "by its thickness",
  usual: "that of a usual board",
};

/** Say which constants of the plate watts rest on: those that `PlateConstants.perWatt` takes in that state.
 *  @param timeS time since power-on that the rise belongs to, s; null where it is not known.
 *  @param asksTime where it is not known, ask for it: no other note does.
 */
export function describePlate(
  board: Pick<BoardMap, "plate" | "thicknessMm">,
  state: PlateState,
  timeS: number | null,
  asksTime = true,
): string {
  const plate = new PlateConstants(board, timeS, SOURCE_MODEL_DEFAULTS);
  const spread = `${Number(state.lengthMm.toPrecision(2))} mm`;
  const capacity = `the heat that the board holds, ${formatSignificant(plate.capacityJPerM2K, 2)} J/m²K (${CAPACITY_BY[plate.capacityBy]})`;
  if (state.kind === "alternating")
    return `Watts rest on ${capacity}; in the rhythm of the supply heat spreads over ${spread}.`;
  const early =
    timeS === null
      ? ["how far heat had spread", conductanceText(plate, state)]
      : [`${formatSeconds(timeS)} since power-on`, capacity];
  const share = earlyShare(plate, state);
  const all = [
    ...(share < LEAST_SHARE ? [] : early),
    ...(1 - share < LEAST_SHARE ? [] : [lossText(plate, board.plate?.lossWPerM2K !== undefined)]),
  ];
  const rest = state.kind === "steady" ? "had come to rest" : "was still warming";
  const better =
    asksTime && timeS === null && share >= LEAST_SHARE && !plate.conductanceKnown
      ? " Say how many seconds after power-on they were taken, and the watts are better known."
      : "";
  return `Watts rest on ${all.join("; on ")}. Heat had spread over ${spread} when the frames were taken, and the board ${rest}.${better}`;
}

/** True if a note asks already when the frames were taken, and how to say it. */
export function isTimeAsked(notes: readonly Note[]): boolean {
  return notes.some(({ code }) => code === "N_POWERED_AVERAGED" || code === "N_RATE_UNUSED");
}

/** Watts are as this power of what holds while nothing is lost yet, and as the rest of 1 of the loss: x ÷ (exp(x) − 1),
 *  x the time in time constants of the plate. */
function earlyShare(plate: PlateConstants, { kind, timeConstants }: PlateState): number {
  const x = plate.timeS === null ? timeConstants : (plate.timeS * plate.lossWPerM2K) / plate.capacityJPerM2K;
  if (x === undefined) return kind === "steady" ? 0 : 1;
  return x / Math.expm1(x);
}

function conductanceText(plate: PlateConstants, state: PlateState): string {
  const wPerK = plate.conductanceKnown
    ? plate.conductanceWPerK
    : (state.lengthMm * 1e-3) ** 2 / plate.perWatt(state);
  const by = plate.conductanceKnown ? "from the board map" : "the likeliest where it spreads so far";
  return `a conductance of ${formatSignificant(wPerK, 2)} W/K (${by})`;
}

function lossText({ lossWPerM2K }: PlateConstants, told: boolean): string {
  const by = told ? "from the board map" : "a default; it varies by a quarter from bench to bench";
  return `a loss of ${lossWPerM2K} W/m²K for both faces together (${by})`;
}
