import { describe, expect, it } from "vitest";
import { REPAIRS } from "../../evaluate/figures/repairs.js";
import { scoreChanges, scoreRepair } from "../../evaluate/run-repair.js";
import { makeRepair, REPAIR_KINDS, type Repair } from "../../simulate/make-repair.js";
import { makeFindings } from "../compare/make-findings.js";
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

  it("says which share was right, and of those placed without fiducials beside them", () => {
    const trials = [true, true, false, true].map((right, k) => ({
      right,
      named: right,
      mendedRight: true,
      parts: 3,
      partsRight: k === 0 ? 0 : 3,
      unseenTold: 0,
      ...(k < 2 ? { placedRight: k === 0 } : {}),
    }));
    expect(REPAIRS.summarise(trials).map(({ value }) => value)).toEqual([0.75, 0.5, 1, 0.75, 1, 0.75, 0]);
  });

  it("holds each attempt against the one before: what changed, what did not, and what is out of sight", () => {
    const { board } = makeRepair("wrong", 3);
    const scene = (...sources: readonly (readonly [string, "top" | "bottom", number])[]) => ({
      truth: { sources: sources.map(([ref, side, watts]) => ({ ref, side, watts, fault: true })) },
    });
    const steps = [
      { scene: scene(["C6", "top", 0.2]), side: "top" },
      { replaced: "C6" },
      { scene: scene(["R4", "top", 0.3]), side: "top" },
      { scene: scene(["R4", "top", 0.3]), side: "bottom" },
    ];
    const repair = { kind: "moved", seed: 1, board, faults: ["R4", "C6"], steps } as unknown as Repair;
    const heat = (ref: string, sides: readonly ("top" | "bottom")[] = ["top"]) => ({
      findings: makeFindings({ heat: [{ ref, powerW: 0.2 }], sides }),
      side: "top" as const,
    });
    const told = [heat("C6"), { action: { did: "replaced" as const, ref: "C6" } }, heat("R4")];
    // C6 gone, R4 new; then R4 out of sight: unsure is right.
    const right = scoreChanges(repair, [...told, heat("R4", ["bottom"])]);
    expect(right).toMatchObject({ parts: 3, right: 3, unseenTold: 0 });
    const wrong = scoreChanges(repair, [...told.slice(0, 2), heat("U6"), heat("R4", ["bottom"])]);
    expect(wrong.wrong).toEqual(["1→2 R4: none, not new", "1→2 U6: new, but it does not heat"]);
  });
});
