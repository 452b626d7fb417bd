// Regions that are added, changed, copied and set out; what lies under a point; the map that comes of it.
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { checkBoard } from "../../../../src/board/check-board.js";
import { parseBoardMap } from "../../../../src/board/parse-board-map.js";
import {
  addRegion,
  arrayRegions,
  changeRegion,
  copyRegions,
  MOST_COPIES,
  removeRegions,
  reshapeRegions,
} from "../../../../src/page/draw/model/change-regions.js";
import { draftOf, readDraft } from "../../../../src/page/draw/model/draft.js";
import { type Drawing, drawingOf, mapOf, viewOf } from "../../../../src/page/draw/model/drawing.js";
import {
  cornerUnder,
  polygonOf,
  regionsWithin,
  regionUnder,
  withPolygon,
} from "../../../../src/page/draw/model/find-under.js";
import { listProblems } from "../../../../src/page/draw/model/list-problems.js";
import { movePolygon } from "../../../../src/page/draw/model/move-shape.js";
import { nextRef } from "../../../../src/page/draw/model/next-ref.js";
import { cornersOf } from "../../../../src/page/draw/model/rectangle.js";
import { anyDrawing, smallDrawing } from "./drawings.js";

const refs = (drawing: Drawing) => drawing.regions.map(({ ref }) => ref);

describe("refs", () => {
  it("go on from the highest number of their letters", () => {
    const drawing = smallDrawing();
    expect(["C3", "C1", "U7", "L2", "SHIELD", ""].map((ref) => nextRef(drawing, ref))).toEqual([
      "C5",
      "C5",
      "U8",
      "L3",
      "SHIELD2",
      "U8",
    ]);
  });
});

describe("regions", () => {
  it("are copied with all but their ref", () => {
    const { drawing, ids } = copyRegions(smallDrawing(), new Set([1, 2]), [5, -2]);
    expect(refs(drawing)).toEqual(["U7", "C3", "C4", "U8", "C5"]);
    expect(ids).toEqual([4, 5]);
    const [model, copy] = [drawing.regions[0]!, drawing.regions[3]!];
    expect(copy).toEqual({ ...model, id: 4, ref: "U8", polygon: movePolygon(model.polygon, [5, -2]) });
  });

  it("are set out in columns and rows", () => {
    const { drawing, ids } = arrayRegions(smallDrawing(), new Set([2]), {
      columns: 3,
      rows: 2,
      pitchXMm: 2.5,
      pitchYMm: -4,
    });
    expect(ids).toHaveLength(5);
    const places = [2, ...ids].map((id) => polygonOf(drawing, id)[0]);
    expect(places).toEqual([
      [30.2, 24.6],
      [32.7, 24.6],
      [35.2, 24.6],
      [30.2, 20.6],
      [32.7, 20.6],
      [35.2, 20.6],
    ]);
    expect(new Set(refs(drawing)).size).toBe(8);
  });

  it("are not set out beyond reason", () => {
    const words = { pitchXMm: 1, pitchYMm: 1 };
    for (const [columns, rows] of [
      [0, 2],
      [1.5, 2],
      [MOST_COPIES, 2],
    ] as const) {
      expect(() => arrayRegions(smallDrawing(), new Set([1]), { columns, rows, ...words })).toThrow(
        RangeError,
      );
    }
  });

  it("lose a field that is emptied, and are the same where nothing is meant", () => {
    const drawing = smallDrawing();
    const bare = changeRegion(drawing, 1, { nets: undefined, kind: undefined, label: "x" });
    expect(mapOf(bare).regions[0]).toEqual({
      ref: "U7",
      side: "top",
      label: "x",
      polygon: mapOf(drawing).regions[0]!.polygon,
    });
    expect(changeRegion(drawing, 99, { label: "y" })).toBe(drawing);
    expect(removeRegions(drawing, new Set([99]))).toBe(drawing);
    expect(reshapeRegions(drawing, new Set(), (polygon) => polygon)).toBe(drawing);
    expect(refs(removeRegions(drawing, new Set([1, 3])))).toEqual(["C3"]);
  });

  it("never share an id, also after one was taken away", () => {
    const less = removeRegions(smallDrawing(), new Set([3]));
    expect(addRegion(less, less.outline, "top").id).toBe(4);
  });
});

describe("what is under a point", () => {
  it("is the smallest region of the side", () => {
    const can = cornersOf({ centre: [20, 11], widthMm: 20, heightMm: 12, turnDeg: 0 });
    const { drawing, id } = addRegion(smallDrawing(), can, "top", { ref: "SH1", kind: "shield" });
    expect(regionUnder(drawing, "top", [20, 11], 0.5)?.ref).toBe("U7");
    expect(regionUnder(drawing, "top", [12, 6], 0.5)?.id).toBe(id);
    expect(regionUnder(drawing, "bottom", [20, 11], 0.5)).toBeNull();
    expect(regionUnder(drawing, "bottom", [10.4, 28], 0.5)?.ref).toBe("C4");
    expect(regionsWithin(drawing, "top", [40, 8], [16, 30])).toEqual([1, 2]);
  });

  it("is the nearest corner within reach", () => {
    const { outline } = smallDrawing();
    expect(cornerUnder(outline, [57.7, 33.8], 0.5)).toBe(2);
    expect(cornerUnder(outline, [57, 33], 0.5)).toBeNull();
  });
});

describe("the map of a drawing", () => {
  it("is the same after it was read again, to the last digit", () => {
    fc.assert(
      fc.property(anyDrawing, (drawing) => {
        const map = mapOf(drawing);
        expect(mapOf(drawingOf(JSON.parse(JSON.stringify(map))))).toEqual(map);
      }),
    );
  });

  it("is a board map wherever no error is listed, and the other way round", () => {
    let sound = 0;
    fc.assert(
      fc.property(anyDrawing, (drawing) => {
        const map = JSON.parse(JSON.stringify(mapOf(drawing)));
        const isSound = !listProblems(drawing).some(({ isError }) => isError);
        expect(checkBoard(map).some(({ severity }) => severity === "error")).toBe(!isSound);
        if (!isSound) return;
        sound++;
        expect(parseBoardMap(map, "board.json").board.regions).toHaveLength(drawing.regions.length);
      }),
      { numRuns: 300 },
    );
    expect(sound).toBeGreaterThan(5);
  });

  it("points at the region that is wrong", () => {
    const twice = changeRegion(smallDrawing(), 2, { ref: "U7" });
    const [first] = listProblems(twice);
    expect(first).toMatchObject({ isError: true, shape: 2 });
    expect(first!.text).toContain("The ref U7");
    const off = withPolygon(smallDrawing(), 3, movePolygon(polygonOf(smallDrawing(), 3), [100, 0]));
    expect(listProblems(off)[0]).toMatchObject({ isError: true, shape: 3 });
    expect(listProblems({ ...smallDrawing(), outline: [] })[0]).toMatchObject({ shape: "outline" });
    expect(listProblems(smallDrawing())).toEqual([]);
    // Corners are counted as the page lists them.
    const crossed = withPolygon(smallDrawing(), 1, [
      [20, 10],
      [24, 13],
      [24, 10],
      [20, 13],
    ]);
    expect(listProblems(crossed)[0]!.text).toMatch(/from corner 1 .* to corner 2 .* from corner 3 /);
  });
});

describe("a draft", () => {
  it("comes back as it was kept", () => {
    fc.assert(
      fc.property(anyDrawing, (drawing) => {
        const kept = JSON.parse(JSON.stringify(draftOf(drawing)));
        expect(readDraft(kept)).toEqual(JSON.parse(JSON.stringify(draftOf(drawing))));
        expect(mapOf(readDraft(kept)!.drawing)).toEqual(mapOf(drawing));
        expect(viewOf(readDraft(kept)!.drawing, "frame")).toEqual(viewOf(drawing, "frame"));
      }),
    );
  });

  it("is none where it was damaged", () => {
    const sound = JSON.parse(JSON.stringify(draftOf(smallDrawing())));
    const damaged: ((draft: typeof sound) => unknown)[] = [
      () => null,
      () => "drawing",
      (draft) => ({ ...draft, version: 2 }),
      (draft) => ({ ...draft, drawing: { ...draft.drawing, outline: [[0, null]] } }),
      (draft) => ({ ...draft, drawing: { ...draft.drawing, nextId: 2 } }),
      (draft) => ({ ...draft, drawing: { ...draft.drawing, regions: [{ id: 1, ref: "U1", side: "left" }] } }),
      (draft) => ({ ...draft, drawing: { ...draft.drawing, placements: { frame: { side: "top" } } } }),
    ];
    expect(readDraft(sound)).not.toBeNull();
    expect(damaged.map((damage) => readDraft(damage(sound)))).toEqual(damaged.map(() => null));
  });
});
