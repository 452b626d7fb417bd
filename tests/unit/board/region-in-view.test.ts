import { describe, expect, it } from "vitest";
import type { Region } from "../../../src/board/board-schema.js";
import { regionInView } from "../../../src/board/region-in-view.js";
import { boardPoint } from "../../../src/core/units.js";

const square = (ref: string, half: number, kind: Region["kind"]): Region => ({
  ref,
  side: "top",
  kind,
  polygon: [
    [-half, -half],
    [half, -half],
    [half, half],
    [-half, half],
  ],
});
const board = { regions: [square("U1", 1, "ic"), square("U2", 3, "ic"), square("SH1", 2, "shield")] };

describe("regionInView", () => {
  it("is the shield over what lies under it, else the smaller part, and none beside them", () => {
    const at = (x: number, side: Region["side"] = "top") =>
      regionInView(board, boardPoint(x, 0), side)?.ref ?? null;
    expect([at(0), at(2.5), at(4), at(0, "bottom")]).toEqual(["SH1", "U2", null, null]);
    const open = { regions: board.regions.slice(0, 2) };
    expect(regionInView(open, boardPoint(0, 0), "top")?.ref).toBe("U1");
  });
});
