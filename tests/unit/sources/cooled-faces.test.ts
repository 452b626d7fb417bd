import { describe, expect, it } from "vitest";
import { cooledFaces } from "../../../src/sources/cooled-faces.js";
import { isFault, mirrorOf, withMirrors } from "../../../src/sources/recast-candidate.js";
import type { Candidate } from "../../../src/sources/source-model.js";
import { BOARD, showRise } from "./relaxed-plate.js";
import { fitRise, modelOf, partOf } from "./small-model.js";

const BAR = { cooledSigma: 4, cooledPixels: 3, cooledShare: 0.25 };
const variance = new Float32Array(24).fill(0.01);
const residual = Float32Array.from({ length: 24 }, (_, i) => (i < 8 ? -0.5 : 0.1));
// All of it warmed by 1 K, but for the face of the warm part.
const rise = Float32Array.from({ length: 24 }, (_, i) => (i > 2 && i < 6 ? 0.5 : 1));
const pictures = [{ seen: { width: 24, height: 1 }, offset: 0 }] as never;

function face(pixels: readonly number[], normallyWarm: boolean): Candidate {
  const body = { at: Int32Array.from(pixels), values: new Float32Array(pixels.length).fill(0.9) };
  return {
    kind: "heat",
    region: pixels[0]!,
    at: [pixels[0]!, 0],
    body,
    normallyWarm,
    footprint: {},
  } as never;
}

describe("cooledFaces", () => {
  const cold = { powersW: [0, 0.2, 0], bodyShares: [0, 0, 0] } as never;
  const [part, warm, level] = [face([0, 1, 2], false), face([3, 4, 5], true), face([10, 11, 12], true)];
  const all = [part, warm, level];

  it("finds parts that are not in the set, and those that warm on a healthy board and are", () => {
    expect(
      cooledFaces(all, [warm, level], { rise, residual, variance, answer: cold }, pictures, BAR),
    ).toEqual([part, warm]);
  });

  it("but not those that the fit finds warm: what it leaves there is how unevenly they are", () => {
    const answer = { powersW: [0.2, 0], bodyShares: [0.4, 0] } as never;
    expect(cooledFaces(all, [warm, level], { rise, residual, variance, answer }, pictures, BAR)).toEqual([
      part,
    ]);
  });

  it("nor those that are about as warm as the board beside them, however much more the fit expects of them", () => {
    const found = (faceK: number) => {
      const shown = Float32Array.from(rise, (valueK, i) => (i < 3 || i > 5 ? valueK : faceK));
      return cooledFaces(
        all,
        [warm, level],
        { rise: shown, residual, variance, answer: cold },
        pictures,
        BAR,
      );
    };
    // 10 % of 1 K may be missing.
    expect([0.89, 0.91, 1.5].map((faceK) => found(faceK).includes(warm))).toEqual([true, false, false]);
  });

  it("and none twice", () => {
    const set = withMirrors([warm, level], [mirrorOf(part), mirrorOf(warm)]);
    expect(cooledFaces(all, set, { rise, residual, variance, answer: cold }, pictures, BAR)).toEqual([]);
  });
});

describe("a part that warms on a healthy board, its face taken for a mirror", () => {
  it("stays in the set as heat that its face does not show", () => {
    const warm = face([3, 4, 5], true);
    const set = withMirrors([warm], [mirrorOf(warm)]);
    expect(set.map(({ kind, body }) => [kind, body === null])).toEqual([
      ["heat", true],
      ["mirror", false],
    ]);
    expect(set.some(isFault)).toBe(false);
  });

  it("does not hide what heats beside it by what its face leaves", () => {
    const board = {
      ...BOARD,
      regions: BOARD.regions.map((region) =>
        region.ref === "U2" ? { ...region, normallyWarm: true } : region,
      ),
    };
    const model = modelOf(board);
    const rise = showRise({ C1: 0.02 }, 0.04, "cold lid").data;
    const { at, values } = partOf(model, "U2").body!;
    at!.forEach((pixel, k) => {
      rise[pixel]! -= 3 * values[k]!;
    });
    const fit = fitRise(model, rise);
    expect(fit.mirrors.map(({ ref }) => ref)).toContain("U2");
    expect(fit.sources.map(({ candidate }) => candidate.ref)).toEqual(["C1"]);
    expect(fit.scale).toBeLessThan(1.5);
  });
});
