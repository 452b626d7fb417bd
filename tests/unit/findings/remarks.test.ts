import { describe, expect, it } from "vitest";
import { createRaster } from "../../../src/core/raster.js";
import { findHotspots } from "../../../src/findings/find-hotspots.js";
import { type Frame, frameFromRaster } from "../../../src/frames/frame.js";
import { makeRandom } from "../../simulate/random.js";

const width = 72;
const height = 54;

/** A square board on a table, with a spot of so many kelvin at (30, 22), under 40 mK of noise. */
function frame(seed: string, spotK: number): Frame {
  const random = makeRandom(seed);
  const data = Float32Array.from({ length: width * height }, (_, i) => {
    const x = i % width;
    const y = Math.floor(i / width);
    const board = x > 11 && x < 58 && y > 8 && y < 43 ? 1.3 : 0;
    const spot = spotK * Math.exp(-((x - 30) ** 2 + (y - 22) ** 2) / (2 * 1.7 ** 2));
    return 22 + board + spot + 0.04 * random.normal();
  });
  return frameFromRaster(createRaster("degC", width, height, data));
}

const named = (given: Frame, file: string, sha256: string): Frame => ({ ...given, file, sha256 });
const codes = (baseline: Frame, powered: Frame): string[] =>
  findHotspots({ baseline: [baseline], powered: [powered] }).notes.map((note) => note.code);

describe("remarks on the frames", () => {
  it("frames the wrong way round are called that, frames the right way round are not", () => {
    expect(codes(frame("before", 0), frame("after", 4))).not.toContain("N_ROLES_SWAPPED");
    expect(codes(frame("after", 4), frame("before", 0))).toContain("N_ROLES_SWAPPED");
    expect(codes(frame("before", 0), frame("later", 0))).not.toContain("N_ROLES_SWAPPED");
  });

  it("a wide spot that is gone is frames the wrong way round only where no mirrored person can be so warm", () => {
    // Wider than the finest size tells by itself, beside a little that warmed: as under a lens that is near.
    const wide = (seed: string, spotK: number, otherK: number): Frame => {
      const { raster } = frame(seed, 0);
      const data = raster.data.map((value, i) => {
        const [x, y] = [i % width, Math.floor(i / width)];
        const spot = spotK * Math.exp(-((x - 30) ** 2 + (y - 24) ** 2) / (2 * 7 ** 2));
        return value + spot + otherK * Math.exp(-((x - 50) ** 2 + (y - 34) ** 2) / (2 * 1.3 ** 2));
      });
      return frameFromRaster(createRaster("degC", width, height, data));
    };
    const goneK = (spotK: number, otherK: number): string[] =>
      codes(wide("before", spotK, 0), wide("later", 0, otherK));
    expect(goneK(22, 2.5)).toContain("N_ROLES_SWAPPED");
    // A hand of 34 °C in a can, the room at 24 °C.
    expect(goneK(10, 0.5)).not.toContain("N_ROLES_SWAPPED");
    // The right way round, and a change of both kinds.
    expect(codes(wide("later", 0, 2.5), wide("before", 22, 0))).not.toContain("N_ROLES_SWAPPED");
    expect(goneK(22, 12)).not.toContain("N_ROLES_SWAPPED");
  });

  it("one file in both roles is named; two files of equal size are not", () => {
    const first = named(frame("before", 0), "one.csv", "a1");
    const second = named(frame("later", 0), "two.csv", "b2");
    expect(codes(first, first)).toContain("N_SAME_FRAMES");
    expect(codes(first, second)).not.toContain("N_SAME_FRAMES");
    // Frames made in memory have no hash: nothing is claimed of them.
    expect(codes(frame("x", 0), frame("x", 0))).not.toContain("N_SAME_FRAMES");
  });

  it("one file of several frames in both roles is told how to be given", () => {
    const [a, b] = [named(frame("before", 0), "both.csv", "a1"), named(frame("after", 4), "both.csv", "a1")];
    const text = (baseline: Frame[]): string =>
      findHotspots({ baseline, powered: baseline }).notes.find(({ code }) => code === "N_SAME_FRAMES")!.text;
    expect(text([a, b])).toMatch(/The file holds 2 frames, .* export each as a file of its own\.$/);
    expect(text([a])).toMatch(/nothing can have changed in it\.$/);
  });

  it("a change of everything by 50 K is no drift and no heat: the unit is in doubt", () => {
    const { raster } = frame("later", 0);
    const warmer = frameFromRaster(
      createRaster(
        "degC",
        width,
        height,
        raster.data.map((v) => v + 50),
      ),
    );
    expect(codes(frame("before", 0), warmer)).toContain("N_DRIFT_LARGE");
    expect(codes(frame("before", 0), frame("later", 4))).not.toContain("N_DRIFT_LARGE");
  });

  it("a baseline that is too cold or too hot for a bench brings unit and scale in doubt, and nothing else does", () => {
    const at = (change: (valueC: number) => number) => {
      const { raster } = frame("before", 0);
      return frameFromRaster(createRaster("degC", width, height, raster.data.map(change)));
    };
    const said = (change: (valueC: number) => number): string | undefined =>
      findHotspots({ baseline: [at(change)], powered: [at(change)] }).notes.find(
        ({ code }) => code === "N_TEMPERATURE_DOUBT",
      )?.text;
    const middle = (text: string | undefined): number => Number(/it is ([\d.]+) °C/.exec(text ?? "")?.[1]);
    expect(said((v) => v)).toBeUndefined();
    // °C read as °F, and °F as °C: what it would be is what it was.
    const cold = said((v) => ((v - 32) * 5) / 9);
    const hot = said((v) => (v * 9) / 5 + 32);
    expect(cold).toContain("if it holds °C and was read as °F");
    expect(hot).toContain("if it holds °F and was read as °C");
    expect(middle(cold)).toBeCloseTo(middle(hot), 0);
    // Whatever is usual on a bench is told where its °C were read as °F, by --unit or a slip: nothing usual passes for
    // usual twice.
    for (let usualC = 10; usualC <= 40; usualC += 2.5) {
      const asF = said((v) => ((v * 0 + usualC - 32) * 5) / 9);
      expect([usualC, asF?.slice(0, 26)]).toEqual([usualC, "The middle of the baseline"]);
    }
    // Neither explains counts with a wrong gain.
    expect(said((v) => v / 100)).toMatch(/is 0\.\d °C, cold for a board without power/);
  });

  it("nothing hot, and the smallest peak that would have been seen is between the noise and a kelvin", () => {
    const { hotspots, notes, threshold } = findHotspots({
      baseline: [frame("before", 0)],
      powered: [frame("later", 0)],
    });
    expect(hotspots).toEqual([]);
    expect(notes.map((note) => note.code)).toContain("N_NOTHING_HOT");
    expect(threshold.riseK).toBeGreaterThan(0.04);
    expect(threshold.riseK).toBeLessThan(1);
  });
});
