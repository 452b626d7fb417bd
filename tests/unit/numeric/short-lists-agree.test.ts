import { afterEach, describe, expect, it } from "vitest";
import { edgeSamples, findEdges } from "../../../src/align/edge-samples.js";
import { useKernels } from "../../../src/numeric/kernels.js";
import { contrastGain } from "../../../src/rise/contrast-gain.js";
import { makeRandom } from "../../simulate/random.js";
import { agreed } from "./both-ways.js";

afterEach(() => useKernels(true));

describe("loops over short lists, by the kernels and by the plain code", () => {
  it.each([
    [9, 9, 0.7, 1.4],
    [43, 43, 1.3, 2.6],
    [61, 17, 3.8, 7.6],
    [5, 80, 2.2, 4.4],
  ])("the gain of a contrast in a frame of %i×%i is the same", (width, height, sigmaPx, widePx) => {
    const gain = agreed(() => contrastGain(width, height, sigmaPx, widePx));
    expect(gain).toHaveLength(width * height);
    expect(gain.every((value) => value > 0)).toBe(true);
  });

  it("edges are read the same, of one shape and of two", () => {
    const [width, height] = [41, 29];
    const random = makeRandom("edges of short lists");
    const [first, second] = [3, 7].map((period) =>
      Float32Array.from({ length: width * height }, (_, i) =>
        i % 97 === 0 ? Number.NaN : Math.sin((i % width) / period) + 0.1 * random.normal(),
      ),
    ) as [Float32Array, Float32Array];
    const edges = findEdges(first, width, height);
    expect(edges.places.length).toBeGreaterThan(40);
    for (const most of [30, Number.POSITIVE_INFINITY]) {
      const one = agreed(() => edgeSamples(edges, [first], width, most));
      const two = agreed(() => edgeSamples(edges, [first, second], width, most));
      expect(two.gate).toEqual(one.gate);
      expect(two.shapes[0]).toEqual(one.shapes[0]);
      expect(
        [...two.y].every(
          (y, k) =>
            two.x[k]! + y * width ===
            edges.places[k * (most === 30 ? Math.ceil(edges.places.length / 30) : 1)],
        ),
      ).toBe(true);
    }
  });
});
