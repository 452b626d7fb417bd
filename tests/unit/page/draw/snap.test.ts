// Points that are pulled to corners, edges, straight lines and the grid; the camera; fiducials as they are picked.
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { applyHomography, invertHomography } from "../../../../src/board/plane-transform.js";
import type { Point } from "../../../../src/board/polygon.js";
import {
  type Camera,
  cameraMatrix,
  cssMatrix,
  fitCamera,
  fromScreen,
  keepSeen,
  pan,
  toScreen,
  zoomAt,
} from "../../../../src/page/draw/model/camera.js";
import { snapMove, snapPoint, toGrid } from "../../../../src/page/draw/model/snap.js";
import { anyPoint, smallDrawing } from "./drawings.js";

const outline = smallDrawing().outline;
const options = { gridMm: 0.5, reachMm: 0.4, polygons: [outline] };

describe("snapping", () => {
  it("goes to a corner, else an edge, else a line of 45°, else the grid", () => {
    expect(snapPoint([57.8, 33.7], options)).toEqual({ point: [58, 34], to: "corner" });
    expect(snapPoint([41.23, 0.3], options)).toEqual({ point: [41.23, 0], to: "edge" });
    expect(snapPoint([20.1, 14.8], { ...options, from: [12, 7] })).toEqual({ point: [20, 15], to: "angle" });
    expect(snapPoint([20.1, 7.3], { ...options, from: [12, 7] })).toEqual({ point: [20, 7], to: "angle" });
    expect(snapPoint([20.1, 11.3], { ...options, from: [12, 7] })).toEqual({ point: [20, 11.5], to: "grid" });
    expect(snapPoint([20.1, 11.3], { ...options, gridMm: 0 })).toEqual({ point: [20.1, 11.3], to: null });
  });

  it("keeps to the line in all eight directions", () => {
    for (let k = 0; k < 8; k++) {
      const angle = (k * Math.PI) / 4 + 0.01;
      const { point, to } = snapPoint([30 + 6 * Math.cos(angle), 17 + 6 * Math.sin(angle)], {
        ...options,
        polygons: [],
        from: [30, 17],
      });
      expect(to).toBe("angle");
      const [dx, dy] = [point[0] - 30, point[1] - 17];
      expect(dx === 0 || dy === 0 || Math.abs(dx) === Math.abs(dy)).toBe(true);
      expect(dx * Math.cos(angle) + dy * Math.sin(angle)).toBeGreaterThan(5);
    }
  });

  it("never pulls farther than its reach, or half the grid each way", () => {
    fc.assert(
      fc.property(anyPoint, anyPoint, (point, from) => {
        const { point: pulled } = snapPoint(point, { ...options, from });
        // On a slanting line both coordinates go by half a step of the grid at once, on top of the pull to the line.
        expect(Math.hypot(pulled[0] - point[0], pulled[1] - point[1])).toBeLessThan(
          0.4 + 0.25 * Math.SQRT2 + 1e-6,
        );
      }),
    );
  });

  it("leaves no tails of binary fractions", () => {
    expect([toGrid(0.31, 0.1), toGrid(1.16, 0.05)]).toEqual([0.3, 1.15]);
  });

  it("moves a shape so that its corner meets another, or the grid", () => {
    const part: Point[] = [
      [10.3, 10.2],
      [12.3, 10.2],
      [12.3, 11.2],
      [10.3, 11.2],
    ];
    expect(snapMove(part, [-10.1, -10.3], options).map((value) => toGrid(value, 0))).toEqual([-10.3, -10.2]);
    expect(snapMove(part, [3.1, 2.2], options).map((value) => toGrid(value, 0))).toEqual([3.2, 2.3]);
  });
});

describe("the camera", () => {
  const pane = { width: 800, height: 500 };
  const camera: Camera = { centre: [29, 17], scale: 12, isMirrored: false };

  it("shows the bottom mirrored as it is seen, while points stay as seen from the top", () => {
    const below = { ...camera, isMirrored: true };
    expect(toScreen(camera, pane, [30, 18])).toEqual([412, 262]);
    expect(toScreen(below, pane, [30, 18])).toEqual([388, 262]);
    expect(fromScreen(below, pane, [388, 262])).toEqual([30, 18]);
  });

  it("sends points there and back, and its matrix says the same", () => {
    fc.assert(
      fc.property(
        anyPoint,
        fc.double({ min: 0.5, max: 200, noNaN: true }),
        fc.boolean(),
        (point, scale, isMirrored) => {
          const any = { centre: [3, 7] as Point, scale, isMirrored };
          const [u, v] = toScreen(any, pane, point);
          const back = fromScreen(any, pane, [u, v]);
          expect(Math.hypot(back[0] - point[0], back[1] - point[1])).toBeLessThan(1e-9);
          const [x, y] = applyHomography(cameraMatrix(any, pane), point);
          expect(Math.hypot(x - u, y - v)).toBeLessThan(1e-8);
        },
      ),
    );
  });

  it("zooms about the pointer, within limits, and pans with it", () => {
    for (const isMirrored of [false, true]) {
      const before = fromScreen({ ...camera, isMirrored }, pane, [120, 430]);
      const near = zoomAt({ ...camera, isMirrored }, pane, [120, 430], 3, [1, 400]);
      expect(near.scale).toBe(36);
      expect(fromScreen(near, pane, [120, 430])[0]).toBeCloseTo(before[0], 9);
      const moved = pan({ ...camera, isMirrored }, [25, -40]);
      expect(fromScreen(moved, pane, [145, 390])[0]).toBeCloseTo(before[0], 9);
      expect(fromScreen(moved, pane, [145, 390])[1]).toBeCloseTo(before[1], 9);
    }
    expect(zoomAt(camera, pane, [0, 0], 1000, [1, 400]).scale).toBe(400);
  });

  it("fits bounds into the pane", () => {
    const fit = fitCamera({ minX: 0, minY: 0, maxX: 58, maxY: 34 }, pane, false, 0.1);
    expect(toScreen(fit, pane, [0, 0])[0]).toBeCloseTo(80, 9);
    expect(toScreen(fit, pane, [58, 34])[0]).toBeCloseTo(720, 9);
  });

  it("keeps in view what was, whichever way the pane changes", () => {
    const corners = [
      [0, 0],
      [pane.width, pane.height],
    ] as const;
    for (const isMirrored of [false, true]) {
      const from = { ...camera, isMirrored };
      for (const to of [
        { width: 310, height: 470 },
        { width: 1210, height: 190 },
        { width: 1700, height: 1300 },
      ]) {
        const now = keepSeen(from, pane, to);
        expect(now.centre).toEqual(from.centre);
        const inside = corners.map((corner) => toScreen(now, to, fromScreen(from, pane, corner)));
        for (const [u, v] of inside) {
          expect(Math.min(u, to.width - u)).toBeGreaterThan(-1e-9);
          expect(Math.min(v, to.height - v)).toBeGreaterThan(-1e-9);
        }
        // … and no smaller than that needs: it reaches two edges.
        expect(Math.min(...inside.map(([u, v]) => Math.min(u, v)))).toBeCloseTo(0, 9);
      }
    }
  });

  it("writes a slanting view for CSS, whose pixels begin at their corners", () => {
    const matrix = [2, 0.3, 40, -0.2, 1.8, 30, 0.001, 0.0005, 1];
    const numbers = /\((.*)\)/.exec(cssMatrix(matrix))![1]!.split(",").map(Number);
    // CSS Transforms 2: sixteen numbers, column by column.
    const css = (x: number, y: number) => {
      const w = numbers[3]! * x + numbers[7]! * y + numbers[15]!;
      return [
        (numbers[0]! * x + numbers[4]! * y + numbers[12]!) / w,
        (numbers[1]! * x + numbers[5]! * y + numbers[13]!) / w,
      ];
    };
    const [u, v] = applyHomography(matrix, [11, 7]);
    expect(css(11.5, 7.5)[0]).toBeCloseTo(u, 7);
    expect(css(11.5, 7.5)[1]).toBeCloseTo(v, 7);
    expect(applyHomography(invertHomography(matrix), [u, v])[0]).toBeCloseTo(11, 9);
  });
});
