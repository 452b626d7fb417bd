// findings: volts and amps, and what was found → the energy books.

import { plateCapacity } from "../sources/plate-capacity.js";
import { SOURCE_MODEL_DEFAULTS } from "../sources/source-model.js";
import type { AnalysisInput } from "./analyse-options.js";
import { boardLoss } from "./board-loss.js";
import { energyBooks } from "./energy-books.js";
import type { Energy, Limit } from "./findings-schema.js";
import type { Found } from "./found.js";
import { smallestPower } from "./hidden-limits.js";
import { type BoardView, sidesOf } from "./seen-view.js";

/** Draw up the books; null without volts and amps, where no watts are known because there is no board, and where the
 *  supply went on and off: what the board loses then is not seen.
 *  @param exclusive watts by the frames and watts fed in can't both be right.
 */
export function drawBooks(
  input: AnalysisInput,
  views: readonly BoardView[] | null,
  { fit, seeds }: Found,
  limits: readonly Limit[],
  exclusive: boolean,
): Energy | null {
  const { volts, amps } = input;
  if (typeof volts !== "number" || typeof amps !== "number" || views === null || fit === null) return null;
  const { pair, placed } = views[0]!;
  if (pair.cycle !== undefined) return null;
  const { plate } = placed.board;
  const lossWPerM2K = plate?.lossWPerM2K ?? SOURCE_MODEL_DEFAULTS.lossWPerM2K;
  const heatJPerM2K = plateCapacity(placed.board);
  const rateHz = input.rateHz ?? null;
  const isBurst = rateHz !== null && input.powered.length > 1;
  const nearSide = placed.view.side;
  const farSide = nearSide === "top" ? "bottom" : "top";
  const bothSides = sidesOf(views).size > 1;
  return energyBooks({
    volts,
    amps,
    sources: seeds.flatMap((seed) => seed.source ?? []),
    exclusive,
    // A burst is on its way up.
    boardLoss: isBurst ? null : firstOf(views.map((view) => boardLoss(view.pair, view.placed, lossWPerM2K))),
    limits,
    smallestW: smallestPower(fit, bothSides ? null : nearSide),
    // Where both sides are seen none of them hides a part from view.
    smallestFarW: bothSides ? null : smallestPower(fit, farSide),
    farSide,
    secondsOn: isBurst ? input.powered.length / rateHz : (input.afterS ?? null),
    timeConstantS: heatJPerM2K / lossWPerM2K,
    takenAtRest: fit.state.kind === "steady",
    lossWPerM2K,
    thicknessKnown: placed.board.thicknessMm !== undefined,
    plateKnown: plate?.lossWPerM2K !== undefined && plate?.conductanceWPerK !== undefined,
  });
}

function firstOf<T>(values: readonly (T | null)[]): T | null {
  return values.find((value) => value !== null) ?? null;
}
