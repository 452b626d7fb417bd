import { describe, expect, it } from "vitest";
import { unexplainedPixels } from "../../../src/sources/unexplained-pixels.js";
import { makeRandom } from "../../simulate/random.js";
import { modelOf } from "./small-model.js";

const model = modelOf();
const width = 128;
const SIGMA_K = 0.04;
const variance = new Float32Array(model.size).fill(SIGMA_K ** 2);
const nowhere = new Uint8Array(model.size);

/** Noise, with rectangles that changed by so many sigma. */
function residual(boxes: readonly (readonly [number, number, number, number, number])[]): Float32Array {
  const random = makeRandom("unexplained");
  const out = Float32Array.from({ length: model.size }, () => SIGMA_K * random.normal());
  for (const [left, top, w, h, sigmas] of boxes) {
    for (let y = top; y < top + h; y++) {
      for (let x = left; x < left + w; x++) out[y * width + x]! += sigmas * SIGMA_K;
    }
  }
  return out;
}

const marked = (out: Uint8Array): string[] =>
  [...out].flatMap((value, i) => (value === 1 ? [`${i % width},${Math.floor(i / width)}`] : []));

describe("unexplainedPixels", () => {
  it("noise alone marks nothing: 12,000 pixels reach 6 sigma once in 40,000 frames", () => {
    expect(marked(unexplainedPixels(residual([]), variance, nowhere, model.pictures))).toEqual([]);
  });

  it.each([12, -12])("a patch that is %f sigma off is marked whole, with a pixel around it", (sigmas) => {
    const found = marked(
      unexplainedPixels(residual([[40, 30, 5, 3, sigmas]]), variance, nowhere, model.pictures),
    );
    for (let y = 29; y <= 33; y++) for (let x = 39; x <= 45; x++) expect(found).toContain(`${x},${y}`);
    // 7 × 5, and at most a few neighbours that noise has taken beyond the limit of growing.
    expect(found.length).toBeLessThan(35 + 10);
  });

  it("on the face of a part it is that part's matter", () => {
    const face = new Uint8Array(model.size);
    for (let y = 28; y < 36; y++) face.fill(1, y * width + 38, y * width + 48);
    expect(marked(unexplainedPixels(residual([[40, 30, 5, 3, 12]]), variance, face, model.pictures))).toEqual(
      [],
    );
  });

  it("pixels that took no part are neither marked nor grown over", () => {
    const left = residual([[40, 30, 5, 3, 12]]);
    for (let y = 0; y < 96; y++) left[y * width + 43] = Number.NaN;
    const found = marked(unexplainedPixels(left, variance, nowhere, model.pictures, { marginPx: 0 }));
    expect(found).toContain("42,31");
    expect(found).not.toContain("43,31");
  });
});
