import { describe, expect, it } from "vitest";
import { placeView } from "../../../src/board/place-view.js";
import { applyHomography, type Matrix3 } from "../../../src/board/plane-transform.js";
import { createRaster } from "../../../src/core/raster.js";
import { boardPoint } from "../../../src/core/units.js";
import { boardRivals } from "../../../src/place/board-rivals.js";
import { boardZones, ZONE } from "../../../src/place/board-zones.js";
import { edgeDirections } from "../../../src/place/edge-directions.js";
import { type Motion, motionMatrix, motionScale, similarityMotion } from "../../../src/place/motion.js";
import { motionErrorPx } from "../../../src/place/motion-error.js";
import type { PlaceDoubt } from "../../../src/place/place-doubt.js";
import type { NewView } from "../../../src/place/place-new-view.js";
import { requireTrusted } from "../../../src/place/require-trusted.js";
import { transferFiducials } from "../../../src/place/transfer-fiducials.js";
import { BOARD, drawBoard, FIRST, viewOf } from "./drawn-board.js";

const ARM = { centre: [40, 25] as const, armPx: 30 };

describe("motionMatrix", () => {
  it("puts the middle where it is said, and turns and scales about it", () => {
    const motion = similarityMotion(ARM, Math.PI / 6, 1.2, [52, 31]);
    const matrix = motionMatrix(ARM, motion);
    expect(applyHomography(matrix, [40, 25])[0]).toBeCloseTo(52, 9);
    const [x, y] = applyHomography(matrix, [50, 25]);
    expect(x).toBeCloseTo(52 + 12 * Math.cos(Math.PI / 6), 9);
    expect(y).toBeCloseTo(31 + 12 * Math.sin(Math.PI / 6), 9);
    expect(motionScale(ARM, motion)).toBeCloseTo(1.2, 12);
  });

  it("follows its formula with stretch and tilt", () => {
    const motion: Motion = [31, 4, 52, 33, 0.7, -0.4, 0.03, -0.02];
    // At (u, v) = (0.5, −1): w = 1.035.
    const [x, y] = applyHomography(motionMatrix(ARM, motion), [55, -5]);
    expect(x).toBeCloseTo(((31 + 0.7) * 0.5 + (-0.4 - 4) * -1) / 1.035 + 52, 9);
    expect(y).toBeCloseTo(((4 - 0.4) * 0.5 + (31 - 0.7) * -1) / 1.035 + 33, 9);
  });
});

describe("motionErrorPx", () => {
  it("is what small changes of the parameters move the points by", () => {
    const motion: Motion = [31, 4, 52, 33, 0.7, -0.4, 0.03, -0.02];
    const point = [55, -5] as const;
    for (let k = 0; k < 8; k++) {
      const step = 1e-5;
      const covariance = new Float64Array(64);
      covariance[9 * k] = step ** 2;
      const then = motion.map((value, i) => (i === k ? value + step : value)) as unknown as Motion;
      const a = applyHomography(motionMatrix(ARM, motion), point);
      const b = applyHomography(motionMatrix(ARM, then), point);
      const stated = motionErrorPx(ARM, motion, covariance, [point]);
      // Second order of a step of 1e-5: relative 1e-5 at most.
      expect(stated / Math.hypot(b[0] - a[0], b[1] - a[1])).toBeCloseTo(1, 4);
    }
  });
});

describe("edgeDirections", () => {
  it("is the same for a picture with light and dark swapped", () => {
    const frame = drawBoard(FIRST, [90, 66], { board: 1.7, parts: [1, -1, 0.5, 0.8, -0.6] }, "swap");
    const swapped = createRaster(
      "degC",
      90,
      66,
      frame.data.map((value) => 50 - value),
    );
    const [a, b] = [edgeDirections(frame, 1), edgeDirections(swapped, 1)];
    // Values near 24 in float32 carry 2e-6 K of rounding; slopes here are 0.05 K and more where the length counts.
    a.re.forEach((value, k) => {
      expect(Math.abs(value - b.re[k]!)).toBeLessThan(1e-3);
    });
    expect(a.width).toBe(90);
    expect(Math.max(...a.re.map((value, k) => Math.hypot(value, a.im[k]!)))).toBeGreaterThan(0.9);
    expect(Math.max(...a.re.map((value, k) => Math.hypot(value, a.im[k]!)))).toBeLessThanOrEqual(1);
  });
});

describe("boardZones", () => {
  it("tells outline, inside, and what is no guide apart", () => {
    const shiny = { ...BOARD, regions: [{ ...BOARD.regions[1]!, finish: "bare-metal" as const }] };
    const zones = boardZones(placeView(viewOf(FIRST, 176, 128)), shiny, 176, 128);
    const at = (x: number, y: number): number => {
      const [u, v] = applyHomography(FIRST, [x, y]);
      return zones[Math.round(v) * 176 + Math.round(u)]!;
    };
    expect(at(0, 20)).toBe(ZONE.outline);
    expect(at(20, 15)).toBe(ZONE.inner);
    expect(at(38, 23)).toBe(ZONE.off);
    expect(at(34, 23)).toBe(ZONE.inner);
    expect(at(-5, 20)).toBe(ZONE.off);
  });
});

describe("boardRivals", () => {
  it("lists half turns and turned-over boards, and quarter turns of a nearly square board", () => {
    const placed = { matrix: FIRST };
    expect(boardRivals(placed, BOARD.outline).map(({ way }) => way)).toEqual(["half", "over", "over"]);
    const [half] = boardRivals(placed, BOARD.outline);
    const [x, y] = applyHomography(half!.move, applyHomography(FIRST, [7, 5]));
    const [u, v] = applyHomography(FIRST, [53, 33]);
    expect(x).toBeCloseTo(u, 9);
    expect(y).toBeCloseTo(v, 9);
    const square = boardRivals(placed, [
      [2, 1],
      [42, 1],
      [42, 38],
      [2, 38],
    ]);
    expect(square.filter(({ way }) => way === "quarter")).toHaveLength(2);
    for (const { move } of square) {
      // Every way keeps the middle of the board.
      const middle = applyHomography(FIRST, [22, 19.5]);
      const [a, b] = applyHomography(move, middle);
      expect(Math.hypot(a - middle[0], b - middle[1])).toBeLessThan(1e-9);
    }
  });
});

describe("transferFiducials", () => {
  const placedBy = (matrix: Matrix3, frame = { width: 176, height: 128 }) =>
    placeView({
      kind: "faultglow/view",
      version: 1,
      side: "top",
      frame,
      fiducials: transferFiducials(matrix, BOARD.outline, frame),
    });

  it("says the same as the matrix", () => {
    const tilted: Matrix3 = [2.16, -0.36, 18, 0.36, 2.16, 14, 4e-4, -3e-4, 1];
    const placed = placedBy(tilted);
    const [x, y] = placed.toFrame(boardPoint(31, 17));
    const [u, v] = applyHomography(tilted, [31, 17]);
    // Written to a thousandth of a pixel.
    expect(Math.hypot(x - u, y - v)).toBeLessThan(0.002);
  });

  it("draws corners in that lie far outside the frame", () => {
    const beside: Matrix3 = [2.16, -0.36, 90, 0.36, 2.16, 44, 0, 0, 1];
    const placed = placedBy(beside);
    const [x, y] = placed.toFrame(boardPoint(12, 30));
    const [u, v] = applyHomography(beside, [12, 30]);
    expect(Math.hypot(x - u, y - v)).toBeLessThan(0.004);
  });

  it("takes the box where an outline has no four corners apart", () => {
    const triangle: [number, number][] = [
      [0, 0],
      [40, 0],
      [0, 30],
    ];
    const points = transferFiducials(FIRST, triangle, { width: 176, height: 128 });
    expect(points.map(({ board }) => board)).toEqual([
      [0, 0],
      [40, 0],
      [40, 30],
      [0, 30],
    ]);
  });
});

describe("requireTrusted", () => {
  const found: NewView = {
    view: viewOf(FIRST, 176, 128),
    sigmaPx: 0.81,
    sigmaMm: 0.3,
    trusted: true,
    doubt: null,
    rotationDeg: 3,
    scale: 1,
    seenShare: 0.41,
    innerZ: 6,
    rivalZ: 1,
    outlineLikeness: 0.8,
  };

  it("gives the view of a placing that can be relied on", () => {
    expect(requireTrusted(found)).toBe(found.view);
  });

  it.each<[PlaceDoubt, RegExp]>([
    ["nothing", /no edge of the board was found.*Write a view/],
    ["unsettled", /lie nowhere as they lie in the earlier one/],
    ["loose", /open by 0\.81 px/],
    ["unseen", /only 41 % of the board's edges.*capture again, or write/],
    ["outline", /outline does not fit/],
    ["inside", /an outline fits, but what lies on the board/],
    ["half", /turned half round/],
    ["quarter", /turned by a quarter/],
    ["over", /mirrored.*same side/],
  ])("says what is wrong and asks for fiducials: %s", (doubt, words) => {
    const ask = () => requireTrusted({ ...found, trusted: false, doubt }, "new.csv");
    expect(ask).toThrow(/^E_PLACE_DOUBT: .*\(new\.csv\).*fiducials/);
    expect(ask).toThrow(words);
  });
});
