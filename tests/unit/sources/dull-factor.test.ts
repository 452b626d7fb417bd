import { describe, expect, it } from "vitest";
import { dullFactors } from "../../../src/sources/dull-factor.js";
import type { NamedChange } from "../../../src/sources/face-changes.js";
import { makeRandom } from "../../simulate/random.js";
import { modelOf, partOf } from "./small-model.js";

const model = modelOf();
const candidate = partOf(model, "C1");
const SIGMA_K = 0.01;
const SHARE = 0.07;
const ROOM_K = 4;

/** Faces that show so many times what dull ones are taken to: Laplace deviates, and noise. */
function facesShowing(factor: number, count: number, share = SHARE): NamedChange[] {
  const random = makeRandom(`dull ${factor}`);
  return Array.from({ length: count }, () => {
    const laplace = random.sign() * -Math.log(1 - random.uniform(0, 1));
    return {
      candidate,
      share,
      sigmaK: SIGMA_K,
      changeK: factor * SHARE * ROOM_K * laplace + SIGMA_K * random.normal(),
    };
  });
}

describe("dullFactors", () => {
  it.each([0.3, 1, 2])("recovers a factor of %f from many dull faces", (factor) => {
    // Forty Laplace deviates tell their size to 16 % (1 ÷ √40); what was expected beforehand draws a little.
    expect(
      Math.abs(Math.log(dullFactors(facesShowing(factor, 40), () => ROOM_K)(candidate) / factor)),
    ).toBeLessThan(0.45);
  });

  it("is what was expected where no dull face is in view", () => {
    expect(dullFactors([], () => ROOM_K)(candidate)).toBe(1);
    expect(dullFactors(facesShowing(3, 40, 0.85), () => ROOM_K)(candidate)).toBe(1);
  });

  it("and about that where the room changed by less than faces can show", () => {
    const quiet = dullFactors(facesShowing(1, 40), () => 0.01)(candidate);
    expect(quiet).toBeGreaterThan(0.5);
  });

  it("is that of faces of about the same size", () => {
    const large = partOf(model, "U2");
    const quiet = facesShowing(0.2, 20).map((one) => ({ ...one, candidate: large }));
    const factor = dullFactors([...quiet, ...facesShowing(2, 20)], () => ROOM_K);
    expect(factor(large)).toBeLessThan(0.5);
    expect(factor(candidate)).toBeGreaterThan(1);
  });

  it("a part that heats changes it next to nothing", () => {
    const faces = facesShowing(0.3, 20);
    const heating = { candidate, share: SHARE, sigmaK: SIGMA_K, changeK: 2.5 };
    const factor = (some: readonly NamedChange[]) => dullFactors(some, () => ROOM_K)(candidate);
    const ratio = factor([...faces, heating]) / factor(faces);
    expect(Math.abs(Math.log(ratio))).toBeLessThan(0.15);
  });
});
