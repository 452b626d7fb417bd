import { describe, expect, it } from "vitest";
import type { View } from "../../../src/board/board-schema.js";
import { frameCovarianceToBoard } from "../../../src/board/frame-covariance-to-board.js";
import { placeView } from "../../../src/board/place-view.js";
import { applyHomography, type Matrix3 } from "../../../src/board/plane-transform.js";
import type { Point } from "../../../src/board/polygon.js";
import { boardPoint, framePoint } from "../../../src/core/units.js";
import { caught } from "../frames/caught.js";

// A camera a little askew over a 58 × 34 mm board, 256 × 192 px.
const CAMERA: Matrix3 = [3.4, -0.31, 21, 0.27, 3.3, 30, 0.9e-3, -0.6e-3, 1];
// The same board from below: x runs to the left.
const FROM_BELOW: Matrix3 = [-3.4, -0.31, 231, 0.27, 3.3, 30, 0.9e-3, -0.6e-3, 1];
const PLACES: Point[] = [
  [2, 3],
  [55, 4],
  [54, 31],
  [3, 29],
  [28, 6],
  [33, 25],
  [12, 17],
  [46, 14],
];

function viewOf(count: number, matrix: Matrix3 = CAMERA, side: View["side"] = "top"): View {
  const fiducials = PLACES.slice(0, count).map(([x, y]) => {
    const [u, v] = applyHomography(matrix, [x, y]);
    return { board: [x, y] as [number, number], pixel: [u, v] as [number, number] };
  });
  return { kind: "faultglow/view", version: 1, side, frame: { width: 256, height: 192 }, fiducials };
}

function moved(view: View, index: number, dx: number, dy: number): View {
  const fiducials = view.fiducials.map(({ board, pixel }, i) => ({
    board,
    pixel: (i === index ? [pixel[0] + dx, pixel[1] + dy] : pixel) as [number, number],
  }));
  return { ...view, fiducials };
}

const thrown = (view: View) => caught(() => placeView(view, { file: "view.json" }));

describe("placeView", () => {
  it.each([
    [2, "similarity"],
    [3, "affine"],
    [4, "homography"],
    [8, "homography"],
  ] as const)("%d fiducials give a %s that goes through them", (count, model) => {
    const view = viewOf(count);
    const placed = placeView(view);
    expect(placed.model).toBe(model);
    expect(placed.matrix[8]).toBe(1);
    expect(placed.residualPx).toBeLessThan(1e-9);
    for (const { board, pixel } of view.fiducials) {
      const [u, v] = placed.toFrame(boardPoint(...board));
      expect(Math.hypot(u - pixel[0], v - pixel[1])).toBeLessThan(1e-9);
      const [x, y] = placed.toBoard(framePoint(...pixel));
      expect(Math.hypot(x - board[0], y - board[1])).toBeLessThan(1e-9);
    }
  });

  it("finds the camera again from four fiducials and more", () => {
    for (const [count, side, matrix] of [
      [4, "top", CAMERA],
      [8, "bottom", FROM_BELOW],
    ] as const) {
      const placed = placeView(viewOf(count, matrix, side));
      matrix.forEach((value, i) => {
        expect(placed.matrix[i]).toBeCloseTo(value, 8);
      });
    }
  });

  it("two fiducials: the side says whether the view mirrors", () => {
    const fiducials: View["fiducials"] = [
      { board: [0, 0], pixel: [20, 30] },
      { board: [10, 0], pixel: [60, 30] },
    ];
    const view = { ...viewOf(2), fiducials };
    const top = placeView(view).toFrame(boardPoint(0, 5));
    expect(top[0]).toBeCloseTo(20, 10);
    expect(top[1]).toBeCloseTo(50, 10);
    const bottom = placeView({ ...view, side: "bottom" }).toFrame(boardPoint(0, 5));
    expect(bottom[0]).toBeCloseTo(20, 10);
    expect(bottom[1]).toBeCloseTo(10, 10);
  });

  it("scale in mm per px, also where perspective changes it", () => {
    const fiducials: View["fiducials"] = [
      { board: [0, 0], pixel: [20, 30] },
      { board: [10, 0], pixel: [60, 30] },
    ];
    expect(placeView({ ...viewOf(2), fiducials }).mmPerPxAt(framePoint(99, 7))).toBeCloseTo(0.25, 12);
    const placed = placeView(viewOf(4));
    // The area of a pixel by finite differences: error of order step², here 1e-6 of the value.
    const areaAt = (x: number, y: number) => {
      const step = 0.5;
      const [a, b] = [placed.toBoard(framePoint(x - step, y)), placed.toBoard(framePoint(x + step, y))];
      const [c, d] = [placed.toBoard(framePoint(x, y - step)), placed.toBoard(framePoint(x, y + step))];
      return (b[0] - a[0]) * (d[1] - c[1]) - (b[1] - a[1]) * (d[0] - c[0]);
    };
    for (const [x, y] of [
      [30, 40],
      [200, 140],
    ] as const) {
      expect(placed.mmPerPxAt(framePoint(x, y))).toBeCloseTo(Math.sqrt(areaAt(x, y)), 5);
    }
    expect(placed.mmPerPxAt(framePoint(30, 40))).not.toBeCloseTo(placed.mmPerPxAt(framePoint(200, 140)), 2);
  });

  it("carries a covariance over to the board", () => {
    // 40 px for 10 mm: 0.25 mm per px, turned by 90° (board x runs down the frame).
    const fiducials: View["fiducials"] = [
      { board: [0, 0], pixel: [50, 30] },
      { board: [10, 0], pixel: [50, 70] },
    ];
    const placed = placeView({ ...viewOf(2), fiducials });
    const board = frameCovarianceToBoard(placed, framePoint(60, 50), { xx: 4, xy: 1, yy: 16 });
    expect(board.xx).toBeCloseTo(16 / 16, 12);
    expect(board.yy).toBeCloseTo(4 / 16, 12);
    expect(board.xy).toBeCloseTo(-1 / 16, 12);
    expect(board.sigmaMm).toBeCloseTo(Math.sqrt(0.625), 12);
  });

  it.each([5, 6, 8])("of %d fiducials names the one that is wrong", (count) => {
    for (let wrong = 0; wrong < count; wrong++) {
      // 45 px: a neighbouring hole taken for the right one.
      const error = thrown(moved(viewOf(count), wrong, 27, -36));
      expect(error.code).toBe("E_VIEW_FIT");
      expect(error.parts.place?.path).toBe(`fiducials[${wrong}]`);
      expect(error.message).toContain(`fiducials[${wrong}] fits worst`);
    }
  });

  it("says misses of hundreds of pixels in plain figures", () => {
    const error = thrown(moved(viewOf(8), 2, -170, -20));
    expect(error.code).toBe("E_VIEW_FIT");
    expect(error.message).toMatch(/fiducials\[2\] fits worst, 17\d px from where/);
    expect(error.message).toMatch(/off by about \d+ px, and 4\.8 px are allowed/);
  });

  it("lets careful clicks through and reports their residual", () => {
    const clicks = viewOf(8);
    const view = clicks.fiducials.reduce(
      (v, _, i) => moved(v, i, i % 2 ? 0.6 : -0.5, i % 3 ? 0.4 : -0.7),
      clicks,
    );
    const { residualPx } = placeView(view);
    expect(residualPx).toBeGreaterThan(0.2);
    expect(residualPx).toBeLessThan(0.9);
  });

  it("sees that two fiducials are swapped", () => {
    const swapped = (view: View, i: number, j: number): View => ({
      ...view,
      fiducials: view.fiducials.map(({ board }, k) => ({
        board,
        pixel: view.fiducials[k === i ? j : k === j ? i : k]!.pixel,
      })),
    });
    const four = thrown(swapped(viewOf(4), 1, 2));
    expect(four.code).toBe("E_VIEW_FIT");
    expect(four.message).toContain("the pixels of fiducials[1] and fiducials[2] look swapped");
    const seven = thrown(swapped(viewOf(7), 0, 5));
    expect(seven.code).toBe("E_VIEW_FIT");
    expect(seven.message).toContain("the pixels of fiducials[0] and fiducials[5] look swapped");
  });

  it.each([3, 4, 8])("%d fiducials that mirror against their side are refused", (count) => {
    const top = thrown(viewOf(count, FROM_BELOW, "top"));
    expect(top.code).toBe("E_VIEW_SIDE");
    expect(top.message).toContain("side is top, but the fiducials show the board mirrored");
    const bottom = thrown(viewOf(count, CAMERA, "bottom"));
    expect(bottom.code).toBe("E_VIEW_SIDE");
    expect(bottom.message).toContain("side is bottom, but the fiducials show the board unmirrored");
  });

  it("refuses fiducials on one line, and names one", () => {
    const line = viewOf(3);
    line.fiducials[2]!.board = [30, 3.55];
    line.fiducials[2]!.pixel = [120, 60];
    const three = thrown(line);
    expect(three.code).toBe("E_VIEW_FIDUCIALS");
    expect(three.message).toMatch(
      /the board points of all fiducials \(0, 1, 2\) lie on one line; fiducials\[2\]/,
    );

    const four = viewOf(4);
    four.fiducials[1]!.board = [28, 17];
    const error = thrown(four);
    expect(error.code).toBe("E_VIEW_FIDUCIALS");
    expect(error.message).toMatch(
      /3 fiducials \(0, 1, 2\) lie on one line with a single one off it; fiducials\[1\]/,
    );

    const pixels = viewOf(3);
    const [left, right] = [pixels.fiducials[0]!.pixel, pixels.fiducials[1]!.pixel];
    pixels.fiducials[2]!.pixel = [(left[0] + right[0]) / 2 + 1, (left[1] + right[1]) / 2 - 1];
    expect(thrown(pixels).parts.place?.path).toBe("fiducials[2].pixel");
  });

  it("refuses fiducials that repeat a place or lie close together", () => {
    for (const space of ["board", "pixel"] as const) {
      const view = viewOf(5);
      view.fiducials[4]![space] = [...view.fiducials[1]![space]];
      const error = thrown(view);
      expect(error.code).toBe("E_VIEW_FIDUCIALS");
      expect(error.message).toContain(`fiducials[1] and fiducials[4] are the same ${space} point`);
    }
    const shares = viewOf(4);
    for (const fiducial of shares.fiducials)
      fiducial.pixel = [fiducial.pixel[0] / 256, fiducial.pixel[1] / 192];
    expect(thrown(shares).message).toMatch(/^E_VIEW_FIDUCIALS: all fiducials lie within/);
  });

  it("refuses more fiducials than anybody clicks before it compares each with each", () => {
    const many = viewOf(4);
    const [first] = many.fiducials;
    const error = thrown({ ...many, fiducials: new Array(100_000).fill(first) });
    expect(error.code).toBe("E_VIEW_FIDUCIALS");
    expect(error.message).toContain("at most 1000 fiducials are read, found 100000");
  });

  it("refuses a fiducial far outside the frame, but not a corner just outside", () => {
    const far = viewOf(4);
    far.fiducials[2]!.pixel = [190, 192 + 100];
    const error = thrown(far);
    expect(error.code).toBe("E_VIEW_FRAME");
    expect(error.parts.place?.path).toBe("fiducials[2].pixel");
    const near = viewOf(4, [3.4, -0.31, -40, 0.27, 3.3, 30, 0.9e-3, -0.6e-3, 1]);
    expect(near.fiducials[0]!.pixel[0]).toBeLessThan(-20);
    expect(() => placeView(near)).not.toThrow();
  });

  it("refuses what no camera can see: stretched one way, folded, or changing scale too much", () => {
    const flat = viewOf(3);
    flat.fiducials[2]!.pixel = [flat.fiducials[1]!.pixel[0] + 4, flat.fiducials[1]!.pixel[1] + 12];
    expect(thrown(flat).message).toMatch(/^E_VIEW_FIT: .* would be stretched .* fiducials\[\d\] fits worst/);

    const corner = viewOf(4);
    corner.fiducials[2]!.pixel = [100, 80];
    expect(thrown(corner).message).toMatch(/^E_VIEW_FIT: .* folded over/);

    const trapeze = viewOf(4);
    trapeze.fiducials[2]!.pixel = [140, 100];
    trapeze.fiducials[3]!.pixel = [100, 100];
    expect(thrown(trapeze).message).toMatch(/^E_VIEW_FIT: .*(stretched|scale would change)/);
  });

  it("refuses board points so far from the origin that it would lie behind the camera", () => {
    const view = viewOf(4);
    // The same picture, with board points counted from far to the left of the board.
    const shift = -1500;
    for (const fiducial of view.fiducials) fiducial.board = [fiducial.board[0] - shift, fiducial.board[1]];
    const error = thrown(view);
    expect(error.code).toBe("E_VIEW_FIT");
    expect(error.message).toContain("origin");
  });
});
