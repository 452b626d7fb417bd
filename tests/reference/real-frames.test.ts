// Reference: real measurements by others, read where they lie and never copied; see the README of that folder.
import { describe, expect, it } from "vitest";
import { readFrames } from "../../src/read/read-frames.js";
import { sharedFolder } from "./shared-folder.js";

const real = sharedFolder("real-frames");

describe.skipIf(real.missing)(`real frames are read${real.title}`, () => {
  it.each(["spot-a", "spot-b"])(
    "%s: five frames of text, 128×96, room temperature with one hot spot",
    async (folder) => {
      const { frames, notes } = await readFrames([`${real.path}/${folder}`]);
      expect(frames.map((f) => [f.raster.width, f.raster.height])).toEqual(
        Array.from({ length: 5 }, () => [128, 96]),
      );
      expect(frames.map((f) => f.file?.slice(-7))).toEqual([...frames.map((f) => f.file?.slice(-7))].sort());
      for (const frame of frames) {
        const sorted = Float64Array.from(frame.raster.data).sort();
        // A room is between 15 and 35 °C; the spot does not reach half of the picture.
        expect(sorted[0]).toBeGreaterThan(15);
        expect(sorted[sorted.length >> 1]).toBeGreaterThan(20);
        expect(sorted[sorted.length >> 1]).toBeLessThan(35);
      }
      const peaks = frames.map((f) => Math.max(...f.raster.data));
      // The laser has been on longer in each later frame.
      expect(peaks).toEqual([...peaks].sort((a, b) => a - b));
      expect(notes.map((n) => n.code)).toEqual(["N_UNIT_ASSUMED"]);
    },
  );

  it("uniform: sixteen 16-bit pictures whose noise is as published", async () => {
    const { frames, notes } = await readFrames([`${real.path}/uniform/*.png`], {
      scale: { lowC: 0, highC: 1143.717 },
    });
    expect(frames).toHaveLength(16);
    expect(notes).toEqual([]);
    expect(frames[0]!.raster).toMatchObject({ width: 320, height: 240 });
    // The folder's README: 57.3 counts per K, 37 mK per pixel (29–46 over pixels), level drifts by 0.17 K in 60 frames.
    expect(1 / frames[0]!.stepK!).toBeCloseTo(57.3, 1);
    const [a, b] = [frames[0]!.raster.data, frames[1]!.raster.data];
    const differences = Float64Array.from(a, (v, i) => v - b[i]!).sort();
    const median = differences[differences.length >> 1]!;
    const spread = differences.map((d) => Math.abs(d - median)).sort()[differences.length >> 1]!;
    const sigmaK = (1.4826 * spread) / Math.SQRT2;
    expect(sigmaK).toBeGreaterThan(0.029);
    expect(sigmaK).toBeLessThan(0.046);
  });

  it("uniform without a scale is refused, with how to give one", async () => {
    await expect(readFrames([`${real.path}/uniform`])).rejects.toThrow(/E_SCALE_NONE.*--scale LO:HI/);
  });
});
