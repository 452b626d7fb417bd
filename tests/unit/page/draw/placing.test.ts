// Fiducials while they are picked: what is solved, how far each is off, and which one is wrong.
import { describe, expect, it } from "vitest";
import { applyHomography } from "../../../../src/board/plane-transform.js";
import type { Point } from "../../../../src/board/polygon.js";
import { boardPoint, framePoint } from "../../../../src/core/units.js";
import type { Drawing, DrawnFiducial, Side } from "../../../../src/page/draw/model/drawing.js";
import { solvePlacing } from "../../../../src/page/draw/model/placing.js";
import { startFromCorners, startFromLength } from "../../../../src/page/draw/model/start-from-picture.js";
import { smallDrawing } from "./drawings.js";

const slant = [3.1, 0.12, 20, -0.09, 3.3, 14, 0.0011, -0.0007, 1];
const board: Point[] = [
  [0, 0],
  [58, 0],
  [58, 34],
  [0, 34],
  [20, 11],
  [44, 25],
];
const picked = board.map((point): DrawnFiducial => ({ board: point, pixel: applyHomography(slant, point) }));

function withFiducials(fiducials: readonly DrawnFiducial[], side: Side = "top"): Drawing {
  return { ...smallDrawing(), placements: { frame: { side, width: 256, height: 192, fiducials } } };
}

describe("placing", () => {
  it("waits for two whole fiducials, and says how many are missing", () => {
    const half = [picked[0]!, { board: [58, 0] as Point, pixel: null }];
    const few = solvePlacing(withFiducials(half), "frame");
    expect(few).toMatchObject({ placed: null, isWrong: false, missesPx: [null, null] });
    expect(few.text).toMatch(/^1 more fiducial needed/);
    expect(solvePlacing(smallDrawing(), "frame").text).toMatch(/^2 more fiducials needed/);
  });

  it("goes from similarity to homography as fiducials come", () => {
    const models = [2, 3, 4, 6].map((count) => {
      const { placed, missesPx, isChecked } = solvePlacing(withFiducials(picked.slice(0, count)), "frame");
      expect(missesPx).toHaveLength(count);
      expect(isChecked).toBe(count > 4);
      return placed!.model;
    });
    expect(models).toEqual(["similarity", "affine", "homography", "homography"]);
  });

  it("sends board points where the slanting camera has them", () => {
    const { placed } = solvePlacing(withFiducials(picked), "frame");
    const expected = applyHomography(slant, [31, 25]);
    expect(placed!.toFrame(boardPoint(31, 25))[0]).toBeCloseTo(expected[0], 6);
    expect(placed!.toBoard(framePoint(...expected))[1]).toBeCloseTo(25, 6);
  });

  it("names the one that is off, by its place in the table, half picked ones counted", () => {
    const [x, y] = picked[4]!.pixel!;
    const wrong = [
      { board: null, pixel: [1, 1] as Point },
      ...picked.map((fiducial, i) =>
        i === 4 ? { ...fiducial, pixel: [x + 1.5, y - 1] as Point } : fiducial,
      ),
    ];
    const slightly = solvePlacing(withFiducials(wrong), "frame");
    expect(slightly.worst).toBe(5);
    expect(slightly.missesPx[0]).toBeNull();
    wrong[5] = { ...picked[4]!, pixel: [x + 30, y] };
    const grossly = solvePlacing(withFiducials(wrong), "frame");
    expect(grossly).toMatchObject({ placed: null, isWrong: true, worst: 5 });
    expect(grossly.text).toContain("fiducial 6 fits worst");
    expect(Math.max(...grossly.missesPx.map((miss) => miss ?? 0))).toBeGreaterThan(3);
  });

  it("says so when the other side is seen", () => {
    const { isWrong, text } = solvePlacing(withFiducials(picked, "bottom"), "frame");
    expect([isWrong, /unmirrored/.test(text)]).toEqual([true, true]);
  });

  it("does not fall over fiducials that have no fit", () => {
    const same = [0, 1, 2, 3].map((): DrawnFiducial => ({ board: [5, 5], pixel: [9, 9] }));
    expect(solvePlacing(withFiducials(same), "frame").isWrong).toBe(true);
  });
});

describe("beginning from a picture", () => {
  it("makes outline and fiducials of four corners in any order", () => {
    const seen: Point[] = [
      [18, 21],
      [200, 25],
      [196, 131],
      [15, 128],
    ];
    for (const order of [
      [0, 1, 2, 3],
      [2, 0, 3, 1],
      [3, 2, 1, 0],
    ]) {
      const corners = order.map((i) => seen[i]!) as [Point, Point, Point, Point];
      const { outline, fiducials } = startFromCorners(corners, 58, 34, "top");
      expect(outline).toEqual(board.slice(0, 4));
      expect(fiducials).toEqual(seen.map((pixel, i) => ({ board: board[i], pixel })));
      const below = startFromCorners(corners, 58, 34, "bottom").fiducials;
      expect(below.map((fiducial) => fiducial.board)).toEqual([board[1], board[0], board[3], board[2]]);
      for (const [side, made] of [
        ["top", fiducials],
        ["bottom", below],
      ] as const) {
        expect(solvePlacing(withFiducials(made, side), "frame").placed).not.toBeNull();
      }
    }
  });

  it("makes a scale of one length", () => {
    for (const side of ["top", "bottom"] as const) {
      const fiducials = startFromLength([20, 30], [140, 120], 37.5, side, 256);
      const { placed } = solvePlacing(withFiducials(fiducials, side), "frame");
      // 150 px are 37.5 mm.
      expect(placed!.mmPerPxAt(framePoint(128, 96))).toBeCloseTo(0.25, 6);
      const corner = placed!.toBoard(framePoint(side === "top" ? -0.5 : 255.5, -0.5));
      expect(Math.hypot(corner[0], corner[1])).toBeLessThan(1e-5);
    }
    expect(() => startFromLength([5, 5], [5, 5], 10, "top", 256)).toThrow(RangeError);
  });
});
