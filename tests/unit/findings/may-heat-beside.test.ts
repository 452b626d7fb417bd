import { describe, expect, it } from "vitest";
import { analyse } from "../../../src/findings/analyse.js";
import { standingFindings } from "../../../src/findings/standing-findings.js";
import { asFrame } from "../../evaluate/tool-chain.js";
import { makeScene } from "../../simulate/make-scene.js";
import { expectContract } from "./expect-contract.js";

/** Two parts that nearly touch heat alike, one of them under a finish that may mirror. */
const scene = makeScene("near-parts", 248_130);
const framesOf = (frames: typeof scene.baseline) => frames.map((frame, k) => asFrame(frame, k));
const { findings, sources } = analyse({
  baseline: framesOf(scene.baseline),
  powered: framesOf(scene.powered),
  board: scene.board,
  view: scene.view,
} as Parameters<typeof analyse>[0]);
const faults = scene.truth.sources.filter(({ fault }) => fault).map(({ ref }) => ref);

describe("a part that may heat right beside a source", () => {
  it("is a hotspot after all others, with a mark, and a suspect with its chance", () => {
    expectContract(findings);
    const beside = findings.hotspots.filter(({ flags }) => flags.includes("besideHeat"));
    expect(beside.map(({ rank }) => rank)).toEqual([findings.hotspots.length]);
    const [first, second] = findings.suspects.filter(({ normallyWarm }) => !normallyWarm);
    expect([first!.ref, second!.ref].sort()).toEqual([...faults].sort());
    expect(first!.probability).toBeGreaterThan(0.9);
    expect(second!.hotspot).toBe(beside[0]!.rank);
    expect(second!.probability).toBeGreaterThan(0.2);
    expect(second!.probability).toBeLessThan(0.5);
    expect(second!.why[0]).toMatch(new RegExp(`^Beside ${first!.ref} the frames`));
    expect(findings.verdict).toMatch(new RegExp(`; ${second!.ref} right beside it may heat as well \\(`));
  });

  it("is no rival of the first, heats in no book, and is not what attempts are compared by", () => {
    const [first, second] = findings.suspects;
    expect(findings.unexplained! + first!.probability).toBeCloseTo(1, 6);
    expect(findings.parts!.find(({ ref }) => ref === second!.ref)!.hotspot).toBeNull();
    expect(sources.at(-1)).toBeNull();
    const standing = standingFindings(findings);
    expect(standing.suspects.map(({ ref }) => ref)).not.toContain(second!.ref);
    expect(findings.artefacts.filter(({ reason }) => reason.includes(second!.ref))).toEqual([]);
  });
});
