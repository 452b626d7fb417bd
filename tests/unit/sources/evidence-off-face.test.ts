import { describe, expect, it } from "vitest";
import type { BoardMap } from "../../../src/board/board-schema.js";
import { CandidatePool } from "../../../src/sources/candidate-pool.js";
import { addColumn } from "../../../src/sources/column.js";
import { evidenceOffFace, facesOutline, withoutOutline } from "../../../src/sources/evidence-off-face.js";
import { PLATE_STATES } from "../../../src/sources/plate-state.js";
import { ProjectedFit } from "../../../src/sources/projected-fit.js";
import { heatUnderMirror, mirrorOf } from "../../../src/sources/recast-candidate.js";
import type { Candidate } from "../../../src/sources/source-model.js";
import { makeRandom } from "../../simulate/random.js";
import { BOARD } from "./relaxed-plate.js";
import { levelColumns, modelOf, partOf } from "./small-model.js";

const NOISE_K = 0.04;
const model = modelOf();
const state = PLATE_STATES.find(({ kind, lengthMm }) => kind === "steady" && lengthMm === 18)!;
const part = partOf(model, "U2");
const hidden = heatUnderMirror(part);

/** Noise, and what is added to it. */
function partsOf(add: (rise: Float32Array) => void) {
  const random = makeRandom("evidence off the face");
  const rise = Float32Array.from({ length: model.size }, () => NOISE_K * random.normal());
  add(rise);
  const variance = new Float32Array(model.size).fill(NOISE_K ** 2);
  return { rise, variance, nuisance: levelColumns(model, 0.3), state, scale: 1 };
}

describe("evidenceOffFace", () => {
  it("is that of the board around the mirror", () => {
    const heated = partsOf((rise) => addColumn(rise, model.plateColumn(part, state), 0.3));
    expect(evidenceOffFace(model, heated, hidden, [mirrorOf(part)])).toBeGreaterThan(100);
  });

  it("counts the warm halo close around it, where stray light of the face shows next to nothing", () => {
    // From a few pixels off the face on, within what stray light reaches.
    const { at, values } = part.body!;
    const onFace = new Set([...at!].filter((_, k) => values[k]! > 0));
    const { width } = model.pictures[0]!.seen;
    const isNear = (pixel: number, reach: number) => {
      for (let v = -reach; v <= reach; v++)
        for (let u = -reach; u <= reach; u++) if (onFace.has(pixel + v * width + u)) return true;
      return false;
    };
    const haloed = partsOf((rise) => {
      const hill = new Float32Array(model.size);
      addColumn(hill, model.plateColumn(part, state), 0.3);
      for (let i = 0; i < hill.length; i++) if (!isNear(i, 2) && isNear(i, 8)) rise[i]! += hill[i]!;
    });
    expect(evidenceOffFace(model, haloed, hidden, [mirrorOf(part)])).toBeGreaterThan(100);
  });

  it("is none where only the face changed, whatever the picture in it", () => {
    const pictured = partsOf((rise) => {
      // A hand in one corner of the face: no smooth shape over the face as a whole.
      part.body!.at!.forEach((pixel, k) => {
        if (part.body!.values[k]! > 0.9 && k % 3 === 0) rise[pixel]! += 4;
      });
    });
    // Noise alone: of χ² with one degree of freedom, 99.9 % lie below 10.8.
    expect(evidenceOffFace(model, pictured, hidden, [mirrorOf(part)])).toBeLessThan(10.8);
  });

  describe("of a part on the far side, under another part's face that mirrors", () => {
    const [u2, q1] = [partOf(model, "U2"), partOf(model, "Q1")];
    // Of the far side the camera sees the hill alone; U2 stands for what covers it, Q1 for a mirror far from it.
    const behind: Candidate = {
      ...partOf(model, "U2"),
      footprint: partOf(model, "C2").footprint,
      body: null,
    };

    it("is that of the board beside the mirror", () => {
      const heated = partsOf((rise) => addColumn(rise, model.plateColumn(behind, state), 0.3));
      expect(evidenceOffFace(model, heated, behind, [mirrorOf(u2)])).toBeGreaterThan(100);
      expect(evidenceOffFace(model, heated, behind, [mirrorOf(u2), mirrorOf(q1)])).toBeGreaterThan(100);
    });

    it("is none where only that face changed, whatever the picture in it", () => {
      const pictured = partsOf((rise) => {
        u2.body!.at!.forEach((pixel, k) => {
          if (u2.body!.values[k]! > 0.9 && k % 3 === 0) rise[pixel]! += 4;
        });
      });
      expect(evidenceOffFace(model, pictured, behind, [mirrorOf(u2)])).toBeLessThan(10.8);
    });
  });

  it("leaves a part that shows its own face all its evidence beside other mirrors", () => {
    const heated = partsOf((rise) => addColumn(rise, model.plateColumn(part, state), 0.3));
    const q1 = mirrorOf(partOf(model, "Q1"));
    expect(evidenceOffFace(model, heated, part, [q1])).toBe(Number.POSITIVE_INFINITY);
  });

  it("asks only what lies under a mirror of the set", () => {
    expect(
      evidenceOffFace(
        model,
        partsOf(() => {}),
        part,
        [],
      ),
    ).toBe(Number.POSITIVE_INFINITY);
  });

  describe("of a part on the far side, on a board that mirrors a room that changed", () => {
    const behind: Candidate = {
      ...partOf(model, "U2"),
      footprint: partOf(model, "C2").footprint,
      body: null,
    };
    // All of the board shows 0.5 K more, and by half at its outline, where the optics mix it with the bench.
    const { covered, pixels } = model.pictures[0]!.seen;
    const mirroring = (heatW: number) =>
      partsOf((rise) => {
        for (const i of pixels) rise[i]! += 0.5 * covered[i]!;
        addColumn(rise, model.plateColumn(behind, state), heatW);
      });

    it("is none, though its hill fades at the outline as what is mirrored does", () => {
      const { rise, variance, nuisance } = mirroring(0);
      const pool = new CandidatePool(model, new ProjectedFit(rise, variance, nuisance), state);
      expect(pool.fitSet([behind]).gain - pool.fitSet([]).gain).toBeGreaterThan(62.5);
      expect(evidenceOffFace(model, mirroring(0), behind, [])).toBeLessThan(10.8);
    });

    it("is that of its hill within the outline", () => {
      expect(evidenceOffFace(model, mirroring(0.3), behind, [])).toBeGreaterThan(100);
    });
  });
});

describe("withoutOutline", () => {
  const board: BoardMap = {
    ...BOARD,
    regions: BOARD.regions.map((one) =>
      one.ref === "C1"
        ? {
            ...one,
            polygon: [
              [38, 0.3],
              [39.6, 0.3],
              [39.6, 1.2],
              [38, 1.2],
            ],
          }
        : one,
    ),
  };
  const edged = modelOf(board);
  const [c1, u2] = [partOf(edged, "C1"), partOf(edged, "U2")];
  const variance = new Float32Array(edged.size).fill(NOISE_K ** 2);
  const left = (inside: Float32Array, { body }: Candidate) =>
    [...body!.at!].filter(
      (pixel, k) => body!.values[k]! >= 0.5 * Math.max(...body!.values) && inside[pixel]! > 0,
    ).length;

  it("leaves out a face at the outline, unless that face is asked about", () => {
    const without = withoutOutline(edged.pictures, variance);
    const kept = withoutOutline(edged.pictures, variance, c1.body);
    expect(left(kept, c1)).toBeGreaterThan(3);
    expect(left(without, c1)).toBeLessThan(0.5 * left(kept, c1));
    const others = kept.reduce((sum, value) => sum + (value > 0 ? 1 : 0), 0);
    expect(others).toBeLessThan(variance.length);
  });

  it("tells which face it reaches", () => {
    expect(facesOutline(edged.pictures, c1)).toBe(true);
    expect(facesOutline(edged.pictures, u2)).toBe(false);
    expect(facesOutline(edged.pictures, { ...c1, body: null })).toBe(false);
  });
});
