// evaluate: simulated repairs of two to four attempts → how often the evidence of the job names the right part first at
// the end.
import { makeRepair, REPAIR_KINDS } from "../../simulate/make-repair.js";
import { shareFigure } from "../figure.js";
import { placeRepair, scoreChanges, scoreRepair, tellRepair } from "../run-repair.js";
import { shareOf, shareOfCount } from "../statistics.js";
import type { SpecialFigure, TrialValues } from "./special.js";

export const REPAIRS: SpecialFigure = {
  name: "repairs",
  trials: 112,
  run: async (analyse, index, seed): Promise<TrialValues> => {
    const kind = REPAIR_KINDS[index % REPAIR_KINDS.length]!;
    const repair = makeRepair(kind, 100 * seed + Math.floor(index / REPAIR_KINDS.length));
    const known = new Map();
    const told = tellRepair(analyse, repair, known);
    const { right, named, mendedRight, evidence } = scoreRepair(repair, told);
    const changes = scoreChanges(repair, told);
    const faults = [...(right && named && mendedRight ? [] : [evidence.verdict]), ...changes.wrong];
    const clicked = {
      kind: REPAIR_KINDS.indexOf(kind),
      right,
      named,
      mendedRight,
      parts: changes.parts,
      partsRight: changes.right,
      unseenTold: changes.unseenTold,
      wrong: faults.length === 0 ? "" : `${kind} ${repair.seed}: ${faults.join("; ")}`,
    };
    const placed = placeRepair(repair);
    if (placed === null) return clicked;
    return { ...clicked, placedRight: scoreRepair(placed, tellRepair(analyse, placed, known)).right };
  },
  summarise: (trials) => {
    const share = (key: string) => shareOf(trials.map((trial) => trial[key] === true));
    const sum = (key: string) => trials.reduce((total, trial) => total + Number(trial[key] ?? 0), 0);
    const among = (key: string) => shareOfCount(sum(key), sum("parts"));
    const placed = trials.filter((trial) => trial["placedRight"] !== undefined);
    const ofPlaced = (key: string) => shareOf(placed.map((trial) => trial[key] === true));
    const bar = { atLeast: 0.95 };
    return [
      shareFigure("repairs: right part first at the end", share("right"), bar, { atLeast: 0.98 }),
      shareFigure("  without fiducials for the later attempts", ofPlaced("placedRight"), null, null),
      shareFigure("  the same repairs with them", ofPlaced("right"), null, null),
      shareFigure("repairs: the verdict begins with it", share("named"), bar, { atLeast: 0.98 }),
      shareFigure("repairs: mended or not, told right", share("mendedRight"), bar, { atLeast: 0.98 }),
      shareFigure(
        "repairs: changes from each attempt to the next told right",
        among("partsRight"),
        { atLeast: 0.97 },
        { atLeast: 0.99 },
      ),
      shareFigure(
        "repairs: out of sight, and said to be gone or new",
        among("unseenTold"),
        { atMost: 0 },
        { atMost: 0 },
      ),
    ];
  },
};
