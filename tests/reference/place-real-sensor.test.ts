// A drawn board on real frames of an uncooled array (see ../shared/real-frames/README.md): noise, fixed pattern and its
// drift are measured ones, the motion is known.
import { describe, expect, it } from "vitest";
import { placeView } from "../../src/board/place-view.js";
import { applyHomography, composeHomographies, type Matrix3 } from "../../src/board/plane-transform.js";
import { averageFrames } from "../../src/clean/average-frames.js";
import type { Raster } from "../../src/core/raster.js";
import { boardPoint } from "../../src/core/units.js";
import { placeNewView } from "../../src/place/place-new-view.js";
import { readFrames } from "../../src/read/read-frames.js";
import { BOARD, drawBoard, FIRST, moved, viewOf } from "../unit/place/drawn-board.js";
import { sharedFolder } from "./shared-folder.js";

const REAL = sharedFolder("real-frames");
const FOLDER = `${REAL.path}/uniform`;
const LEVELS = { board: 1.6, parts: [0.9, -1.1, 0.7, -0.6, 0.8], noiseK: 0 };

/** Mean of a few frames of the black body, °C. */
async function emptyFrame(from: number, to: number): Promise<Raster<"degC">> {
  const { frames } = await readFrames([`${FOLDER}/*.png`], { scale: { lowC: 0, highC: 1143.717 } });
  return averageFrames(frames.slice(from, to).map(({ raster }) => raster)).mean;
}

function onto(empty: Raster<"degC">, matrix: Matrix3): Raster<"degC"> {
  const drawn = drawBoard(matrix, [empty.width, empty.height], LEVELS, "no noise");
  return { ...empty, data: empty.data.map((value, k) => value + drawn.data[k]! - 22) };
}

describe.skipIf(REAL.missing)(`placing on a real sensor${REAL.title}`, () => {
  it.each([
    [0, 1, [0, 0]],
    [9, 0.93, [-21, 12]],
    [-13, 1.1, [14, -9]],
  ] as const)("finds a board turned by %d°, scaled by %d", async (turnDeg, scale, shift) => {
    const [first, second] = [await emptyFrame(0, 1), await emptyFrame(1, 2)];
    const { width, height } = first;
    const middle = [width / 2, height / 2] as const;
    const where = composeHomographies([1, 0, 0.2 * width, 0, 1, 0.15 * height, 0, 0, 1], FIRST);
    const truth = composeHomographies(moved({ turnDeg, scale, shift }, middle), where);
    const found = placeNewView(
      { frame: onto(first, where), view: viewOf(where, width, height) },
      onto(second, truth),
      BOARD,
    );
    expect(found.trusted, String(found.doubt)).toBe(true);
    for (const [x, y] of [
      [3, 3],
      [57, 4],
      [49, 35],
      [4, 35],
      [30, 20],
    ] as const) {
      const [u, v] = placeView(found.view!).toFrame(boardPoint(x, y));
      const [s, t] = applyHomography(truth, [x, y]);
      // Five times the stated standard error: the worst of five points passes it by chance once in thousands.
      expect(Math.hypot(u - s, v - t)).toBeLessThan(5 * found.sigmaPx);
    }
  });

  it("takes the sensor's own pattern for no board", async () => {
    const [first, second] = [await emptyFrame(0, 1), await emptyFrame(1, 2)];
    const view = viewOf(FIRST, first.width, first.height);
    expect(placeNewView({ frame: first, view }, second, BOARD).trusted).toBe(false);
    // From a frame with a board to one without.
    expect(placeNewView({ frame: onto(first, FIRST), view }, second, BOARD).trusted).toBe(false);
  });
});
