import { describe, expect, it } from "vitest";
import { FINISH_EMISSIVITY } from "../../../src/board/emissivity.js";
import { placeView } from "../../../src/board/place-view.js";
import { boardPoint } from "../../../src/core/units.js";
import { emissivityMap } from "../../../src/sources/emissivity-map.js";
import { MIXED } from "./mixed-board.js";
import { VIEW } from "./relaxed-plate.js";

const { width, height } = VIEW.frame;
const view = placeView(VIEW);
const pixelOf = (x: number, y: number): number => {
  const [px, py] = view.toFrame(boardPoint(x, y));
  return Math.round(py) * width + Math.round(px);
};

describe("emissivityMap", () => {
  const map = emissivityMap(MIXED, view, width, height);

  it("0 off the board, the mask's between the parts, each part's own on it", () => {
    expect(map[0]).toBe(0);
    expect(map[pixelOf(21, 20)]).toBeCloseTo(FINISH_EMISSIVITY["solder-mask"].emissivity, 6);
    expect(map[pixelOf(31, 7)]).toBeCloseTo(FINISH_EMISSIVITY["bare-die"].emissivity, 6);
  });

  it("a small part lies over a large one, a shield over all that it covers", () => {
    expect(map[pixelOf(27.5, 9.5)]).toBeCloseTo(0.42, 6);
    const shield = FINISH_EMISSIVITY["bare-metal"].emissivity;
    expect(map[pixelOf(10, 10)]).toBeCloseTo(shield, 6);
    expect(map[pixelOf(15, 15)]).toBeCloseTo(shield, 6);
  });

  it("what sits on the other side is not seen", () => {
    expect(map[pixelOf(36.5, 18.5)]).toBeCloseTo(FINISH_EMISSIVITY["solder-mask"].emissivity, 6);
  });

  it("nowhere outside 0…1", () => {
    for (const value of map) {
      expect(value).toBeGreaterThanOrEqual(0);
      expect(value).toBeLessThanOrEqual(1);
    }
  });
});
