import { describe, expect, it } from "vitest";
import { radianceOf } from "../../simulate/band-radiance.js";
import { type Camera, inverse, nudgeMatrix, product, randomCamera } from "../../simulate/camera.js";
import { paintCoverage } from "../../simulate/coverage.js";
import { blurAndBin } from "../../simulate/optics.js";
import { makePlateGrid } from "../../simulate/plate.js";
import { type Point, signedArea, turnedRectangle } from "../../simulate/polygons.js";
import { makeRandom } from "../../simulate/random.js";
import { makePose, renderFrame, type Scenery } from "../../simulate/render.js";

const OUTLINE: Point[] = [
  [0, 0],
  [50, 0],
  [50, 31],
  [0, 31],
];
const NONE = { dxPx: 0, dyPx: 0, rotationDeg: 0 };

/** A board with a smooth known pattern of temperature, black, on a cooler table. */
function patterned(): Scenery {
  return {
    parts: [],
    maskEmissivity: () => 1,
    boardC: (x, y) => 25 + 2 * Math.sin(x / 3.1) * Math.cos(y / 2.3) + 0.05 * x,
    partOffsetK: new Float64Array(0),
    grid: makePlateGrid(OUTLINE, 1, () => 0.02),
    plateRise: null,
    bodyRise: [],
    mirrorSharp: () => radianceOf(22),
    mirrorSoft: () => radianceOf(22),
    background: () => radianceOf(23),
  };
}

function bilinear(data: Float32Array, width: number, x: number, y: number): number {
  const i = Math.floor(x);
  const j = Math.floor(y);
  const fx = x - i;
  const fy = y - j;
  const k = j * width + i;
  const upper = data[k]! * (1 - fx) + data[k + 1]! * fx;
  return upper * (1 - fy) + (data[k + width]! * (1 - fx) + data[k + width + 1]! * fx) * fy;
}

describe("the nudge", () => {
  const camera: Camera = randomCamera(makeRandom("nudge camera"), OUTLINE, "top", [160, 120]);
  const nudge = { dxPx: 2.3, dyPx: -1.1, rotationDeg: 0.45 };
  const still = renderFrame(makePose(camera, OUTLINE, [], NONE, 3), patterned(), 0.8);
  const moved = renderFrame(makePose(camera, OUTLINE, [], nudge, 3), patterned(), 0.8);

  it("moves the pattern as the truth says: about the frame's centre, clockwise, then right and down", () => {
    // The formula of the contract, written out here on its own.
    const a = (0.45 * Math.PI) / 180;
    let worst = 0;
    let without = 0;
    for (let y = 45; y <= 75; y += 3) {
      for (let x = 60; x <= 100; x += 4) {
        const px = 79.5 + Math.cos(a) * (x - 79.5) - Math.sin(a) * (y - 59.5) + 2.3;
        const py = 59.5 + Math.sin(a) * (x - 79.5) + Math.cos(a) * (y - 59.5) - 1.1;
        worst = Math.max(worst, Math.abs(bilinear(moved, 160, px, py) - still[y * 160 + x]!));
        without = Math.max(without, Math.abs(moved[y * 160 + x]! - still[y * 160 + x]!));
      }
    }
    // Bilinear reading of a pattern with a period of about 40 px errs by under 2 % of its 2 K.
    expect(worst).toBeLessThan(0.04);
    expect(without).toBeGreaterThan(0.5);
  });

  it("turns clockwise as seen: what lies right of the centre goes down", () => {
    const m = nudgeMatrix({ dxPx: 0, dyPx: 0, rotationDeg: 1 }, 161, 91);
    const right = [m[0]! * 130 + m[1]! * 45 + m[2]!, m[3]! * 130 + m[4]! * 45 + m[5]!];
    expect(right[0]).toBeCloseTo(80 + 50 * Math.cos(Math.PI / 180), 9);
    expect(right[1]).toBeCloseTo(45 + 50 * Math.sin(Math.PI / 180), 9);
  });
});

describe("camera", () => {
  it("mirrors the bottom side and only that", () => {
    for (let i = 0; i < 12; i++) {
      for (const side of ["top", "bottom"] as const) {
        const { boardToFrame: m } = randomCamera(makeRandom(`side ${i}`), OUTLINE, side, null);
        const image = OUTLINE.map(([x, y]): Point => {
          const w = m[6]! * x + m[7]! * y + m[8]!;
          return [(m[0]! * x + m[1]! * y + m[2]!) / w, (m[3]! * x + m[4]! * y + m[5]!) / w];
        });
        expect(Math.sign(signedArea(image))).toBe(side === "top" ? 1 : -1);
      }
    }
  });

  it("inverts matrices", () => {
    const m = [3, 1, 7, -2, 5, 4, 0.01, -0.02, 1];
    const one = product(m, inverse(m));
    for (const [i, value] of one.entries()) expect(value).toBeCloseTo(i % 4 === 0 ? 1 : 0, 10);
  });
});

describe("coverage", () => {
  it.each([0, 7, 25, 45])(
    "of a rectangle turned by %i° has its area and its centre, wherever it lies",
    (angle) => {
      for (const [cx, cy] of [
        [20.13, 15.41],
        [20.5, 15],
        [19.77, 15.9],
      ] as const) {
        const polygon = turnedRectangle([cx, cy], 13.2, 7.6, angle);
        let area = 0;
        let mx = 0;
        let my = 0;
        paintCoverage(polygon, 41, 33, (index, cover) => {
          area += cover;
          mx += cover * (index % 41);
          my += cover * Math.floor(index / 41);
        });
        // Corners are the only places where the half-plane formula is not exact: 1 % of the area, 0.02 samples.
        expect(Math.abs(area / (13.2 * 7.6) - 1)).toBeLessThan(0.01);
        expect(Math.abs(mx / area - cx)).toBeLessThan(0.02);
        expect(Math.abs(my / area - cy)).toBeLessThan(0.02);
      }
    },
  );
});

describe("optics", () => {
  it("spread a point by the blur and the pixel's width, and keep its sum", () => {
    const fine = 3;
    const samples = new Float32Array(31 * fine * 23 * fine);
    samples[(11 * fine + 1) * 31 * fine + 15 * fine + 1] = fine * fine;
    const out = blurAndBin(samples, 31, 23, fine, 1.2);
    let sum = 0;
    let second = 0;
    for (const [k, value] of out.entries()) {
      sum += value;
      second += value * ((k % 31) - 15) ** 2;
    }
    expect(sum).toBeCloseTo(1, 4);
    // Variance: 1.2² of the blur cut at 3.5σ (−0.7 %), and that of three samples a third of a pixel apart, 2/27.
    expect(Math.abs(second - (1.2 ** 2 + 2 / 27))).toBeLessThan(0.02);
  });
});
