// simulate: where a part stands → its name, finish and how its body warms.
import type { Point } from "./polygons.js";
import type { Random } from "./random.js";
import type { Part, SimFinish } from "./scene.js";

/** Where and how large a part will be. */
export interface PartDraft {
  readonly kind: Part["kind"];
  readonly side: Part["side"];
  readonly center: Point;
  readonly size: readonly [number, number];
  readonly angleDeg: number;
  readonly polygon: readonly Point[];
  readonly hideBare: boolean;
}

const LETTERS = { ic: "U", passive: "C", shield: "SH", connector: "J", other: "TP" } as const;
const LABELS = {
  ic: ["regulator", "charge controller", "memory", "driver", "radio", "codec", "sensor hub", "level shifter"],
  passive: ["capacitor", "resistor", "inductor", "filter"],
  shield: ["shield"],
  connector: ["connector"],
  other: ["pad"],
} as const;
const NETS = ["VIN", "VSYS", "V3P3", "V1P8", "VCORE", "VRF", "VIO"] as const;

/** Draw the rest of a part: name, finish, emissivity, body. `namer` counts the names of a board. */
export function makePart(random: Random, draft: PartDraft, namer: Map<string, number>): Part {
  const letter = draft.kind === "passive" ? random.pick(["C", "C", "R", "L"]) : LETTERS[draft.kind];
  const number = (namer.get(letter) ?? 0) + 1;
  namer.set(letter, number);
  const finish = finishFor(random, draft.kind);
  const area = draft.size[0] * draft.size[1];
  const isChip = draft.kind === "ic";
  return {
    ref: `${letter}${number}`,
    label: random.pick<string>(LABELS[draft.kind]),
    side: draft.side,
    kind: draft.kind,
    centerMm: draft.center,
    sizeMm: draft.size,
    angleDeg: draft.angleDeg,
    polygon: draft.polygon,
    finish,
    emissivity: trueEmissivity(random, finish),
    finishDeclared: !(draft.hideBare && finish === "bare-metal") && random.chance(0.9),
    nets: random.chance(0.6) ? [random.pick(NETS), "GND"] : [],
    normallyWarm: false,
    // Small bodies sit on small pads: they stand higher above the board per watt.
    bodyKPerW: Math.min(60, Math.max(5, (isChip ? 60 : 40) * random.uniform(0.5, 1.6) * area ** -0.4)),
    bodyTimeS: random.logUniform(0.2, 1) * Math.sqrt(1 + area / 10),
    dieOffset: isChip ? [random.uniform(-0.25, 0.25), random.uniform(-0.25, 0.25)] : [0, 0],
  };
}

function finishFor(random: Random, kind: Part["kind"]): SimFinish {
  if (kind === "shield") return "bare-metal";
  if (kind === "passive") return random.pick(["ceramic", "ceramic", "ceramic", "coated"]);
  if (kind === "connector") return random.pick(["moulded", "moulded", "bare-metal"]);
  if (kind === "ic") return random.chance(0.12) ? "bare-die" : "moulded";
  return "solder-mask";
}

/** Scatter of ±0.05 about what tables give for each finish, wider for those that tables disagree about. */
function trueEmissivity(random: Random, finish: SimFinish): number {
  switch (finish) {
    case "solder-mask":
      return random.uniform(0.86, 0.945);
    case "moulded":
      return random.uniform(0.87, 0.97);
    case "ceramic":
      return random.uniform(0.76, 0.94);
    case "coated":
      return random.uniform(0.87, 0.97);
    case "bare-die":
      return random.uniform(0.45, 0.78);
    case "bare-metal":
      return random.logUniform(0.05, 0.28);
  }
}
