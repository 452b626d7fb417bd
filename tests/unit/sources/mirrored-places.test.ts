import { describe, expect, it } from "vitest";
import type { BoardMap } from "../../../src/board/board-schema.js";
import { createRaster } from "../../../src/core/raster.js";
import { boardPoint } from "../../../src/core/units.js";
import { gaussianFilter } from "../../../src/numeric/gaussian-filter.js";
import { mirroredPlaces } from "../../../src/sources/mirrored-places.js";
import { patchFace } from "../../../src/sources/patch-face.js";
import { PLATE_STATES } from "../../../src/sources/plate-state.js";
import { makeRandom } from "../../simulate/random.js";
import { denseOf } from "./dense-column.js";
import { BOARD, VIEW } from "./relaxed-plate.js";
import { levelColumns, modelOf, partOf, partsOf, pictureOf } from "./small-model.js";

const { width, height } = VIEW.frame;
const NOISE_K = 0.04;

const rectangle = (x: number, y: number, w: number, h: number): [number, number][] => [
  [x, y],
  [x + w, y],
  [x + w, y + h],
  [x, y + h],
];

/** U2 sits below: over it the picture shows bare board. */
const board: BoardMap = {
  ...BOARD,
  regions: BOARD.regions.map((region) =>
    region.ref === "U2" ? { ...region, side: "bottom" as const } : region,
  ),
};
const model = modelOf(board);
const state = PLATE_STATES.find(({ kind, lengthMm }) => kind === "rising" && lengthMm === 4.8)!;
const hidden = partOf(model, "U2");

/** Noise on top of what is given. */
const noisy = (values: ArrayLike<number>): Float32Array => {
  const random = makeRandom("mirrored places");
  return Float32Array.from(values, (value) => value + NOISE_K * random.normal());
};

/** The faces that are taken for mirrors where the hidden part was given so many watts. */
function judge(rise: Float32Array, watts: number, options = {}): Uint8Array {
  const peak = rise.reduce((best, value, i) => (value > rise[best]! ? i : best), 0);
  const window = patchFace(
    createRaster("K", width, height, rise),
    peak % width,
    Math.floor(peak / width),
    0,
    14,
  );
  const place = model.freeCandidate(boardPoint(26.5, 16), { picture: 0, window, sharp: true })!;
  const parts = partsOf(model, rise, NOISE_K, state);
  return mirroredPlaces(
    model,
    parts,
    [hidden],
    { powersW: Float64Array.of(watts), bodyShares: Float64Array.of(0) },
    [place],
    options,
  );
}

describe("mirroredPlaces", () => {
  it("a hill with its foot is heat from below", () => {
    const shown = Float32Array.from(denseOf(model.plateColumn(hidden, state), model.size));
    const top = shown.reduce((a, b) => Math.max(a, b), 0);
    expect(judge(noisy(shown.map((value) => (3 * value) / top)), 3 / top).some((out) => out === 1)).toBe(
      false,
    );
  });

  it("a face that ends sharply over the part is no hill: it is left out, and nothing else", () => {
    const face = new Float32Array(width * height);
    // 23…30 × 13…19 mm at 2.7 px/mm from (9.3, 14.8).
    for (let y = 50; y <= 66; y++) face.fill(3, y * width + 72, y * width + 91);
    const top = model.plateColumn(hidden, state).values.reduce((a, b) => Math.max(a, b), 0);
    const out = judge(noisy(gaussianFilter(face, width, height, 1)), 3 / top);
    const count = out.reduce((a, b) => a + b, 0);
    expect(out[58 * width + 80]).toBe(1);
    expect(count).toBeGreaterThanOrEqual(19 * 17);
    // Two pixels around for the blur, and what of it the patch has taken in.
    expect(count).toBeLessThanOrEqual((19 + 8) * (17 + 8));
    // No state of the plate makes a hill without a foot, however little of the rise a state must explain to be asked.
    expect(judge(noisy(gaussianFilter(face, width, height, 1)), 3 / top, { alikeShare: 0 })).toEqual(out);
  });

  it("a named face is looked at in the picture that shows it, whichever that is", () => {
    // Q1 sits below, under U5; the first picture shows the right half of the board alone.
    const stacked: BoardMap = {
      ...BOARD,
      regions: [
        ...BOARD.regions.map((region) =>
          region.ref === "Q1" ? { ...region, side: "bottom" as const } : region,
        ),
        { ref: "U5", side: "top", kind: "ic", finish: "moulded", polygon: rectangle(4, 15, 7, 6) },
      ],
    };
    const right = {
      ...VIEW,
      fiducials: VIEW.fiducials!.map(({ board: at, pixel: [x, y] }) => ({
        board: at,
        pixel: [x - 60, y] as [number, number],
      })),
    };
    const both = modelOf(stacked, [pictureOf(right), pictureOf(VIEW)]);
    const q1 = partOf(both, "Q1");
    const hill = Float32Array.from(denseOf(both.plateColumn(q1, state), both.size));
    const top = hill.reduce((a, b) => Math.max(a, b), 0);
    const marked = (rise: Float32Array) =>
      mirroredPlaces(
        both,
        {
          rise,
          variance: new Float32Array(both.size).fill(NOISE_K ** 2),
          nuisance: levelColumns(both, 0.3),
          state,
          scale: 1,
        },
        [q1],
        { powersW: Float64Array.of(3 / top), bodyShares: Float64Array.of(0) },
        [],
        // Whatever the foot says: the edge alone is asked.
        { againstHeat: Number.NEGATIVE_INFINITY },
      ).reduce((a, b) => a + b, 0);
    // The hill of what is below goes on outside U5; a face of 3 K ends at its edge.
    expect(marked(hill.map((value) => (3 * value) / top))).toBe(0);
    const face = new Float32Array(both.size);
    partOf(both, "U5").body!.at!.forEach((pixel) => {
      face[pixel] = 3;
    });
    expect(marked(face)).toBeGreaterThan(19 * 16);
  });

  it("a part that shows its own face is judged by that, not here", () => {
    const shown = Float32Array.from(denseOf(model.plateColumn(partOf(model, "U1"), state), model.size));
    const parts = partsOf(model, noisy(shown), NOISE_K, state);
    expect(
      mirroredPlaces(
        model,
        parts,
        [partOf(model, "U1")],
        { powersW: Float64Array.of(1), bodyShares: Float64Array.of(0) },
        [],
      ).some((out) => out === 1),
    ).toBe(false);
  });
});
