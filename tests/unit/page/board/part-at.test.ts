import { describe, expect, it } from "vitest";
import type { BoardMap } from "../../../../src/board/board-schema.js";
import { partAt } from "../../../../src/page/board/part-at.js";

const square = (x: number, y: number, size: number): [number, number][] => [
  [x, y],
  [x + size, y],
  [x + size, y + size],
  [x, y + size],
];
const board: BoardMap = {
  kind: "faultglow/board",
  version: 1,
  outline: square(0, 0, 40),
  regions: [
    { ref: "SH1", side: "top", polygon: square(5, 5, 20) },
    { ref: "U1", side: "top", polygon: square(10, 12, 4) },
    { ref: "C9", side: "bottom", polygon: square(10, 12, 2) },
  ],
};

describe("partAt", () => {
  it("finds the smallest part of the side", () => {
    expect(partAt(board, "top", [11, 13])?.ref).toBe("U1");
    expect(partAt(board, "top", [20, 8])?.ref).toBe("SH1");
    expect(partAt(board, "bottom", [11, 13])?.ref).toBe("C9");
    expect(partAt(board, "top", [30, 2])).toBeNull();
  });
});
