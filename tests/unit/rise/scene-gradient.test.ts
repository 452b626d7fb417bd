import { afterEach, describe, expect, it } from "vitest";
import { createRaster } from "../../../src/core/raster.js";
import { useKernels } from "../../../src/numeric/kernels.js";
import { sceneGradient } from "../../../src/rise/scene-gradient.js";

afterEach(() => useKernels(true));

describe("sceneGradient", () => {
  it("a plane has its slope everywhere but on the border and around a missing reading", () => {
    const scene = createRaster("degC", 30, 20);
    for (let i = 0; i < 600; i++) scene.data[i] = 20 + 0.3 * (i % 30) - 0.4 * Math.floor(i / 30);
    const steep = sceneGradient(scene);
    for (let x = 0; x < 30; x++) expect(steep[x]).toBe(0);
    for (let y = 0; y < 20; y++) expect(steep[y * 30 + 29]).toBe(0);
    // Away from the border (4 σ of the smoothing) a plane goes through a filter unchanged: 3-4-5.
    for (let y = 6; y < 14; y++) {
      for (let x = 6; x < 24; x++) expect(steep[y * 30 + x]).toBeCloseTo(0.5, 4);
    }
    scene.data[10 * 30 + 15] = Number.NaN;
    const holed = sceneGradient(scene);
    expect(holed[10 * 30 + 14]).toBe(0);
    expect(holed.every((g) => Number.isFinite(g) && g >= 0)).toBe(true);
  });

  it("puts the result where a picture is that nobody needs any more, if that is wanted", () => {
    const scene = createRaster(
      "degC",
      24,
      18,
      Float32Array.from({ length: 432 }, (_, i) => Math.sin(i / 3)),
    );
    for (const kernels of [true, false]) {
      useKernels(kernels);
      const place = new Float32Array(432).fill(7);
      expect(sceneGradient(scene, place)).toBe(place);
      expect(place).toEqual(sceneGradient(scene));
    }
  });
});
