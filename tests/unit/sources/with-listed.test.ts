import { describe, expect, it } from "vitest";
import type { Candidate } from "../../../src/sources/source-model.js";
import { BOARD, showRise } from "./relaxed-plate.js";
import { faultsOf, fitRise, modelOf } from "./small-model.js";

const NOISE_K = 0.04;
/** U2 warms on a healthy board too. */
const warm = modelOf({
  ...BOARD,
  regions: BOARD.regions.map((region) => (region.ref === "U2" ? { ...region, normallyWarm: true } : region)),
});

describe("a fit that is told what of it is listed", () => {
  it("weighs a fault that is not listed against all others where a part that warms anyway surely took power", () => {
    const fit = fitRise(warm, showRise({ U2: 0.25, C1: 0.1 }, NOISE_K, "warm").data);
    const [processor, c1] = ["U2", "C1"].map((ref) => fit.sources.find((one) => one.candidate.ref === ref)!);
    expect(c1!.byFeed).toBeNull();
    const byPower = (listed: Iterable<Candidate>) =>
      fit.withListed(new Set(listed))!.sources.find(({ candidate }) => candidate.ref === "C1")!.byFeed;
    expect(byPower([processor!.candidate, c1!.candidate])).toBeNull();
    const chances = byPower([processor!.candidate])!;
    expect(chances[0]).toMatchObject({ candidate: { ref: "C1" } });
    expect(chances[0]!.probability).toBeGreaterThan(0.9);
    // Nothing that surely took power, and nobody who told of any.
    expect(byPower([])).toBeNull();
  });

  it("has nothing more to weigh where no fault was found", () => {
    const fit = fitRise(warm, showRise({ U2: 0.25 }, NOISE_K, "healthy").data);
    expect(faultsOf(fit)).toEqual([]);
    expect(fit.withListed(new Set())).toBeNull();
  });
});
