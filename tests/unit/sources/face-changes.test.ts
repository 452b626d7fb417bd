import { describe, expect, it } from "vitest";
import { faceChanges } from "../../../src/sources/face-changes.js";
import { mirrorOf } from "../../../src/sources/recast-candidate.js";
import { makeRandom } from "../../simulate/random.js";
import { BOARD, showRise, VIEW } from "./relaxed-plate.js";
import { modelOf, pictureOf } from "./small-model.js";

const mean = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0) / values.length;

describe("faceChanges", () => {
  it("tells the change of every named face in view against the board around it, and what it would mirror", () => {
    const model = modelOf({
      ...BOARD,
      regions: BOARD.regions.map((region) => (region.ref === "U1" ? { ...region, emissivity: 0.1 } : region)),
    });
    const rise = showRise({}, 0.02, "changes", { U1: 1.2, U2: 0.1 }).data;
    const changes = faceChanges(model, rise, new Float32Array(rise.length), 0.02);
    expect(changes).toHaveLength(5);
    const [u1, u2, c1] = changes;
    expect(Math.abs(u1!.changeK - 1.2)).toBeLessThan(0.1);
    expect(Math.abs(u2!.changeK - 0.1)).toBeLessThan(4 * u2!.sigmaK + 0.01);
    expect(u1!.share).toBeGreaterThan(5 * u2!.share);
    // A small face has fewer pixels.
    expect(c1!.sigmaK).toBeGreaterThan(u2!.sigmaK);
  });

  /** A board that warmed everywhere by 2 K but for the faces that are given: K by ref. */
  const warmed = (facesK: Readonly<Record<string, number>>) =>
    showRise({}, 0, "warmed", facesK).data.map((value) => 2 + value);

  it("a mirror on a board that warmed is read by itself, a dull face against the board around it", () => {
    const model = modelOf({
      ...BOARD,
      regions: BOARD.regions.map((region) => (region.ref === "U1" ? { ...region, emissivity: 0.1 } : region)),
    });
    const none = new Float32Array(model.size);
    const [u1, u2] = faceChanges(model, warmed({ U1: -2, U2: -2 }), none, 0.02);
    // Both stayed at 0 K: the mirror shows a room that did not change, the dull face is 2 K cooler than its board.
    expect(Math.abs(u1!.changeK)).toBeLessThan(0.1);
    expect(Math.abs(u2!.changeK + 2)).toBeLessThan(0.1);
  });

  it("the heat found around a face is off by a share of itself, and with it the change", () => {
    const model = modelOf();
    const rise = warmed({});
    const sigmas = (heatK: number) =>
      faceChanges(model, rise, new Float32Array(model.size).fill(heatK), 0.02).map(({ sigmaK }) => sigmaK);
    sigmas(5).forEach((sigmaK, k) => {
      // A tenth of 5 K beside what the noise makes.
      expect(sigmaK).toBeCloseTo(Math.hypot(0.5, sigmas(0)[k]!), 5);
    });
  });

  it("of a face smaller than the blur, whose step is raised to what it is without it, the noise is raised with it", () => {
    const blurred = [pictureOf(VIEW, null, 2.5)];
    const model = modelOf(BOARD, blurred);
    const none = new Float32Array(model.size);
    const noiseK = 0.05;
    const draws = Array.from({ length: 60 }, (_, k) => {
      const random = makeRandom(`small faces ${k}`);
      return faceChanges(
        model,
        none.map(() => noiseK * random.normal()),
        none,
        noiseK,
      );
    });
    for (let face = 0; face < draws[0]!.length; face++) {
      const scatter = Math.sqrt(mean(draws.map((one) => one[face]!.changeK ** 2)));
      // Stated for pixels read between others, whose noise is smoother: of white noise less is seen.
      expect(draws[0]![face]!.sigmaK / scatter).toBeGreaterThan(0.9);
      expect(draws[0]![face]!.sigmaK / scatter).toBeLessThan(2.2);
    }
    const [, u2, c1] = draws[0]!;
    // 19 × 16 px against 4.3 × 2.4 px under a blur of 2.5 px: the small one shows a third of its own step.
    expect(c1!.sigmaK).toBeGreaterThan(4 * u2!.sigmaK);
  });

  it("reads a mirror that no map names by itself, as bare metal", () => {
    const model = modelOf();
    const [u2] = model.candidates;
    const undrawn = mirrorOf({ ...u2!, region: -1, ref: null });
    const none = new Float32Array(model.size);
    const changes = faceChanges(model, warmed({ [u2!.ref!]: 1 }), none, 0.02, [undrawn]);
    expect(changes).toHaveLength(6);
    const last = changes.at(-1)!;
    expect(Math.abs(last.changeK - 3)).toBeLessThan(0.1);
    expect(last.share).toBe(0.85);
  });

  it("faces of the other side are not in view", () => {
    const model = modelOf({
      ...BOARD,
      regions: BOARD.regions.map((region) =>
        region.ref === "C1" ? { ...region, side: "bottom" as const } : region,
      ),
    });
    expect(faceChanges(model, warmed({}), new Float32Array(model.size), 0.02)).toHaveLength(4);
  });
});
