import { describe, expect, it } from "vitest";
import { holds, openCandidates } from "../../../src/sources/open-candidates.js";
import { heatUnderMirror, mirrorOf, recast } from "../../../src/sources/recast-candidate.js";
import { modelOf } from "./small-model.js";

const { candidates } = modelOf();
const [u1, c2] = [candidates.find(({ ref }) => ref === "U1")!, candidates.find(({ ref }) => ref === "C2")!];

describe("openCandidates", () => {
  it("leaves out what the set holds, as what it is or taken for something else", () => {
    expect(openCandidates([u1, c2], [u1])).toEqual([c2]);
    expect(openCandidates([u1, c2], [recast(c2, "plate")])).toEqual([u1]);
    expect([holds([u1], u1), holds([mirrorOf(u1)], u1), holds([c2], u1)]).toEqual([true, true, false]);
  });

  it("lets a part heat whose face is taken for a mirror, and the face tells nothing of it then", () => {
    const [hidden, other] = openCandidates([u1, c2], [mirrorOf(u1)]);
    expect(other).toBe(c2);
    expect(hidden).toMatchObject({ ref: "U1", kind: "heat", body: null, at: u1.at });
    // The same object each time: its columns are made once.
    expect(openCandidates([u1, c2], [mirrorOf(u1)])[0]).toBe(hidden);
    expect(openCandidates([u1, c2], [mirrorOf(u1), heatUnderMirror(u1)])).toEqual([c2]);
  });

  it("lets a place that no map names heat under a face that mirrors, too, and asks none that warms anyway", () => {
    const free = { ...u1, ref: null, region: -1 };
    const warm = { ...c2, normallyWarm: true };
    expect(openCandidates([free, warm], [mirrorOf(free), mirrorOf(warm)])).toEqual([heatUnderMirror(free)]);
  });

  it("of those that have shown a hill alone, offers a place that no map names as heat that shows no face, once", () => {
    const free = { ...u1, ref: null, region: -1 };
    expect(openCandidates([free, c2], [], new Set([free, c2]))).toEqual([heatUnderMirror(free)]);
    const both = new Set([free, heatUnderMirror(free)]);
    expect(openCandidates([free, c2], [], both)).toEqual([c2]);
  });
});
