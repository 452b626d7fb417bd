// findings: volts and amps, and what was found → the energy books.

import { SOURCE_MODEL_DEFAULTS } from "../sources/source-model.js";
import type { AnalysisInput } from "./analyse-options.js";
import { boardLoss } from "./board-loss.js";
import { energyBooks } from "./energy-books.js";
import type { Energy, Limit } from "./findings-schema.js";
import type { Found } from "./found.js";
import { smallestPower } from "./hidden-limits.js";
import type { BoardContext } from "./measure-hotspot.js";
import type { PreparedPair } from "./prepare-pair.js";

/** Heat capacity of glass-fibre laminate, J/m³K (1900 kg/m³ × 1150 J/kgK, typical values), and the thickness of a board
 *  whose map does not tell, mm. */
const LAMINATE_J_PER_M3K = 2.2e6;
const USUAL_THICKNESS_MM = 1;

/** Draw up the books; null without volts and amps, where no watts are known because there is no board, and where the
 *  supply went on and off: what follows the rhythm is only part of the heat.
 */
export function drawBooks(
  input: AnalysisInput,
  pair: PreparedPair,
  context: BoardContext | null,
  { fit, seeds }: Found,
  limits: readonly Limit[],
): Energy | null {
  const { volts, amps } = input;
  if (typeof volts !== "number" || typeof amps !== "number" || context === null || fit === null) return null;
  if (pair.cycle !== undefined) return null;
  const { plate, thicknessMm } = context.board;
  const lossWPerM2K = plate?.lossWPerM2K ?? SOURCE_MODEL_DEFAULTS.lossWPerM2K;
  const heatJPerM2K =
    plate?.heatCapacityJPerM2K ?? LAMINATE_J_PER_M3K * (thicknessMm ?? USUAL_THICKNESS_MM) * 1e-3;
  const rateHz = input.rateHz ?? null;
  const isBurst = rateHz !== null && input.powered.length > 1;
  const farSide = context.view.side === "top" ? "bottom" : "top";
  return energyBooks({
    volts,
    amps,
    sources: seeds.flatMap((seed) => seed.source ?? []),
    // A burst is on its way up.
    boardLoss: isBurst ? null : boardLoss(pair, context, lossWPerM2K),
    limits,
    smallestW: smallestPower(fit, context.view.side),
    smallestFarW: smallestPower(fit, farSide),
    farSide,
    secondsOn: isBurst ? input.powered.length / rateHz : null,
    timeConstantS: heatJPerM2K / lossWPerM2K,
    lossWPerM2K,
    plateKnown: plate?.lossWPerM2K !== undefined && plate?.conductanceWPerK !== undefined,
  });
}
