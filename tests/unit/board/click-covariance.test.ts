import { describe, expect, it } from "vitest";
import type { View } from "../../../src/board/board-schema.js";
import { CLICK_SIGMA_PX } from "../../../src/board/click-covariance.js";
import { placeView } from "../../../src/board/place-view.js";
import { applyHomography, type Matrix3 } from "../../../src/board/plane-transform.js";
import { boardPoint, framePoint } from "../../../src/core/units.js";
import { shrinkView } from "../../../src/sources/shrink-frame.js";
import { makeRandom } from "../../simulate/random.js";

// A camera a little askew over a 58 × 34 mm board, 256 × 192 px.
const CAMERA: Matrix3 = [3.4, -0.31, 21, 0.27, 3.3, 30, 0.9e-3, -0.6e-3, 1];
const PLACES = [
  [2, 3],
  [55, 4],
  [54, 31],
  [3, 29],
  [28, 6],
  [33, 25],
  [12, 17],
  [46, 14],
] as const;

function viewOf(count: number, offPx: (i: number) => readonly [number, number] = () => [0, 0]): View {
  const fiducials = PLACES.slice(0, count).map(([x, y], i): View["fiducials"][number] => {
    const [u, v] = applyHomography(CAMERA, [x, y]);
    const [du, dv] = offPx(i);
    return { board: [x, y], pixel: [u + du, v + dv] };
  });
  return { kind: "faultglow/view", version: 1, side: "top", frame: { width: 256, height: 192 }, fiducials };
}

describe("the error of clicked fiducials", () => {
  it.each([2, 3, 4, 6])("of a view by %d is the scatter of the places that it gives", (count) => {
    const random = makeRandom(`clicks/${count}`);
    const right = placeView(viewOf(count));
    const click = () => CLICK_SIGMA_PX * random.normal();
    const draws = 1500;
    for (const mm of [boardPoint(28, 17), boardPoint(7, 26), boardPoint(50, 30)]) {
      const [x, y] = right.toFrame(mm);
      let [xx, xy, yy] = [0, 0, 0];
      for (let k = 0; k < draws; k++) {
        const [u, v] = placeView(viewOf(count, () => [click(), click()])).toFrame(mm);
        xx += (u - x) ** 2 / draws;
        xy += ((u - x) * (v - y)) / draws;
        yy += (v - y) ** 2 / draws;
      }
      const stated = right.covarianceAt(framePoint(x, y));
      // A variance of 1500 draws is known to √(2/1500) = 3.7 %; four times that.
      expect(Math.abs(stated.xx / xx - 1)).toBeLessThan(0.15);
      expect(Math.abs(stated.yy / yy - 1)).toBeLessThan(0.15);
      expect(Math.abs(stated.xy - xy) / Math.sqrt(xx * yy)).toBeLessThan(0.15);
    }
  });

  it("is one click's at a fiducial that others don't check, and its share of one in their middle", () => {
    for (const count of [2, 3]) {
      const view = viewOf(count);
      const { covarianceAt } = placeView(view);
      const pixels = view.fiducials.map(({ pixel }) => pixel);
      const at = covarianceAt(framePoint(...pixels[1]!));
      expect(at.xx).toBeCloseTo(CLICK_SIGMA_PX ** 2, 10);
      expect(at.xy).toBeCloseTo(0, 10);
      const mean = (c: 0 | 1) => pixels.reduce((sum, pixel) => sum + pixel[c], 0) / count;
      expect(covarianceAt(framePoint(mean(0), mean(1))).yy).toBeCloseTo(CLICK_SIGMA_PX ** 2 / count, 10);
    }
  });

  it("grows with what spare fiducials contradict each other by", () => {
    const at = framePoint(110, 90);
    const off = (i: number) => [i % 2 ? 0.9 : -0.8, i % 3 ? 0.7 : -1] as const;
    const [agree, contradict] = [viewOf(8), viewOf(8, off)].map(
      (view) => placeView(view).covarianceAt(at).xx,
    );
    expect(agree!).toBeLessThan(0.5 * CLICK_SIGMA_PX ** 2);
    expect(contradict!).toBeGreaterThan(4 * agree!);
    // Clicks that agree by luck are no surer than a click is.
    const close = placeView(viewOf(8, (i) => [i % 2 ? 0.01 : -0.01, 0])).covarianceAt(at).xx;
    expect(close).toBeCloseTo(agree!, 4);
  });

  it("shrinks with the frame", () => {
    const view = placeView(viewOf(5));
    const small = shrinkView(view, 3);
    const mm = boardPoint(41, 12);
    expect(small.covarianceAt(small.toFrame(mm)).xx).toBeCloseTo(
      view.covarianceAt(view.toFrame(mm)).xx / 9,
      10,
    );
  });
});
