// findings: what is known of the supply's rhythm → its part of the findings, and the remarks on it.
import { formatSignificant } from "../core/format-quantity.js";
import { type Note, note } from "../core/notes.js";
import type { Cycle, Hotspot } from "./findings-schema.js";
import type { HotspotSeed } from "./measure-hotspot.js";
import type { PreparedCycle } from "./prepare-cycle.js";

/** Smallest chance that is stated: what noise does beyond this nobody has measured. */
const LEAST_CHANCE = 1e-12;

/** State the rhythm and, for each hotspot, its phase and the chance that noise makes it.
 *  @param seeds in the order of the hotspots.
 */
export function describeCycle(
  cycle: PreparedCycle,
  seeds: readonly HotspotSeed[],
  hotspots: readonly Hotspot[],
): Cycle {
  const { width } = cycle.strength;
  return {
    periodS: cycle.periodS,
    frames: cycle.frames,
    phaseDeg: cycle.phaseDeg,
    pValue: Math.max(LEAST_CHANCE, cycle.pValue),
    amplitudeSigmaK: cycle.amplitudeSigmaK,
    hotspots: hotspots.map(({ rank, peakPx }, k) => {
      let best = peakPx[1] * width + peakPx[0];
      for (const pixel of seeds[k]?.patch?.pixels ?? []) {
        if (cycle.strength.data[pixel]! > cycle.strength.data[best]!) best = pixel;
      }
      const pValue = cycle.chanceOf(cycle.strength.data[best]!);
      return { rank, phaseDeg: cycle.phaseAtDeg(best), pValue: Math.max(LEAST_CHANCE, pValue) };
    }),
  };
}

/** Word the rhythm, and what rises mean in it, and watts where there are any.
 *  @param onBoard a board is known, and so watts are told.
 */
export function cycleNotes(cycle: PreparedCycle, onBoard: boolean): Note[] {
  const period = formatSignificant(cycle.periodS, 4);
  const noise = formatSignificant(cycle.amplitudeSigmaK * 1000, 2);
  const chance = cycle.pValue <= LEAST_CHANCE ? "below 10⁻¹²" : `about ${formatSignificant(cycle.pValue, 1)}`;
  const notes = [
    note(
      "N_CYCLE",
      `Supply switched on and off every ${period} s${cycle.found ? " (found in the frames)" : ""}: ` +
        `${cycle.frames} frames leave ${noise} mK of noise in a pixel's amplitude, and the chance that noise alone makes ` +
        `the strongest one is ${chance}. Rises are amplitudes of the sine that follows the supply${
          onBoard ? "; watts are those while it is on, which is taken to be half of the time" : ""
        }.`,
    ),
  ];
  if (cycle.otherPeriodS !== null) {
    notes.push(
      note(
        "N_CYCLE_OTHER",
        `The strongest rhythm in the frames has a period of ${formatSignificant(cycle.otherPeriodS, 4)} s, not ${period} s. ` +
          "If the rate or the period given is a little off, most of the heat is missed: try --cycle find.",
      ),
    );
  }
  return notes;
}
