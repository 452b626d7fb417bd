import { describe, expect, it } from "vitest";
import { CandidatePool } from "../../../src/sources/candidate-pool.js";
import { addColumn } from "../../../src/sources/column.js";
import { PLATE_STATES } from "../../../src/sources/plate-state.js";
import { ProjectedFit } from "../../../src/sources/projected-fit.js";
import { mirrorOf, recast } from "../../../src/sources/recast-candidate.js";
import type { Candidate } from "../../../src/sources/source-model.js";
import { weighFace } from "../../../src/sources/weigh-face.js";
import { makeRandom } from "../../simulate/random.js";
import { levelColumns, modelOf, partOf } from "./small-model.js";

const NOISE_K = 0.04;
const ROOM = { roomK: 1, warmerChance: 0.5 };
const model = modelOf();
const state = PLATE_STATES.find(({ kind, lengthMm }) => kind === "steady" && lengthMm === 18)!;
/** A face of which the map does not tell whether it is bare metal. */
const part: Candidate = { ...partOf(model, "U2"), shinyChance: 0.3 };

/** The candidates before noise, and what is added to it. */
function poolOf(add: (rise: Float32Array) => void): CandidatePool {
  const random = makeRandom("weigh a face");
  const rise = Float32Array.from({ length: model.size }, () => NOISE_K * random.normal());
  add(rise);
  const variance = new Float32Array(model.size).fill(NOISE_K ** 2);
  return new CandidatePool(model, new ProjectedFit(rise, variance, levelColumns(model, 0.3)), state);
}

const heated = poolOf((rise) => {
  addColumn(rise, model.plateColumn(part, state), 0.3);
  addColumn(rise, part.body!, 3);
});

/** A hand in one corner of the face, which ends with it: no level, slope or curvature, and no heat around. */
const pictured = poolOf((rise) => {
  const { width } = model.pictures[0]!.seen;
  const { at, values } = part.body!;
  const corner = Math.min(...at!.filter((_, k) => values[k]! > 0.9));
  at!.forEach((pixel, k) => {
    const [x, y] = [(pixel - corner) % width, Math.floor((pixel - corner) / width)];
    rise[pixel]! += 5 * values[k]! * Math.exp((-0.5 * ((x - 3) ** 2 + (y - 3) ** 2)) / 3 ** 2);
  });
});

describe("weighFace", () => {
  it("takes a face for heat that has a hill around it", () => {
    expect(weighFace(model, heated, part, [], 1, ROOM)).toBeGreaterThan(3);
  });

  it("takes a hand in the corner of a face, with no hill around it, for the room", () => {
    expect(weighFace(model, pictured, part, [], 1, ROOM)).toBeLessThan(0);
  });
});

describe("offFace", () => {
  const plate = recast(part, "plate");

  it("leaves nothing of what only the face shows", () => {
    // χ² with one degree of freedom: 99.9 % lie below 10.8.
    expect(
      pictured.fitSet([mirrorOf(part), plate]).gain - pictured.fitSet([mirrorOf(part)]).gain,
    ).toBeGreaterThan(10.8);
    expect(pictured.offFace(part).fitSet([plate]).gain).toBeLessThan(10.8);
    expect(heated.offFace(part).fitSet([plate]).gain).toBeGreaterThan(100);
  });

  it("is made once for a face", () => {
    expect(heated.offFace(part)).toBe(heated.offFace(part));
  });
});
