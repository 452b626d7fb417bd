import { describe, expect, it } from "vitest";
import { gaussianFilter } from "../../../src/numeric/gaussian-filter.js";
import { coolFaces } from "../../../src/sources/cool-faces.js";
import { makeRandom } from "../../simulate/random.js";
import { modelOf } from "./small-model.js";

const model = modelOf();
const [width, height] = [128, 96];
const SIGMA_K = 0.04;
const variance = new Float32Array(model.size).fill(SIGMA_K ** 2);
const nowhere = new Uint8Array(model.size);

/** A board that warmed by 2 K on the left and less and less to the right. */
const heat = Float32Array.from({ length: model.size }, (_, i) => 2 * Math.exp(-(i % width) / 90));

/** What the camera shows of it: through a face at (60…71, 40…47) only so great a share. */
function shown(share: number): Float32Array {
  const random = makeRandom("cool faces");
  const through = new Float32Array(model.size).fill(1);
  for (let y = 40; y < 48; y++) through.fill(share, y * width + 60, y * width + 72);
  const blurred = gaussianFilter(through, width, height, 1);
  return heat.map((value, i) => value * blurred[i]! + SIGMA_K * random.normal());
}

const marked = (out: Uint8Array): number => out.reduce((a, b) => a + b, 0);

describe("coolFaces", () => {
  it("a face that shows a tenth of the heat around it is marked whole, with the blur of its edge", () => {
    const out = coolFaces(shown(0.1), heat, variance, nowhere, model.pictures);
    for (let y = 39; y < 49; y++) for (let x = 60; x < 72; x++) expect(out[y * width + x]).toBe(1);
    // 12 × 8, and up to three pixels more each way.
    expect(marked(out)).toBeLessThan(18 * 14);
  });

  it("a board that shows all of its heat has none", () => {
    expect(marked(coolFaces(shown(1), heat, variance, nowhere, model.pictures))).toBe(0);
  });

  it("a face that shows most of it is dull, and none", () => {
    expect(marked(coolFaces(shown(0.8), heat, variance, nowhere, model.pictures))).toBe(0);
  });

  it("heat that falls off more steeply than was thought has no edge", () => {
    const steep = heat.map((value, i) => value * Math.exp(-(i % width) / 40));
    expect(marked(coolFaces(steep, heat, variance, nowhere, model.pictures))).toBe(0);
  });

  it("the face of a named part is that part's matter", () => {
    const named = new Uint8Array(model.size);
    for (let y = 36; y < 52; y++) named.fill(1, y * width + 56, y * width + 76);
    expect(marked(coolFaces(shown(0.1), heat, variance, named, model.pictures))).toBe(0);
  });

  it("a face around which nothing has a reading has no edge that could be seen", () => {
    const seen = shown(0.1);
    for (let y = 30; y < 58; y++) {
      for (let x = 50; x < 82; x++)
        if (x < 61 || x > 70 || y < 41 || y > 46) seen[y * width + x] = Number.NaN;
    }
    expect(marked(coolFaces(seen, heat, variance, nowhere, model.pictures))).toBe(0);
    const known = new Uint8Array(model.size);
    seen.forEach((value, i) => {
      if (Number.isNaN(value)) known[i] = 1;
    });
    // The same face with the faces of named parts around it.
    expect(marked(coolFaces(shown(0.1), heat, variance, known, model.pictures))).toBe(0);
  });

  it("where the board hardly warmed nothing can be told", () => {
    const faint = heat.map((value) => 0.05 * value);
    const seen = shown(0.1).map((value) => 0.05 * value);
    expect(marked(coolFaces(seen, faint, variance, nowhere, model.pictures))).toBe(0);
  });
});
