import { describe, expect, it } from "vitest";
import type { View } from "../../../src/board/board-schema.js";
import { boardPoint } from "../../../src/core/units.js";
import type { Column } from "../../../src/sources/column.js";
import { coverageWindow } from "../../../src/sources/coverage-window.js";
import { PLATE_STATES } from "../../../src/sources/plate-state.js";
import { mirrorOf } from "../../../src/sources/recast-candidate.js";
import type { Candidate, SourceModel } from "../../../src/sources/source-model.js";
import { denseOf } from "./dense-column.js";
import { MIXED, square } from "./mixed-board.js";
import { BOARD, VIEW } from "./relaxed-plate.js";
import { modelOf, partOf, pictureOf } from "./small-model.js";

const RISING = PLATE_STATES.find(({ kind, lengthMm }) => kind === "rising" && lengthMm > 4)!;

/** Another picture of the top: closer, turned a little, and only of the right part of the board. */
const CLOSE: View = {
  kind: "faultglow/view",
  version: 1,
  side: "top",
  frame: { width: 90, height: 104 },
  fiducials: [
    { board: [18, 2], pixel: [6, 9] },
    { board: [38, 2], pixel: [84, 15] },
    { board: [38, 22], pixel: [78, 93] },
    { board: [18, 22], pixel: [0, 87] },
  ],
};
/** The bottom, turned over about a vertical line. */
const BELOW: View = {
  ...VIEW,
  side: "bottom",
  frame: { width: 100, height: 62 },
  fiducials: BOARD.outline.map((board) => ({
    board,
    pixel: [94.2 - 2.2 * board[0], 4.6 + 2.2 * board[1]] as [number, number],
  })),
};

/** The rows of a dense column that belong to one picture. */
const own = (model: SourceModel, column: Column, picture: number): number[] => {
  const { offset, seen } = model.pictures[picture]!;
  return [...denseOf(column, model.size).subarray(offset, offset + seen.width * seen.height)];
};

describe("a model of several pictures", () => {
  const inputs = [
    pictureOf(VIEW, null, 1),
    pictureOf(CLOSE, null, 1.4),
    pictureOf(BELOW, null, 0.8),
  ] as const;
  const together = modelOf(MIXED, inputs);
  const alone = inputs.map((input) => modelOf(MIXED, [input]));
  const candidates = (ref: string): [Candidate, Candidate[]] => [
    partOf(together, ref),
    alone.map((m) => partOf(m, ref)),
  ];

  it("its pixels are those of the pictures one after the other", () => {
    expect(together.pictures.map((picture) => picture.offset)).toEqual([0, 128 * 96, 128 * 96 + 90 * 104]);
    expect(together.size).toBe(128 * 96 + 90 * 104 + 100 * 62);
  });

  it.each(["SH1", "U1", "U2", "C9"])(
    "%s: restricted to a picture, plate, body and mirror are as in that one alone",
    (ref) => {
      const [candidate, singles] = candidates(ref);
      singles.forEach((single, k) => {
        const model = alone[k]!;
        expect(own(together, together.plateColumn(candidate, RISING), k)).toEqual(
          own(model, model.plateColumn(single, RISING), 0),
        );
        const none = Array.from({ length: model.size }, () => 0);
        const body = candidate.body === null ? none : own(together, candidate.body, k);
        expect(body).toEqual(single.body === null ? none : own(model, single.body, 0));
      });
      // Mirrors are each picture's own: what is mirrored differs from place to place.
      const mirrors = together.mirrorColumns(mirrorOf(candidate));
      const apart = singles.map((single, k) => alone[k]!.mirrorColumns(mirrorOf(single)));
      expect(mirrors).toHaveLength(apart.reduce((sum, columns) => sum + columns.length, 0));
      let n = 0;
      apart.forEach((columns, k) => {
        for (const column of columns) {
          const dense = denseOf(mirrors[n++]!, together.size);
          const { offset } = together.pictures[k]!;
          expect([...dense.subarray(offset, offset + alone[k]!.size)]).toEqual(own(alone[k]!, column, 0));
          expect(dense.every((v, i) => v === 0 || (i >= offset && i < offset + alone[k]!.size))).toBe(true);
        }
      });
    },
  );

  it("a part shows its body on its own side only, and heats the plate on both", () => {
    const [u1] = candidates("U1");
    const sum = (values: readonly number[]) => values.reduce((a, b) => a + b, 0);
    expect(sum(own(together, u1.body!, 0))).toBeGreaterThan(10);
    expect(sum(own(together, u1.body!, 2))).toBe(0);
    expect(sum(own(together, together.plateColumn(u1, RISING), 2))).toBeGreaterThan(10);
    const [c9] = candidates("C9");
    expect(sum(own(together, c9.body!, 0))).toBe(0);
    expect(sum(own(together, c9.body!, 2))).toBeGreaterThan(10);
  });

  it("free places belong to the picture that shows them", () => {
    const window = coverageWindow(together.pictures[1]!.view, square(22, 16, 2), 90, 104, 15)!;
    const free = together.freeCandidate(boardPoint(23, 17), { picture: 1, window, sharp: true })!;
    const level = denseOf(together.mirrorColumns(mirrorOf(free))[0]!, together.size);
    const { offset } = together.pictures[1]!;
    const outside = level.filter((_, i) => i < offset || i >= offset + 90 * 104);
    expect(Math.max(...outside)).toBe(0);
    expect(Math.max(...level)).toBeGreaterThan(0.9);
  });
});
