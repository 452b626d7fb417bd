import { describe, expect, it } from "vitest";
import type { StatePool } from "../../../src/sources/average-powers.js";
import { doubtTime } from "../../../src/sources/doubt-time.js";
import { PlateConstants } from "../../../src/sources/plate-constants.js";
import { PLATE_STATES } from "../../../src/sources/plate-state.js";
import {
  type Candidate,
  SOURCE_MODEL_DEFAULTS,
  type SourceModel,
} from "../../../src/sources/source-model.js";

const SET = [{}] as Candidate[];

/** A fit that one length suits best: χ² lost for each state, by the logarithm of how far it is from that. */
function ask(
  timeS: number | null,
  seenMm: number,
  lossAtDouble: number,
  best = 2000,
  alternating: SourceModel["alternating"] = null,
) {
  const plate = new PlateConstants({}, timeS, SOURCE_MODEL_DEFAULTS);
  const pools = PLATE_STATES.map((state): StatePool => {
    const loss = lossAtDouble * Math.log2(state.lengthMm / seenMm) ** 2;
    return {
      pool: { state, fitSet: () => ({ gain: best - loss }) } as unknown as StatePool["pool"],
      penalty: plate.penaltyOf(state),
    };
  });
  return doubtTime({ plate, alternating }, SET, pools, 1);
}

describe("doubtTime", () => {
  // By the defaults of the plate, 2400 J/m²K and 0.015 W/K, heat spreads 4.8 mm in 3.7 s.
  it("doubts minutes told of what spread for seconds, and seconds told of what spread for minutes", () => {
    const late = ask(600, 4.8, 400)!;
    expect([late.toldS, late.likely.lengthMm]).toEqual([600, 4.8]);
    expect(late.likelyS).toBeCloseTo(3.7, 1);
    expect(late.factor).toBeGreaterThan(100);
    const early = ask(0.3, 26, 400)!;
    expect(early.likely.kind).toBe("steady");
    expect(early.likelyS).toBeNull();
  });

  it("doubts no time that copper twice or half as good as the usual one makes right", () => {
    for (const timeS of [1.5, 3.7, 8]) expect(ask(timeS, 4.8, 400), String(timeS)).toBeNull();
  });

  it("doubts none where the rise does not tell how far heat has spread, or where uneven copper may look so", () => {
    expect(ask(600, 4.8, 0.5)).toBeNull();
    // The same loss of a thousand times the evidence: less than what uneven copper makes of it.
    expect(ask(600, 4.8, 400, 2e3)).not.toBeNull();
    expect(ask(600, 4.8, 400, 2e6)).toBeNull();
  });

  it("has nothing to doubt without a time, without a source, or under a switched supply", () => {
    expect(ask(null, 4.8, 400)).toBeNull();
    expect(ask(600, 4.8, 400, 2000, {} as NonNullable<SourceModel["alternating"]>)).toBeNull();
    const plate = new PlateConstants({}, 600, SOURCE_MODEL_DEFAULTS);
    expect(doubtTime({ plate, alternating: null }, [], [], 1)).toBeNull();
  });
});
