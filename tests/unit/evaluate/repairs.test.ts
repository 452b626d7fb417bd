import { describe, expect, it } from "vitest";
import { REPAIRS } from "../../evaluate/figures/repairs.js";
import { scoreRepair } from "../../evaluate/run-repair.js";
import { makeRepair, REPAIR_KINDS } from "../../simulate/make-repair.js";
import { makeJob } from "../evidence/make-job.js";

describe("makeRepair", () => {
  it.each(REPAIR_KINDS)("makes a repair of kind %s: its attempts, changes and faults", (kind) => {
    const repair = makeRepair(kind, 3);
    const scenes = repair.steps.flatMap((step) => ("scene" in step ? [step] : []));
    const changes = repair.steps.flatMap((step) => ("replaced" in step ? [step.replaced] : []));
    expect(scenes).toHaveLength(
      { wrong: 2, flip: 2, "wrong-flip": 2, moved: 2, "moved-flip-right": 4 }[kind as string] ?? 3,
    );
    expect(changes.filter((ref) => ref === null)).toHaveLength(kind.startsWith("wrong") ? 1 : 0);
    expect(repair.faults).toHaveLength(kind.startsWith("moved") ? 2 : 1);
    const heating = (k: number) =>
      scenes[k]!.scene.truth.sources.filter(({ fault }) => fault).map(({ ref }) => ref);
    expect(heating(0)).toEqual([repair.faults.at(-1)]);
    expect(heating(scenes.length - 1)).toEqual(kind.endsWith("right") ? [] : [repair.faults[0]]);
    expect(new Set(scenes.map(({ side }) => side)).size).toBe(kind.includes("flip") ? 2 : 1);
  });
});

describe("the figure of repairs", () => {
  it("counts a repair as right by the part that stands first, and by whether it is mended", () => {
    const board = makeJob([]).boards[0]!.map;
    const repair = { kind: "wrong" as const, seed: 1, board, steps: [], faults: ["C7"] };
    const { attempts } = makeJob([{ attempt: { heat: [{ C7: 0.9 }] } }]);
    const told = [{ findings: attempts[0]!.findings, side: "top" as const }];
    expect(scoreRepair(repair, told)).toMatchObject({ right: true, named: true, mendedRight: true });
    expect(scoreRepair({ ...repair, faults: ["L2"] }, told)).toMatchObject({ right: false, named: false });
    expect(scoreRepair({ ...repair, kind: "wrong-right" }, told).mendedRight).toBe(false);
  });

  it("says which share was right", () => {
    const trials = [true, true, false, true].map((right) => ({ right, named: right, mendedRight: true }));
    expect(REPAIRS.summarise(trials).map(({ value }) => value)).toEqual([0.75, 0.75, 1]);
  });
});
