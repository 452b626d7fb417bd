import { describe, expect, it } from "vitest";
import type { BoardMap } from "../../../src/board/board-schema.js";
import { emissivityOf } from "../../../src/board/emissivity.js";
import { boardPoint } from "../../../src/core/units.js";
import { coverageWindow } from "../../../src/sources/coverage-window.js";
import { besideKPerW, underKPerW } from "../../../src/sources/face-k-per-w.js";
import { PLATE_STATES } from "../../../src/sources/plate-state.js";
import { mirrorOf } from "../../../src/sources/recast-candidate.js";
import { SourceModel } from "../../../src/sources/source-model.js";
import { denseOf } from "./dense-column.js";
import { MIXED, square } from "./mixed-board.js";
import { BOARD, showRise, VIEW } from "./relaxed-plate.js";
import { modelOf, partOf, pictureOf } from "./small-model.js";

const { width, height } = VIEW.frame;

const STEADY = PLATE_STATES.find(({ kind, lengthMm }) => kind === "steady" && lengthMm > 15)!;
const RISING = PLATE_STATES.find(({ kind, lengthMm }) => kind === "rising" && lengthMm > 4)!;

describe("SourceModel", () => {
  const model = modelOf(MIXED);

  it("names every part on the board; the far side's, and mirrors, show no body", () => {
    expect(model.candidates.map((c) => c.ref)).toEqual(["SH1", "U1", "U2", "C1", "U9", "C9"]);
    const shows = model.candidates.filter((c) => c.body !== null).map((c) => c.ref);
    expect(shows).toEqual(["U1", "U2"]);
    expect([model.plate.conductanceWPerK, model.plate.lossWPerM2K, model.plate.conductanceKnown]).toEqual([
      0.008,
      20,
      true,
    ]);
    expect(model.candidates.map((c) => c.emissivity)).toEqual(MIXED.regions.map(emissivityOf));
  });

  it("a body 1 K warmer shows its emissivity in the middle and nothing far from it", () => {
    const plain = modelOf();
    const u2 = partOf(plain, "U2");
    const dense = denseOf(u2.body!, plain.size);
    const [x, y] = plain.pictures[0]!.view.toFrame(boardPoint(26.5, 16));
    expect(dense[Math.round(y) * width + Math.round(x)]!).toBeCloseTo(u2.emissivity, 3);
    // Seven by six millimetres at 2.7 px per mm, in all.
    const sum = dense.reduce((a, b) => a + b, 0);
    expect(sum / (u2.emissivity * 42 * 2.7 ** 2)).toBeCloseTo(1, 2);
    const far = dense.filter((_, i) => Math.abs((i % width) - x) > 20 || Math.abs(i / width - y) > 20);
    expect(Math.max(...far)).toBe(0);
  });

  it("a watt shows the balance of energy: mean rise 1/(h·A), read through the finish", () => {
    const plain = modelOf({ ...BOARD, regions: BOARD.regions.slice(1, 2) }, [pictureOf(VIEW, null, 0.6)]);
    const plate = denseOf(plain.plateColumn(plain.candidates[0]!, STEADY), plain.size);
    const { emissivity } = plain.pictures[0]!.seen;
    let sum = 0;
    plate.forEach((value, i) => {
      if (emissivity[i]! > 0.5) sum += value / emissivity[i]!;
    });
    // 1/(20 W/m²K × 40 mm × 24 mm) = 52.08 K over 960 mm² of 2.7² px each. The outline cuts pixels in halves: a
    // rim of 346 px of 7000, where emissivity and blur don't cancel quite: 2 %.
    const mean = sum / (960 * 2.7 ** 2);
    expect(Math.abs(mean / 52.0833 - 1)).toBeLessThan(0.02);
  });

  it("weighs watts over longer spreadings than it searches, where nothing is told", () => {
    const { plate: _, ...bare } = BOARD;
    const untold = modelOf(bare);
    expect(untold.powerStates.slice(0, PLATE_STATES.length)).toEqual(PLATE_STATES);
    const longest = Math.max(...PLATE_STATES.map((one) => (one.kind === "rising" ? one.lengthMm : 0)));
    for (const { kind, lengthMm } of untold.powerStates.slice(PLATE_STATES.length))
      expect([kind, lengthMm > longest]).toEqual(["rising", true]);
    // The told plate of MIXED is followed through time.
    expect(model.powerStates).toBe(model.states);
  });

  it("at rest the losses tell the rise of a watt, whatever the length", () => {
    for (const state of PLATE_STATES.filter(({ kind }) => kind === "steady"))
      expect(model.plate.perWatt(state)).toBeCloseTo(1 / 20, 12);
    expect(model.plate.toldLengthMm).toBeCloseTo(20, 9);
    expect(modelOf({ ...MIXED, plate: undefined }).plate.toldLengthMm).toBeNull();
  });

  it("while it warms up: time over heat capacity if both are known, else length² over conductance", () => {
    const timed = (board: BoardMap, timeS: number | null) =>
      new SourceModel(board, [pictureOf(VIEW)], () => boardPoint(1, 1), timeS).plate.perWatt(RISING);
    const lengthM = RISING.lengthMm * 1e-3;
    expect(timed(MIXED, null)).toBeCloseTo(lengthM ** 2 / 0.008, 12);
    const told: BoardMap = {
      ...MIXED,
      plate: { conductanceWPerK: 0.008, lossWPerM2K: 20, heatCapacityJPerM2K: 2100 },
    };
    // What went in, less what was lost by then: after one time constant (105 s), 1 − 1/e of what a plate at rest has.
    expect(timed(told, 0.001)).toBeCloseTo(0.001 / 2100, 9);
    expect(timed(told, 105)).toBeCloseTo((1 - Math.exp(-1)) / 20, 12);
    expect(timed(told, null)).toBeCloseTo(lengthM ** 2 / 0.008, 12);
    // Twice as thick: the laminate's share twice as large, that of the parts the same.
    const [thin, thick] = [0.8, 1.6].map((thicknessMm) => 7 / timed({ ...MIXED, thicknessMm }, 7));
    expect(thin!).toBeGreaterThan(1000);
    expect(thick! / thin!).toBeGreaterThan(1.5);
    expect(thick! / thin!).toBeLessThan(2);
  });

  it("beside a part less shows than on it, and of a part that shows no body all there is", () => {
    const plain = modelOf();
    for (const candidate of plain.candidates) {
      const peak = plain.plateColumn(candidate, STEADY).values.reduce((a, b) => Math.max(a, b), 0);
      const beside = besideKPerW(plain, candidate, STEADY);
      expect(beside).toBeLessThan(peak);
      expect(beside).toBeGreaterThan(peak / 3);
      expect(besideKPerW(plain, { ...candidate, body: null }, STEADY)).toBe(peak);
    }
  });

  it("under a part that shows its body the plate has its mean over the body", () => {
    const plain = modelOf();
    for (const candidate of plain.candidates.filter(({ body }) => body !== null)) {
      const plate = denseOf(plain.plateColumn(candidate, STEADY), plain.size);
      const body = denseOf(candidate.body!, plain.size);
      const weight = body.reduce((a, b) => a + b, 0);
      const mean = body.reduce((sum, share, i) => sum + share * plate[i]!, 0) / weight;
      expect(underKPerW(plain, candidate, STEADY)).toBeCloseTo(mean, 9);
      expect(underKPerW(plain, { ...candidate, body: null }, STEADY)).toBe(0);
    }
  });

  it("a face whose finish the map tells is no mirror but by that; one it does not tell, by the baseline", () => {
    const untold: BoardMap = {
      ...BOARD,
      regions: BOARD.regions.map((region) => ({ ...region, finish: undefined })),
    };
    const scene = showRise({}, 0, "scene", { U2: 2.5 }).data.map((v) => 24 + v);
    const chances = (map: BoardMap, baseline: Float32Array | null) =>
      Object.fromEntries(
        modelOf(map, [pictureOf(VIEW, baseline)]).candidates.map((c) => [c.ref, c.shinyChance]),
      );
    expect(new Set(Object.values(chances(BOARD, scene)))).toEqual(new Set([0]));
    const before = chances(untold, null).U1!;
    const seen = chances(untold, scene);
    expect(before).toBeGreaterThan(0);
    expect(seen.U1!).toBeLessThan(before);
    expect(seen.U2!).toBeGreaterThan(before);
  });
});

describe("SourceModel.freeCandidate", () => {
  const model = modelOf();
  const window = coverageWindow(model.pictures[0]!.view, square(18, 19, 2), width, height, 15)!;

  it("a free place on the board is a candidate without a name, one off the board is none", () => {
    const free = model.freeCandidate(boardPoint(19, 20), { picture: 0, window, sharp: true })!;
    expect([free.ref, free.region, free.side, free.normallyWarm]).toEqual([null, -1, "top", false]);
    expect(free.footprint.shares.reduce((a, b) => a + b, 0)).toBeCloseTo(1, 12);
    expect(model.freeCandidate(boardPoint(55, 20), { picture: 0, window, sharp: true })).toBeNull();
  });

  it("mirrors over the face where its change is seen, not over its own small place", () => {
    const free = model.freeCandidate(boardPoint(19, 20), { picture: 0, window, sharp: true })!;
    const level = model.mirrorColumns(mirrorOf(free))[0]!;
    // Two by two millimetres at 2.7 px per mm.
    expect(level.values.reduce((a, b) => a + b, 0)).toBeCloseTo((2 * 2.7) ** 2, 1);
  });
});
