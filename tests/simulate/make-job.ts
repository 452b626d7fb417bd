// simulate: a kind of job and a seed → two attempts on one board, and what truly became of each part's heat.
import { buildScene, type ScenePlan } from "./build-scene.js";
import type { Chosen } from "./choose-sources.js";
import { LEAST_PEAK_K, laterLook } from "./later-look.js";
import { makePlannedScene } from "./make-scene.js";
import { otherFaults } from "./other-faults.js";
import { makeRandom, type Random } from "./random.js";
import type { Kind, Part, Scene } from "./scene.js";

/** What happens between the two attempts.
 *  `same`: a wrong part was changed, the fault heats on. `fixed`: the fault is gone. `moved`: it is gone, and another
 *  part heats. `stronger`, `weaker`: the fault takes another share of the power. `flipped`: the board was turned over,
 *  nothing else. `flipped-fixed`: turned over, and the fault is gone.
 */
export const JOB_KINDS = [
  "same",
  "fixed",
  "moved",
  "stronger",
  "weaker",
  "flipped",
  "flipped-fixed",
] as const;
export type JobKind = (typeof JOB_KINDS)[number];

/** What truly became of one part's heat. */
export interface TrueChange {
  readonly ref: string;
  readonly side: "top" | "bottom";
  readonly fault: boolean;
  /** Watts in either attempt. */
  readonly watts: readonly [number, number];
  /** Out of sight in one of the attempts: nothing certain can be said. */
  readonly outOfSight: boolean;
  readonly change: "persisted" | "gone" | "new" | "hotter" | "cooler";
}

export interface Job {
  readonly kind: JobKind;
  readonly seed: number;
  readonly before: Scene;
  readonly after: Scene;
  readonly changes: readonly TrueChange[];
}

/** Boards drawn for one job until one fits. */
const MOST_DRAWS = 50;

/** Make a job. Both attempts have one map; the camera stands elsewhere, on another day, with other power. */
export function makeJob(kind: JobKind, seed: number): Job {
  const random = makeRandom(`job/${kind}/${seed}`);
  const share = kind === "stronger" || kind === "weaker";
  const sceneKind: Kind = share
    ? "warm-processor"
    : random.pick(["still", "nudged", "warm-processor"] as const);
  for (let attempt = 0; attempt < MOST_DRAWS; attempt++) {
    // Each kind has boards of its own, so that one hard board does not count in all of them.
    const own = MOST_DRAWS * JOB_KINDS.indexOf(kind) + attempt;
    const first = makePlannedScene(sceneKind, 100_000 + 1000 * seed + own);
    const { plan, scene } = kind === "weaker" ? strengthened(random, first) : first;
    const watts = scene.truth.sources.map((source) => source.watts);
    const supply = { volts: Number(random.uniform(0.8, 4).toFixed(2)), share: random.uniform(0.5, 0.95) };
    // A fault that the map does not know is a question of its own.
    if (scene.truth.sources.some(({ listed }) => !listed)) continue;
    const heats = laterHeat(random, kind, plan, watts, new Set(scene.board.regions.map(({ ref }) => ref)));
    if (heats === null) continue;
    const told = random.chance(0.7);
    const before: Scene = { ...scene, ...fed(told, watts, supply) };
    const later = laterLook(random, plan, `job/${kind}/${seed}`, kind.startsWith("flipped"));
    const chosen = heats.map((one): Chosen => ({ part: one.part, share: one.watts, fault: one.fault }));
    const built = buildScene(random, { ...later, chosen, strength: { by: "watts", value: 1 }, supply: null });
    const weak = chosen.some(({ fault }) => fault) && built.truth.peakApparentRiseK < LEAST_PEAK_K;
    if (weak && !kind.startsWith("flipped")) continue;
    const after: Scene = {
      ...built,
      board: scene.board,
      ...fed(
        told,
        heats.map(({ watts }) => watts),
        { ...supply, share: supply.share * random.uniform(0.93, 1.07) },
      ),
    };
    return { kind, seed, before, after, changes: changesOf(kind, plan, watts, heats, later.side) };
  }
  throw new Error(`no job of kind ${kind} came of seed ${seed}`);
}

/** The same attempt with a fault that takes several times as much: what is weaker later can still be seen then. */
function strengthened(
  random: Random,
  { plan, scene }: ReturnType<typeof makePlannedScene>,
): ReturnType<typeof makePlannedScene> {
  const factor = random.logUniform(3, 6);
  const chosen = plan.chosen.map((one, i): Chosen => {
    const watts = scene.truth.sources[i]!.watts;
    return { ...one, share: one.fault ? factor * watts : watts };
  });
  const stronger: ScenePlan = { ...plan, chosen, strength: { by: "watts", value: 1 } };
  return { plan: stronger, scene: { ...buildScene(random, stronger), board: scene.board } };
}

interface LaterHeat {
  readonly part: Part;
  readonly watts: number;
  readonly fault: boolean;
}

/** Who heats in the later attempt. What warms on a healthy board takes what it takes; a fault follows the supply. */
function laterHeat(
  random: Random,
  kind: JobKind,
  plan: ScenePlan,
  first: readonly number[],
  onMap: ReadonlySet<string>,
): LaterHeat[] | null {
  const old = plan.chosen.map(({ part, fault }, i): LaterHeat => ({ part, fault, watts: first[i]! }));
  const warm = old.filter(({ fault }) => !fault);
  const fault = old.find((one) => one.fault);
  if (fault === undefined) return null;
  const factor = random.logUniform(0.45, 2.2);
  if (kind === "fixed" || kind === "flipped-fixed") return warm;
  if (kind === "stronger") return [{ ...fault, watts: fault.watts * random.logUniform(3, 6) }, ...warm];
  if (kind === "weaker") return [{ ...fault, watts: fault.watts / random.logUniform(3, 6) }, ...warm];
  if (kind !== "moved") return old.map((one) => ({ ...one, watts: one.watts * factor }));
  const rest = otherFaults(plan, fault.part, plan.side, onMap);
  if (rest.length === 0) return null;
  return [{ part: random.pick(rest), watts: fault.watts * factor, fault: true }, ...warm];
}

function fed(
  told: boolean,
  watts: readonly number[],
  { volts, share }: { volts: number; share: number },
): Pick<Scene, "volts" | "amps"> {
  const sum = watts.reduce((a, b) => a + b, 0);
  if (!told) return { volts: null, amps: null };
  // A board takes a little when nothing heats.
  return { volts, amps: Number(((sum + 0.002) / share / volts).toPrecision(3)) };
}

function changesOf(
  kind: JobKind,
  plan: ScenePlan,
  first: readonly number[],
  later: readonly LaterHeat[],
  laterSide: "top" | "bottom",
): TrueChange[] {
  const parts = new Map<Part, { fault: boolean; watts: [number, number] }>();
  plan.chosen.forEach(({ part, fault }, i) => {
    parts.set(part, { fault, watts: [first[i]!, 0] });
  });
  for (const { part, fault, watts } of later) {
    parts.set(part, { fault, watts: [parts.get(part)?.watts[0] ?? 0, watts] });
  }
  return [...parts].map(([part, { fault, watts }]): TrueChange => {
    const both = watts[0] > 0 && watts[1] > 0;
    const share =
      fault && kind === "stronger" ? "hotter" : fault && kind === "weaker" ? "cooler" : "persisted";
    return {
      ref: part.ref,
      side: part.side,
      fault,
      watts,
      outOfSight: part.side !== plan.side || part.side !== laterSide,
      change: both ? share : watts[0] > 0 ? "gone" : "new",
    };
  });
}
