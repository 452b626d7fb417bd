// Constants whose reason is a derivation: it is done again here, from the values that stand in the code.
import { describe, expect, it } from "vitest";
import type { View } from "../../src/board/board-schema.js";
import { CLICK_SIGMA_PX } from "../../src/board/click-covariance.js";
import { FINISH_EMISSIVITY } from "../../src/board/emissivity.js";
import { placeView } from "../../src/board/place-view.js";
import { framePoint } from "../../src/core/units.js";
import { OPTICS_SIGMA_PX } from "../../src/frames/optics.js";
import { normalTail, zForTail } from "../../src/numeric/normal-distribution.js";
import { constantNumbers } from "../evaluate/varied/replace-constant.js";
import { readText } from "./project.js";

const EDGES = "src/align/edge-samples.ts";
const MOVEMENT = "src/align/find-movement.ts";
const constant = (path: string, name: string): number => constantNumbers(readText(path), name)[0]!;

describe("constants that are derived", () => {
  it("NOISE_GATE, NOISE_SLOPE: what exponential squared slopes make of the gate", () => {
    const half = constant(EDGES, "GATE_FACTOR") * Math.LN2;
    const least = constant(EDGES, "LEAST_GATE");
    // The median of an exponential is ln 2 of its mean; g = least at half · √(least ÷ (1 − least)).
    const from = half * Math.sqrt(least / (1 - least));
    expect(Math.exp(-from)).toBeCloseTo(1 / 16, 3);
    let [gates, slopes] = [0, 0];
    const dx = 1e-3;
    for (let x = from + dx / 2; x < 60; x += dx) {
      const g = (x * x) / (x * x + half * half);
      gates += g * Math.exp(-x) * dx;
      slopes += g * x * Math.exp(-x) * dx;
    }
    expect(gates).toBeCloseTo(constant(EDGES, "NOISE_GATE"), 4);
    expect(slopes).toBeCloseTo(constant(EDGES, "NOISE_SLOPE"), 4);
  });

  it("drawnPlacePx, drawnMisfitPx: clicks at four corners, and shapes drawn by hand", () => {
    const [width, height] = [58, 34];
    const pxPerMm = 1 / 0.36;
    const corners = [
      [0, 0],
      [width, 0],
      [width, height],
      [0, height],
    ] as const;
    const fiducials = corners.map(([x, y]): View["fiducials"][number] => ({
      board: [x, y],
      pixel: [x * pxPerMm, y * pxPerMm],
    }));
    const frame = { width: 161, height: 95 };
    const view = placeView({ kind: "faultglow/view", version: 1, side: "top", frame, fiducials });
    let [mean2, count] = [0, 0];
    for (let x = 0.5; x < width; x++) {
      for (let y = 0.5; y < height; y++, count++) {
        const { xx, yy } = view.covarianceAt(framePoint(x * pxPerMm, y * pxPerMm));
        mean2 += (xx + yy) / 2;
      }
    }
    mean2 /= count;
    const shift = CLICK_SIGMA_PX / Math.sqrt(4);
    expect(constant(MOVEMENT, "ALIGN_DEFAULTS.drawnPlacePx")).toBeCloseTo(shift, 6);
    // Of the turn that fits four corners r from their middle best, r · angle is as sure as half a click; over a
    // rectangle the mean square of the distance is r² ÷ 3, of which each axis has half.
    const turn2 = shift ** 2 / 6;
    const bent2 = mean2 - shift ** 2 - turn2;
    expect(Math.sqrt(bent2)).toBeCloseTo(0.18, 2);
    // Up to 0.1 mm off either way, evenly.
    const own = (0.1 / Math.sqrt(3)) * pxPerMm;
    const both = Math.hypot(Math.sqrt(bent2), own);
    expect(both).toBeCloseTo(0.24, 2);
    const misfit = constant(MOVEMENT, "ALIGN_DEFAULTS.drawnMisfitPx");
    expect([misfit > Math.sqrt(bent2), misfit < both]).toEqual([true, true]);
  });

  it("LEAST_HIDDEN: the tail of the optics", () => {
    const least = constant("src/sources/evidence-off-face.ts", "LEAST_HIDDEN");
    const px = zForTail(least) * OPTICS_SIGMA_PX;
    expect(px).toBeCloseTo(2.58, 2);
    // The next pixel outwards would keep seven times as much.
    expect(normalTail(px - 1) / least).toBeGreaterThan(7);
    // Of a kelvin that ends at the outline, less than a tenth of a pixel's noise of 50 mK … or just that.
    expect(least * 1).toBeLessThanOrEqual(0.1 * 0.05);
  });

  it("CLICK_SIGMA_PX: a corner told to the nearest pixel", () => {
    expect(CLICK_SIGMA_PX).toBeCloseTo(1 / Math.sqrt(12), 1);
  });

  it("PRIOR_PARTS: what the median of so many tells of a spread", () => {
    const parts = constant("src/sources/around-error.ts", "PRIOR_PARTS");
    // A median's variance is 1 ÷ 4nf²; of absolute normal deviates it lies at 0.6745, where their density is twice φ.
    const middle = zForTail(0.25);
    const density = (2 * Math.exp(-(middle ** 2) / 2)) / Math.sqrt(2 * Math.PI);
    const share = 1 / (2 * density * middle * Math.sqrt(parts));
    expect(share * Math.sqrt(parts)).toBeCloseTo(1.17, 2);
    expect(1 + share).toBeCloseTo(1.4, 1);
    // Of a standard deviation from as many it would be 1 ÷ √2n: the efficiency.
    expect(1 / (2 * parts) / share ** 2).toBeCloseTo(0.37, 2);
  });

  it("CERTAIN_SIGMAS, LEAST_BY_SCATTER, WARMED_SIGMA: tails of the normal distribution", () => {
    const certain = constant("src/sources/room-change.ts", "CERTAIN_SIGMAS");
    expect(1 / (2 * normalTail(certain))).toBeCloseTo(22, 0);
    const scatter = Math.sqrt(constant("src/sources/weigh-set.ts", "LEAST_BY_SCATTER"));
    const warmed = constant("src/findings/listed-sources.ts", "WARMED_SIGMA");
    for (const sigma of [scatter, warmed]) expect(1 / normalTail(sigma) / 740).toBeCloseTo(1, 2);
  });

  it("RIM_SHARE: a hill on one side of a part, as wide as it is", () => {
    // One side of four, and half of each of the two beside it.
    expect(constant("src/findings/listed-sources.ts", "RIM_SHARE")).toBe(1 / 4 + 2 * (1 / 2) * (1 / 4));
  });

  it("STRAY_WINDOWS: a quarter of a Gaussian, and a third more", () => {
    let [mass, first] = [0, 0];
    for (let x = 5e-4; x < 8; x += 1e-3) {
      mass += Math.exp(-(x ** 2) / 2);
      first += x * Math.exp(-(x ** 2) / 2);
    }
    const centre = Math.SQRT2 * (first / mass);
    expect(centre).toBeCloseTo(1.13, 2);
    expect(constant("src/findings/hill-offset.ts", "STRAY_WINDOWS") / centre).toBeCloseTo(4 / 3, 1);
  });

  it("EMISSIVITY_DOUBT: half of what tables of a finish differ by", () => {
    const { "solder-mask": mask, moulded } = FINISH_EMISSIVITY;
    expect((mask.high - mask.low) / 2).toBeCloseTo(
      constant("src/findings/judge-artefacts.ts", "EMISSIVITY_DOUBT"),
      9,
    );
    expect((moulded.high - moulded.low) / 2).toBeCloseTo(0.025, 9);
  });

  it("MIRRORS_WELL: from there on a face throws back more than it emits, as the finishes that count as shiny do", () => {
    expect(constant("src/sources/mirrored-share.ts", "MIRRORS_WELL")).toBe(
      1 - constant("src/board/emissivity.ts", "SHINY_EMISSIVITY"),
    );
  });

  it("PLATE_CAPACITY.partsJPerM2K: a sixth of the board under a millimetre of moulding compound", () => {
    const parts = constant("src/sources/plate-capacity.ts", "PLATE_CAPACITY.partsJPerM2K");
    const compound = 1900 * 910;
    expect(compound / 1.73e6).toBeCloseTo(1, 2);
    expect((compound * 1e-3) / 6).toBeCloseTo(288, 0);
    const whole =
      parts + constant("src/sources/plate-capacity.ts", "PLATE_CAPACITY.heatCapacityJPerM3K") * 1e-3;
    expect(whole / parts).toBeCloseTo(8, 0);
  });

  it("NOISE_MARGIN: two standard deviations of a quarter each", () => {
    expect(constant("src/align/normal-equations.ts", "NOISE_MARGIN")).toBe(1 + 2 / 4);
  });

  it("FEWEST_OF_BENCH: what the median of so many squared slopes of noise is known to", () => {
    const fewest = constant("src/align/usual-slopes.ts", "FEWEST_OF_BENCH");
    // A median's variance is 1 ÷ 4nf²; of an exponential deviate of mean 1 it lies at ln 2, where the density is a
    // half.
    const share = 1 / (2 * Math.sqrt(fewest) * 0.5) / Math.LN2;
    expect(share * Math.sqrt(fewest)).toBeCloseTo(1.44, 2);
    expect(1 / share).toBeCloseTo(7, 0);
  });

  it("OUTLINE_PLENTY: a fade beyond the largest that was seen to name a part", () => {
    const plenty = constant("src/sources/weigh-set.ts", "OUTLINE_PLENTY");
    const wanted = constant("src/sources/fit-defaults.ts", "LEAST_EVIDENCE");
    // χ² goes as the square of the fade: 356 was the most evidence of a false part.
    expect(Math.sqrt((plenty * wanted) / 356)).toBeCloseTo(1.7, 1);
  });
});
