import { describe, expect, it } from "vitest";
import { analyse } from "../../../src/findings/analyse.js";
import type { Analysis } from "../../../src/findings/analysis.js";
import type { Analyse } from "../../evaluate/tool-chain.js";
import { makeAnalyse, stageFiles } from "../../evaluate/varied/bundle-tool.js";
import { type KeptStage, keepStages } from "../../evaluate/varied/kept-stages.js";
import { seeScene } from "../../evaluate/varied/seen-scene.js";
import { makeScene } from "../../simulate/make-scene.js";

describe("keepStages", () => {
  const views = (height: number) => [
    { pair: new Float32Array([1, height]), detected: [], placed: () => height },
  ];
  const begun = (reached: readonly KeptStage[]) => {
    const keeper = keepStages();
    keeper.begin("still 1", null);
    const kept = keeper.prepareViews(() => views(2), []);
    const found = { found: 1 };
    keeper.findOnBoard(() => found, [kept]);
    keeper.begin("still 1", new Set(reached));
    return { keeper, kept, found };
  };
  const notToBeDone = (): never => {
    throw new Error("done again");
  };

  it("gives what was kept where the change does not reach", () => {
    const { keeper, kept, found } = begun([]);
    expect(keeper.prepareViews(notToBeDone, [])).toBe(kept);
    expect(keeper.findOnBoard(notToBeDone, [kept])).toBe(found);
  });

  it("fits anew where the change reaches the fit", () => {
    const { keeper, kept } = begun(["findOnBoard"]);
    expect(keeper.prepareViews(notToBeDone, [])).toBe(kept);
    expect(keeper.findOnBoard(() => "anew", [kept])).toBe("anew");
  });

  it("fits anew where the change reaches the pictures and makes others of them, and only there", () => {
    const { keeper, kept, found } = begun(["prepareViews"]);
    expect(keeper.prepareViews(() => views(2), [])).toBe(kept);
    expect(keeper.findOnBoard(notToBeDone, [kept])).toBe(found);
    const others = views(3);
    expect(keeper.prepareViews(() => others, [])).toBe(others);
    expect(keeper.findOnBoard(() => "anew", [others])).toBe("anew");
  });

  it("keeps scenes apart", () => {
    const { keeper } = begun([]);
    keeper.begin("still 2", new Set());
    const others = views(5);
    expect(keeper.prepareViews(() => others, [])).toBe(others);
  });
});

describe("makeAnalyse", () => {
  const scene = makeScene("burst", 280_000);

  it("says what the tool says, bundled and with stages kept", async () => {
    const keeper = keepStages();
    const made = await makeAnalyse(null, keeper);
    keeper.begin("burst", null);
    const asIs = seeScene(scene, analyse as unknown as Analyse);
    expect(asIs.error).toBeNull();
    expect(seeScene(scene, made)).toEqual(asIs);
    keeper.begin("burst", new Set());
    expect(seeScene(scene, made)).toEqual(asIs);
  });

  it("has the constant changed", async () => {
    const keeper = keepStages();
    const change = {
      path: "src/sources/fit-defaults.ts",
      name: "FIT_DEFAULTS.leastChance",
      to: [0.999],
    };
    const made = await makeAnalyse(change, keeper);
    keeper.begin("burst", null);
    const byPower: boolean[] = [];
    const seeing = (ask: Analyse) =>
      seeScene(scene, (...asked) => {
        const analysis = ask(...asked);
        const { hotspots } = (analysis as unknown as Analysis).findings;
        byPower.push(hotspots.some(({ flags }) => flags.includes("namedByPower")));
        return analysis;
      });
    const [asIs, changed] = [seeing(analyse as unknown as Analyse), seeing(made)];
    expect([asIs.first, changed.first]).toEqual(["U3 top", "U3 top"]);
    // Nothing is so sure that it would be listed; it is named since power was fed in.
    expect(byPower).toEqual([false, true]);
    expect(changed.hash).not.toBe(asIs.hash);
  });

  it("knows which files the stages are made of", async () => {
    const files = await stageFiles();
    expect([...files.keys()]).toEqual(["prepareViews", "findOnBoard"]);
    expect(files.get("prepareViews")).toContain("src/rise/remove-drift.ts");
    expect(files.get("prepareViews")).not.toContain("src/sources/fit-defaults.ts");
    expect(files.get("findOnBoard")).toContain("src/sources/fit-defaults.ts");
    expect(files.get("findOnBoard")).not.toContain("src/align/find-movement.ts");
  });
});
