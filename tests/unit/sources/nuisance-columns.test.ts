import { describe, expect, it } from "vitest";
import { boundsOf } from "../../../src/board/polygon.js";
import { nuisanceColumns, smoothWaves } from "../../../src/sources/nuisance-columns.js";
import { VIEW } from "./relaxed-plate.js";
import { modelOf } from "./small-model.js";

const model = modelOf();
const [picture] = model.pictures as [(typeof model.pictures)[number]];
const plain = { boardLevelK: 0.5, smoothK: 0.2, blurWidths: 0, restK: 0, smoothWavelengthMm: 8 };

/** Prior of each wave, level first, as smoothWaves orders them. */
const priors = (options: Partial<typeof plain>, modelK = 0): number[] =>
  smoothWaves(model.outline, picture, modelK, { ...plain, ...options }).map(({ priorSigma }) => priorSigma);

describe("smoothWaves", () => {
  it("falls with the order where nothing is blurred", () => {
    const [level, first, second] = priors({});
    expect([level, first, second]).toEqual([0.5, 0.2 / Math.sqrt(1.25), 0.2 / Math.sqrt(2)]);
  });

  it("of what is mirrored leaves the Gaussian's share of the wave: exp(−(π·radius·cycles)²)", () => {
    // The Fourier transform of exp(−x²/r²) is exp(−(π·r·f)²) of that at 0 (any table of transforms).
    const { minX, maxX } = boundsOf(model.outline);
    const { view, seen } = picture;
    const left = view.toBoard([0, 0] as never);
    const right = view.toBoard([seen.width, 0] as never);
    const widthMm = Math.hypot(right[0] - left[0], right[1] - left[1]);
    const ratio = priors({ blurWidths: 0.2 }).map((sigma, k) => sigma / priors({})[k]!);
    // Waves along x come first: 0, 1, 2 … half waves over the board.
    for (const k of [1, 2, 3]) {
      const cycles = (widthMm * k) / (2 * (maxX - minX));
      expect(ratio[k]).toBeCloseTo(Math.exp(-((Math.PI * 0.2 * cycles) ** 2)), 10);
    }
    expect(ratio[0]).toBe(1);
  });

  it("adds what has any wavelength, and the model's own error, as squares", () => {
    const both = priors({ restK: 0.03, blurWidths: 9 }, 0.04);
    expect(both[1]).toBeCloseTo(0.05 / Math.sqrt(1.25), 10);
    expect(both[0]).toBeCloseTo(Math.hypot(0.5, 0.03, 0.04), 10);
  });
});

describe("nuisanceColumns", () => {
  it("lays the waves over the board alone", () => {
    const columns = nuisanceColumns({ outline: model.outline } as never, picture, model.size, 0.1, 0, {
      smoothK: 0.3,
    });
    const onBoard = picture.seen.pixels.length;
    expect(onBoard).toBeLessThan(0.9 * VIEW.frame.width * VIEW.frame.height);
    expect(columns[0]?.what).toBe("level");
    expect(columns.filter(({ what }) => what === "smooth").length).toBeGreaterThan(0);
    for (const { what, column } of columns.filter(({ what }) => what === "level" || what === "smooth")) {
      expect(column.values.length, what).toBe(onBoard);
    }
  });
});
