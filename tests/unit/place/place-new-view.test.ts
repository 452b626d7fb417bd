import { describe, expect, it } from "vitest";
import { placeView } from "../../../src/board/place-view.js";
import { applyHomography, composeHomographies, type Matrix3 } from "../../../src/board/plane-transform.js";
import type { Raster } from "../../../src/core/raster.js";
import { boardPoint } from "../../../src/core/units.js";
import { PLACE_NEW_DEFAULTS } from "../../../src/place/place-new-defaults.js";
import { placeNewView } from "../../../src/place/place-new-view.js";
import { BOARD, drawBoard, FIRST, moved, viewOf } from "./drawn-board.js";

const SIZE = [176, 128] as const;
const MORNING = { board: 2.1, parts: [0.9, -1.1, 0.7, -0.6, 0.5] };
const EARLIER = { frame: drawBoard(FIRST, SIZE, MORNING, "first"), view: viewOf(FIRST, ...SIZE) };

/** Largest error over corners and middle of the board, px. */
function errorPx(view: NonNullable<ReturnType<typeof placeNewView>["view"]>, truth: Matrix3): number {
  const placed = placeView(view);
  return Math.max(
    ...[
      [2, 2],
      [58, 3],
      [50, 35],
      [3, 36],
      [30, 19],
    ].map(([x, y]) => {
      const [u, v] = placed.toFrame(boardPoint(x!, y!));
      const [s, t] = applyHomography(truth, [x!, y!]);
      return Math.hypot(u - s, v - t);
    }),
  );
}

// White noise of 50 mK on edges of 0.5–2 K over about 300 px of edge bounds the place to some hundredths of a pixel;
// the largest error of five points is let be five times the stated sigma, which one in some thousand passes by chance.
const SIGMAS = 5;

describe("placeNewView", () => {
  it("finds a board that was moved, turned and scaled, in a frame of another size, part of it outside", () => {
    const move = moved({ turnDeg: 11, scale: 1.12, shift: [31, -14] }, [87.5, 63.5]);
    const truth = composeHomographies(move, FIRST);
    const found = placeNewView(EARLIER, drawBoard(truth, [200, 140], MORNING, "second"), BOARD);
    expect(found.trusted, String(found.doubt)).toBe(true);
    expect(found.view!.frame).toEqual({ width: 200, height: 140 });
    expect(found.rotationDeg).toBeCloseTo(11, 0);
    expect(found.scale).toBeCloseTo(1.12, 1);
    expect(found.seenShare).toBeGreaterThan(0.5);
    expect(found.seenShare).toBeLessThan(1);
    expect(errorPx(found.view!, truth)).toBeLessThan(SIGMAS * found.sigmaPx);
    expect(found.sigmaPx).toBeLessThan(0.3);
    // 2.19 px per mm × 1.12.
    expect(found.sigmaMm / found.sigmaPx).toBeCloseTo(1 / (2.19 * 1.12), 1);
  });

  it("takes the view over where the same baseline serves again, and only then", () => {
    const frame = drawBoard(FIRST, SIZE, { board: 0, parts: [0, 0, 0, 0, 0] }, "bare");
    frame.data[77] = Number.NaN;
    const again = { ...frame, data: frame.data.slice() };
    const found = placeNewView({ ...EARLIER, frame }, again, BOARD);
    expect(found).toMatchObject({ trusted: true, view: EARLIER.view, sigmaPx: 0 });
    again.data[5]! += 0.25;
    expect(placeNewView({ ...EARLIER, frame }, again, BOARD).sigmaPx).toBeGreaterThan(0);
  });

  it("does not mind that the board is colder than the table now, and that parts swapped light for dark", () => {
    const truth = composeHomographies(
      moved({ turnDeg: -7, scale: 0.9, shift: [-9, 6] }, [87.5, 63.5]),
      FIRST,
    );
    const evening = { board: -1.4, parts: [-0.8, 0.7, 0.9, -0.5, -0.7] };
    const found = placeNewView(EARLIER, drawBoard(truth, SIZE, evening, "evening"), BOARD);
    expect(found.trusted, String(found.doubt)).toBe(true);
    expect(errorPx(found.view!, truth)).toBeLessThan(SIGMAS * found.sigmaPx);
  });

  it("finds a small change of perspective", () => {
    const tilt: Matrix3 = [1, 0, 0, 0, 1, 0, 2.2e-4, -1.6e-4, 1];
    const truth = composeHomographies(
      tilt,
      composeHomographies(moved({ turnDeg: 4, scale: 1, shift: [5, 3] }, [80, 60]), FIRST),
    );
    const found = placeNewView(EARLIER, drawBoard(truth, SIZE, MORNING, "tilt"), BOARD);
    expect(found.trusted, String(found.doubt)).toBe(true);
    expect(errorPx(found.view!, truth)).toBeLessThan(SIGMAS * found.sigmaPx);
    expect(
      errorPx(
        viewOf(composeHomographies(moved({ turnDeg: 4, scale: 1, shift: [5, 3] }, [80, 60]), FIRST), ...SIZE),
        truth,
      ),
    ).toBeGreaterThan(1);
  });

  it("stays away from a pattern that stays with the sensor", () => {
    const truth = composeHomographies(
      moved({ turnDeg: 3, scale: 1.03, shift: [6, -4] }, [87.5, 63.5]),
      FIRST,
    );
    const withPattern = (frame: Raster<"degC">): Raster<"degC"> => ({
      ...frame,
      data: frame.data.map(
        (value, k) => value + 0.25 * Math.sin((k % SIZE[0]) ** 2) + 0.15 * Math.sin(k * k),
      ),
    });
    const found = placeNewView(
      { ...EARLIER, frame: withPattern(EARLIER.frame) },
      withPattern(drawBoard(truth, SIZE, MORNING, "pattern")),
      BOARD,
    );
    expect(found.trusted, String(found.doubt)).toBe(true);
    expect(errorPx(found.view!, truth)).toBeLessThan(SIGMAS * found.sigmaPx);
  });

  it("says that a board lies turned half round", () => {
    const turned: Matrix3 = [-1, 0, 60, 0, -1, 38, 0, 0, 1];
    const later = drawBoard(composeHomographies(FIRST, turned), SIZE, MORNING, "half");
    const found = placeNewView(EARLIER, later, BOARD);
    expect(found.trusted).toBe(false);
    expect(found.doubt).toBe("half");
  });

  it("says that a frame shows the board mirrored", () => {
    const over: Matrix3 = [-1, 0, 60, 0, 1, 0, 0, 0, 1];
    const later = drawBoard(composeHomographies(FIRST, over), SIZE, MORNING, "over");
    expect(placeNewView(EARLIER, later, BOARD).doubt).toBe("over");
  });

  it("does not trust a bare board of the same outline", () => {
    const bare = drawBoard(FIRST, SIZE, { board: 2.1, parts: [0, 0, 0, 0, 0] }, "bare");
    const found = placeNewView(EARLIER, bare, BOARD);
    expect(found.trusted).toBe(false);
    expect(found.innerZ).toBeLessThan(PLACE_NEW_DEFAULTS.leastInnerZ);
  });

  it("does not trust a board most of which has left the frame", () => {
    const truth = composeHomographies(moved({ turnDeg: 0, scale: 1, shift: [104, 0] }, [0, 0]), FIRST);
    expect(placeNewView(EARLIER, drawBoard(truth, SIZE, MORNING, "gone"), BOARD).trusted).toBe(false);
  });

  it("does not trust noise, and finds nothing in an even frame", () => {
    const table = drawBoard(FIRST, SIZE, { board: 0, parts: [0, 0, 0, 0, 0] }, "table");
    expect(placeNewView(EARLIER, table, BOARD).trusted).toBe(false);
    const even = { ...table, data: new Float32Array(table.data.length).fill(24) };
    expect(placeNewView(EARLIER, even, BOARD)).toMatchObject({
      trusted: false,
      doubt: "nothing",
      view: null,
    });
  });

  it("refuses a view that is not the earlier frame's", () => {
    const view = viewOf(FIRST, 175, 128);
    expect(() => placeNewView({ ...EARLIER, view }, EARLIER.frame, BOARD)).toThrow(/E_VIEW_FRAME/);
  });
});
