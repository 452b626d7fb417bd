// simulate: a kind of repair and a seed → its attempts and what was changed between them, and which parts truly were at
// fault.
import type { BoardMap } from "../../src/board/board-schema.js";
import { buildScene, type ScenePlan } from "./build-scene.js";
import type { Chosen } from "./choose-sources.js";
import { LEAST_PEAK_K, laterLook } from "./later-look.js";
import { makePlannedScene } from "./make-scene.js";
import { otherFaults } from "./other-faults.js";
import { makeRandom, type Random } from "./random.js";
import type { Kind, Scene } from "./scene.js";

/** `wrong`: a wrong part is replaced, the heat stays; `right`: the one at fault, and its heat goes; `flip`: the board
 *  is turned over for the next attempt. `moved`: the first fault is mended, and a second one shows that was cold
 *  before.
 */
export const REPAIR_KINDS = [
  "wrong",
  "wrong-right",
  "flip",
  "wrong-flip",
  "wrong-flip-right",
  "moved",
  "moved-flip-right",
] as const;
export type RepairKind = (typeof REPAIR_KINDS)[number];

/** What happens, in its order. */
type RepairStep =
  | { readonly scene: Scene; readonly side: "top" | "bottom" }
  /** Replaced: this part, or, for null, the wrong one that looks most like the source. */
  | { readonly replaced: string | null };

export interface Repair {
  readonly kind: RepairKind;
  readonly seed: number;
  readonly board: BoardMap;
  readonly steps: readonly RepairStep[];
  /** Parts that were at fault at some time, the last one first. */
  readonly faults: readonly string[];
}

/** Make a repair. Between attempts the camera stands elsewhere, on another day, with other power. */
export function makeRepair(kind: RepairKind, seed: number): Repair {
  const random = makeRandom(`repair/${kind}/${seed}`);
  const sceneKind: Kind = random.pick(["still", "nudged", "warm-processor", "behind"] as const);
  for (let trial = 0; trial < 50; trial++) {
    const { plan, scene } = makePlannedScene(sceneKind, 300_000 + 1000 * seed + trial);
    const listed = new Set(scene.board.regions.map(({ ref }) => ref));
    if (scene.truth.sources.some((source) => !source.listed)) continue;
    if (scene.truth.peakApparentRiseK < LEAST_PEAK_K) continue;
    const watts = scene.truth.sources.map((source) => source.watts);
    const heats = plan.chosen.map(({ part, fault }, i): Chosen => ({ part, fault, share: watts[i]! }));
    const fault = heats.find((one) => one.fault);
    if (fault === undefined) continue;
    const warm = heats.filter((one) => !one.fault);
    const second = secondFault(random, plan, fault, listed);
    if (kind.startsWith("moved") && second === null) continue;
    const first: RepairStep = { scene, side: plan.side };
    const steps: RepairStep[] = [first];
    const faults = [fault.part.ref];
    let current: Chosen | null = fault;
    let flipped = false;
    const again = () => {
      const look = laterLook(random, plan, `repair/${kind}/${seed}/${steps.length}`, flipped);
      const factor = random.logUniform(0.6, 1.6);
      const share = (one: Chosen) => (one.fault ? one.share * factor : one.share);
      const chosen = [...(current === null ? [] : [current]), ...warm].map((one) => ({
        ...one,
        share: share(one),
      }));
      const built = buildScene(random, {
        ...look,
        chosen,
        strength: { by: "watts", value: 1 },
        supply: null,
      });
      steps.push({ scene: { ...built, board: scene.board }, side: look.side });
    };
    for (const word of kind.split("-")) {
      if (word === "wrong") {
        steps.push({ replaced: null });
        if (!kind.includes("flip")) again();
      } else if (word === "flip") {
        flipped = true;
        again();
      } else {
        steps.push({ replaced: current!.part.ref });
        current = word === "moved" ? second! : null;
        if (word === "moved") faults.unshift(second!.part.ref);
        again();
      }
    }
    return { kind, seed, board: scene.board, steps, faults };
  }
  throw new Error(`no repair of kind ${kind} came of seed ${seed}`);
}

/** A part well apart from the first that can be seen as well. */
function secondFault(
  random: Random,
  plan: ScenePlan,
  first: Chosen,
  listed: ReadonlySet<string>,
): Chosen | null {
  const rest = otherFaults(plan, first.part, first.part.side, listed);
  return rest.length === 0 ? null : { part: random.pick(rest), share: first.share, fault: true };
}
