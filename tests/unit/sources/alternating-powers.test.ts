import { describe, expect, it } from "vitest";
import type { BoardMap } from "../../../src/board/board-schema.js";
import { alternatingPowers } from "../../../src/sources/alternating-powers.js";
import { makeRandom } from "../../simulate/random.js";
import { BOARD } from "./relaxed-plate.js";
import { modelOf, partOf, partsOf } from "./small-model.js";
import { switchedPlate } from "./switched-plate.js";

const WATTS = 0.3;
const PERIOD_S = 8;
/** Taken to hold 2400 J/m²K, as a board of 1 mm does. */
const { plate: _, ...UNTOLD } = BOARD;
const TOLD: BoardMap = {
  ...BOARD,
  plate: { conductanceWPerK: 0.008, lossWPerM2K: 20, heatCapacityJPerM2K: 2000 },
};
const NOISE_K = 0.002;

/** Watts told where the pictures lag so far behind the supply, K of a body's own rhythm beside the plate's. */
function told(
  board: BoardMap,
  lagDeg: number,
  body: { readonly inPhaseK: number; readonly behindK: number },
) {
  const model = modelOf(board, undefined, null, PERIOD_S);
  const u1 = partOf(model, "U1");
  const { cosine, sine } = switchedPlate(model, u1, WATTS, PERIOD_S);
  const random = makeRandom(`alternating ${lagDeg}`);
  // On and off begins with on: its first harmonic is a sine.
  const lag = Math.PI / 2 + (lagDeg * Math.PI) / 180;
  const [c, s] = [Math.cos(lag), Math.sin(lag)];
  const seen = (a: number, b: number, bodyK: number): Float32Array => {
    const out = cosine.map((one, k) => a * one + b * sine[k]! + NOISE_K * random.normal());
    u1.body!.at!.forEach((pixel, k) => {
      out[pixel]! += bodyK * u1.body!.values[k]!;
    });
    return out;
  };
  const inPhase = seen(c, s, body.inPhaseK);
  const parts = partsOf(model, inPhase, NOISE_K, model.firstState);
  const behind = seen(-s, c, body.behindK);
  const modelled = inPhase.map((one) => Math.max(0, one));
  return alternatingPowers(model, model.alternating!, parts, behind, [u1], modelled)[0]!;
}

describe("watts under a supply that goes on and off", () => {
  it.each([
    ["told", 20, TOLD, 0.1],
    ["told", 70, TOLD, 0.1],
    ["not told", 20, UNTOLD, 0.4],
    ["not told", 70, UNTOLD, 0.4],
  ])(
    "are those while it is on, on a plate that is %s, whatever the picture's phase: %i° behind",
    (_, lagDeg, board, most) => {
      const { powerW, powerLogSigma } = told(board, lagDeg, { inPhaseK: 0.6, behindK: 0.3 });
      expect(Math.abs(Math.log(powerW / WATTS))).toBeLessThan(most);
      expect(Math.abs(Math.log(powerW / WATTS))).toBeLessThan(1.645 * powerLogSigma);
      expect(powerLogSigma).toBeGreaterThan(0.15);
      expect(powerLogSigma).toBeLessThan(0.6);
    },
  );

  it("are the plate's, however strongly and late a body follows", () => {
    const { powerW } = told(TOLD, 40, { inPhaseK: 1.2, behindK: 0.8 });
    expect(Math.abs(Math.log(powerW / WATTS))).toBeLessThan(0.2);
  });
});
