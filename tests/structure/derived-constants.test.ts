// Constants whose reason is a derivation: it is done again here, from the values that stand in the code.
import { describe, expect, it } from "vitest";
import type { View } from "../../src/board/board-schema.js";
import { CLICK_SIGMA_PX } from "../../src/board/click-covariance.js";
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
    // Of the turn that fits four corners r from their middle best, r · angle is as sure as half a click; over a rectangle the mean square of
    // the distance is r² ÷ 3, of which each axis has half.
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

  it("OUTLINE_PLENTY: a fade beyond the largest that was seen to name a part", () => {
    const plenty = constant("src/sources/weigh-set.ts", "OUTLINE_PLENTY");
    const wanted = constant("src/sources/fit-defaults.ts", "LEAST_EVIDENCE");
    // χ² goes as the square of the fade: 356 was the most evidence of a false part.
    expect(Math.sqrt((plenty * wanted) / 356)).toBeCloseTo(1.7, 1);
  });
});
