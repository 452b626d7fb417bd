import { describe, expect, it } from "vitest";
import { placeView } from "../../../src/board/place-view.js";
import { boardPoint } from "../../../src/core/units.js";
import { addColumn } from "../../../src/sources/column.js";
import { FIT_DEFAULTS } from "../../../src/sources/fit-defaults.js";
import { heatInMask, isBehind } from "../../../src/sources/heat-in-mask.js";
import { PLATE_STATES } from "../../../src/sources/plate-state.js";
import { heatUnderMirror } from "../../../src/sources/recast-candidate.js";
import type { Candidate, SourceModel } from "../../../src/sources/source-model.js";
import { SourceSearch } from "../../../src/sources/source-search.js";
import { makeRandom } from "../../simulate/random.js";
import { BOARD, VIEW } from "./relaxed-plate.js";
import { faultsOf, fitRise, levelColumns, modelOf, partOf } from "./small-model.js";

const NOISE_K = 0.04;
const state = PLATE_STATES.find(({ kind, lengthMm }) => kind === "steady" && lengthMm === 18)!;
const boardOf = (below: readonly string[], warm: readonly string[] = []) => ({
  ...BOARD,
  regions: BOARD.regions.map((region) => ({
    ...region,
    side: below.includes(region.ref) ? ("bottom" as const) : region.side,
    normallyWarm: warm.includes(region.ref),
  })),
});
const model = modelOf(boardOf(["U2", "C2", "Q1"]));

/** Noise, heat that no face shows, and what each face in view shows beside its share of it. */
function riseOf(made: SourceModel, watts: Readonly<Record<string, number>>, facesK: number): Float32Array {
  const random = makeRandom("heat in the mask");
  const rise = Float32Array.from({ length: made.size }, () => NOISE_K * random.normal());
  for (const [ref, powerW] of Object.entries(watts))
    addColumn(rise, made.plateColumn(partOf(made, ref), state), powerW);
  made.candidates.forEach(({ body }, k) => {
    if (body !== null) addColumn(rise, body, (k % 2 === 0 ? 1 : -0.6) * facesK);
  });
  return rise;
}

const inMask = (
  made: SourceModel,
  watts: Readonly<Record<string, number>>,
  facesK: number,
  listed: readonly string[] = [],
) => {
  const fit = fitRise(made, riseOf(made, watts, facesK));
  return fit.inMask(new Set(listed.map((ref) => partOf(made, ref))));
};

describe("heatInMask", () => {
  it("names the part behind by what the board between the faces shows, whatever those show", () => {
    const [even, uneven] = [0, 3].map((facesK) => inMask(model, { U2: 0.3 }, facesK)!);
    for (const found of [even!, uneven!]) expect(faultsOf(found)).toEqual(["U2"]);
    const evidence = [even!, uneven!].map(({ sources }) => sources[0]!.evidence);
    expect(evidence[0]).toBeGreaterThan(200);
    // No face takes part: what is left of 3 K on them is less than the noise, two hundredths of which are beyond the
    // margin.
    expect(Math.abs(evidence[1]! / evidence[0]! - 1)).toBeLessThan(0.1);
  });

  it("makes what drift costs no cheaper where the board is rough beside the plate", () => {
    const rise = riseOf(model, { U2: 0.3 }, 0);
    const { width } = model.pictures[0]!.seen;
    const random = makeRandom("rough");
    const blocks = Array.from({ length: 1000 }, () => 0.12 * random.normal());
    for (let i = 0; i < rise.length; i++)
      rise[i]! += blocks[Math.floor(i / width / 6) * 40 + Math.floor((i % width) / 6)]!;
    const searchOf = (all: readonly Candidate[]) => new SourceSearch(model, rise, all, 30, FIT_DEFAULTS);
    const variance = new Float32Array(model.size).fill(NOISE_K ** 2);
    const nuisance = levelColumns(model, 0.3);
    const found = searchOf(model.candidates);
    const room = { roomK: 0.8, mirrored: [], dullFactor: () => 1 };
    found.prepare(variance, nuisance, room);
    found.fitAgain();
    const problem = { variance, nuisance, room, places: [], strange: new Uint8Array(model.size) };
    const run = heatInMask(found, problem, new Set(), 75, searchOf)!;
    expect(run.scale).toBeGreaterThan(20);
    // χ² is divided by the scale: (level ÷ σ)² must not be. The scale is that of the pass before.
    const share = run.nuisance[0]!.priorSigma / (0.3 / Math.sqrt(run.scale));
    expect(Math.abs(share - 1)).toBeLessThan(0.1);
  });

  it("finds nothing where the faces alone changed", () => {
    const found = inMask(model, {}, 3);
    expect(found === null ? [] : faultsOf(found)).toEqual([]);
  });

  it("leaves to its face what is in view, and the others to parts that warm anyway", () => {
    expect(inMask(model, { U1: 0.3 }, 0)).toBeNull();
    const healthy = modelOf(boardOf(["U2", "C2", "Q1"], ["U2"]));
    expect(inMask(healthy, { U2: 0.3 }, 0)).toBeNull();
    expect(inMask(modelOf(), { U2: 0.3 }, 0)).toBeNull();
  });

  it("weighs it beside a part that is listed since it warms anyway", () => {
    const healthy = modelOf(boardOf(["U2", "C2", "Q1"], ["U1"]));
    const found = inMask(healthy, { U1: 0.2, U2: 0.3 }, 0, ["U1"])!;
    expect(faultsOf(found)).toEqual(["U2"]);
    const warm = found.sources.find(({ candidate }) => candidate.ref === "U1")!;
    expect(Math.abs(warm.powerW / 0.2 - 1)).toBeLessThan(0.3);
  });

  it("takes the place of a listed part behind that explains less, and of two that explain no more", () => {
    expect(faultsOf(inMask(model, { U2: 0.3 }, 0, ["C2"])!)).toEqual(["U2"]);
    expect(faultsOf(inMask(model, { U2: 0.3 }, 0, ["U2", "Q1"])!)).toEqual(["U2"]);
    expect(inMask(model, { U2: 0.3 }, 0, ["U2"])).toBeNull();
    expect(inMask(model, { U2: 0.3, Q1: 0.3 }, 0, ["U2", "Q1"])).toBeNull();
  });

  it("is not asked where a face tells of a listed part, and is where that was taken for a mirror", () => {
    const fit = fitRise(model, riseOf(model, { U2: 0.3 }, 0));
    const u1 = partOf(model, "U1");
    expect(fit.inMask(new Set([u1]))).toBeNull();
    expect(faultsOf(fit.inMask(new Set([heatUnderMirror(u1)]))!)).toEqual(["U2"]);
  });
});

describe("heatInMask beside a place that no map names", () => {
  const at = boardPoint(20, 18);
  const centre = placeView(VIEW).toFrame(at).map(Math.round) as [number, number];
  const window = {
    x0: centre[0] - 6,
    y0: centre[1] - 6,
    width: 13,
    height: 13,
    coverage: new Float32Array(169).fill(1),
    near: new Float32Array(169).fill(1),
  };
  const placed = (sharp: boolean) => model.freeCandidate(at, { picture: 0, window, sharp })!;
  const rise = riseOf(model, {}, 0);
  addColumn(rise, model.plateColumn(placed(true), state), 0.3);
  const found = (sharp: boolean) => {
    const extra = [placed(sharp)];
    const fit = fitRise(model, rise, { extra, options: { unnamedHillOdds: Number.NEGATIVE_INFINITY } });
    return fit.inMask(new Set());
  };

  it("leaves the heat to that where its change ends as a face does, and not where it is a hill", () => {
    expect(found(true)).toBeNull();
    expect(found(false)).not.toBeNull();
  });
});

describe("isBehind", () => {
  it("is true of the far side alone", () => {
    expect(["U1", "U2"].map((ref) => isBehind(model, partOf(model, ref)))).toEqual([false, true]);
  });
});
