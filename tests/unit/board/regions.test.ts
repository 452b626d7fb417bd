import { describe, expect, it } from "vitest";
import type { Region } from "../../../src/board/board-schema.js";
import { FINISHES } from "../../../src/board/board-schema.js";
import { emissivityOf, FINISH_EMISSIVITY, finishOf } from "../../../src/board/emissivity.js";
import { nearestRegions } from "../../../src/board/nearest-regions.js";
import { boardPoint } from "../../../src/core/units.js";

const box = (
  ref: string,
  x: number,
  y: number,
  width: number,
  height: number,
  side: Region["side"] = "top",
): Region => ({
  ref,
  side,
  polygon: [
    [x, y],
    [x + width, y],
    [x + width, y + height],
    [x, y + height],
  ],
});

describe("nearestRegions", () => {
  const board = {
    regions: [
      box("SH1", 0, 0, 20, 12),
      box("U1", 4, 3, 5, 4),
      box("C2", 23, 3, 1, 2),
      box("C1", 12, 20, 2, 1),
      box("U9", 4, 3, 5, 4, "bottom"),
    ],
  };
  const near = (x: number, y: number, side?: Region["side"], limit?: number) =>
    nearestRegions(board, boardPoint(x, y), side, limit).map(({ region, distanceMm }) => [
      region.ref,
      distanceMm,
    ]);

  it("is 0 inside and on the edge, the smaller part first, then the order of the map", () => {
    expect(near(5, 4, undefined, 3)).toEqual([
      ["U1", 0],
      ["U9", 0],
      ["SH1", 0],
    ]);
    expect(near(9, 5, "top", 2)).toEqual([
      ["U1", 0],
      ["SH1", 0],
    ]);
  });

  it("measures to the edge, not to the centre", () => {
    expect(near(21, 4, "top")).toEqual([
      ["SH1", 1],
      ["C2", 2],
      ["U1", 12],
      ["C1", Math.hypot(7, 16)],
    ]);
  });

  it("keeps to a side and to a limit, and gives place and area", () => {
    expect(near(5, 4, "bottom")).toEqual([["U9", 0]]);
    expect(near(5, 4, "top", 0)).toEqual([]);
    expect(nearestRegions(board, boardPoint(23.5, 4), "top", 1)).toMatchObject([{ index: 2, areaMm2: 2 }]);
  });
});

describe("emissivityOf", () => {
  it("takes the declared value first, then the finish, then the kind of part", () => {
    expect(emissivityOf({ finish: "ceramic", emissivity: 0.42 })).toBe(0.42);
    expect(emissivityOf({ finish: "bare-metal", kind: "ic" })).toBe(
      FINISH_EMISSIVITY["bare-metal"].emissivity,
    );
    expect(finishOf({ kind: "shield" })).toBe("bare-metal");
    expect(finishOf({ kind: "passive" })).toBe("ceramic");
    expect(finishOf({})).toBe("moulded");
  });

  it("keeps every value within the range of its sources and names them", () => {
    for (const finish of FINISHES) {
      const { emissivity, low, high, source } = FINISH_EMISSIVITY[finish];
      expect(low).toBeLessThan(emissivity);
      expect(emissivity).toBeLessThan(high);
      expect(source.length).toBeGreaterThan(20);
    }
  });

  it("agrees with published tables, as compiled tables reproduce them (the originals were not seen)", () => {
    // Öhman 1999: glass-fibre laminate at 8–14 µm, 70 °C.
    expect(emissivityOf({ finish: "solder-mask" })).toBe(0.91);
    // Bramson 1968: porcelain at 20 °C.
    expect(emissivityOf({ finish: "ceramic" })).toBe(0.92);
    // Black vinyl tape.
    expect(emissivityOf({ finish: "coated" })).toBe(0.96);
    // Tinned steel sheet 0.064 (Wolfe 1965), nickel–copper up to 0.14 (pyrometer tables).
    expect(emissivityOf({ finish: "bare-metal" })).toBeGreaterThan(0.064);
    expect(emissivityOf({ finish: "bare-metal" })).toBeLessThan(0.14);
  });
});
