// evaluate: simulated repairs of two to four attempts → how often the evidence of the job names the right part first at the end.
import { makeRepair, REPAIR_KINDS } from "../../simulate/make-repair.js";
import { shareFigure } from "../figure.js";
import { scoreRepair, tellRepair } from "../run-repair.js";
import { shareOf } from "../statistics.js";
import type { SpecialFigure } from "./special.js";

export const REPAIRS: SpecialFigure = {
  name: "repairs",
  trials: 112,
  run: async (analyse, index, seed) => {
    const kind = REPAIR_KINDS[index % REPAIR_KINDS.length]!;
    const repair = makeRepair(kind, 100 * seed + Math.floor(index / REPAIR_KINDS.length));
    const { right, named, mendedRight } = scoreRepair(repair, tellRepair(analyse, repair));
    return { kind: REPAIR_KINDS.indexOf(kind), right, named, mendedRight };
  },
  summarise: (trials) => {
    const share = (key: string) => shareOf(trials.map((trial) => trial[key] === true));
    const bar = { atLeast: 0.95 };
    return [
      shareFigure("repairs: right part first at the end", share("right"), bar, { atLeast: 0.98 }),
      shareFigure("repairs: the verdict begins with it", share("named"), bar, { atLeast: 0.98 }),
      shareFigure("repairs: mended or not, told right", share("mendedRight"), bar, { atLeast: 0.98 }),
    ];
  },
};
