import { describe, expect, it } from "vitest";
import { gaussianFilter } from "../../../src/numeric/gaussian-filter.js";
import { sharpDips } from "../../../src/sources/sharp-dips.js";
import { makeRandom } from "../../simulate/random.js";
import { modelOf } from "./small-model.js";

const model = modelOf();
const [width, height] = [128, 96];
/** The board's 40 mm fill 128 pixels. */
const VIEW_MM_PER_PX = 40 / 128;
const SIGMA_K = 0.04;
const noise = new Float32Array(model.size).fill(SIGMA_K ** 2);
const nowhere = new Uint8Array(model.size);
/** A board that is a kelvin warmer everywhere: no slope. */
const warm = new Float32Array(model.size).fill(1);
const flat = new Float32Array(model.size);

/** What a fit leaves: noise, and a change of so many K at some pixels, blurred by the optics. */
function left(changeK: number, at: (x: number, y: number) => number): Float32Array {
  const random = makeRandom("sharp dips");
  const change = Float32Array.from({ length: model.size }, (_, i) => at(i % width, Math.floor(i / width)));
  return gaussianFilter(change, width, height, 1).map((value) => changeK * value + SIGMA_K * random.normal());
}

const pad = (x: number, y: number): number => (x >= 60 && x < 64 && y >= 40 && y < 44 ? 1 : 0);
const marked = (out: Uint8Array): number => out.reduce((a, b) => a + b, 0);

describe("sharpDips", () => {
  it("a pad that shows half a kelvin less than the board around it is marked, with little around it", () => {
    const out = sharpDips(left(-0.5, pad), noise, warm, flat, nowhere, model.pictures);
    for (let y = 40; y < 44; y++) for (let x = 60; x < 64; x++) expect(out[y * width + x]).toBe(1);
    // 4 × 4, and up to three pixels more each way.
    expect(marked(out)).toBeLessThan(10 * 10);
  });

  it("a place that shows as much more may be heat, and is none", () => {
    expect(marked(sharpDips(left(0.5, pad), noise, warm, flat, nowhere, model.pictures))).toBe(0);
  });

  it("noise alone makes none", () => {
    expect(marked(sharpDips(left(0, pad), noise, warm, flat, nowhere, model.pictures))).toBe(0);
  });

  it("a board cooler than thought by a wave of 14 mm is copper's matter, and has none", () => {
    const wave = (x: number): number => Math.cos((2 * Math.PI * x) / (14 / VIEW_MM_PER_PX));
    expect(marked(sharpDips(left(-0.2, wave), noise, warm, flat, nowhere, model.pictures))).toBe(0);
  });

  it("the face of a named part is that part's matter", () => {
    const named = new Uint8Array(model.size);
    for (let y = 36; y < 48; y++) named.fill(1, y * width + 56, y * width + 68);
    expect(marked(sharpDips(left(-0.5, pad), noise, warm, flat, named, model.pictures))).toBe(0);
  });

  it("where nothing is warm a face can't show less of it: what a mirror lost is not left out as a pad", () => {
    expect(marked(sharpDips(left(-0.5, pad), noise, flat, flat, nowhere, model.pictures))).toBe(0);
  });

  it("where the heat found is steep, its place leaves more than that", () => {
    const steep = new Float32Array(model.size).fill(2);
    expect(marked(sharpDips(left(-0.5, pad), noise, warm, steep, nowhere, model.pictures))).toBe(0);
  });
});
