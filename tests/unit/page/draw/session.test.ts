// What keys, tools and buttons of the editor do to a drawing, without a page around it.
import { describe, expect, it } from "vitest";
import { arrowStep, boardKey } from "../../../../src/page/draw/board-keys.js";
import { choose, chooseOutline, step } from "../../../../src/page/draw/draw-session.js";
import { finishPolygon, putPoint, snapped, takeTool } from "../../../../src/page/draw/draw-tools.js";
import { arrayChosen, copyChosen, nudge, removeChosen } from "../../../../src/page/draw/edit-actions.js";
import { pickEnd, setPictureSide } from "../../../../src/page/draw/fiducial-actions.js";
import { mapOf } from "../../../../src/page/draw/model/drawing.js";
import { lastSaid } from "../../../../src/page/draw/say.js";
import { beginFromCorners, startPick, takeWay } from "../../../../src/page/draw/start-points.js";
import { said } from "../../../../src/page/state/announce.js";
import { begin } from "./begin-editor.js";
import { smallDrawing } from "./drawings.js";

/** A key as a browser tells of it. */
function key(
  name: string,
  held: Partial<Record<"shiftKey" | "altKey" | "ctrlKey", boolean>> = {},
): KeyboardEvent {
  return {
    key: name,
    shiftKey: false,
    altKey: false,
    ctrlKey: false,
    metaKey: false,
    ...held,
  } as KeyboardEvent;
}

describe("arrow keys", () => {
  it("move what is chosen as it is seen: to smaller x on the bottom", () => {
    const { session, idOf, first } = begin();
    choose(session, [idOf("U7")]);
    boardKey(session, key("ArrowRight"));
    boardKey(session, key("ArrowDown", { shiftKey: true }));
    expect(first("U7")).toEqual([17.5, 9.05]);
    expect(lastSaid.value).toBe("U7 at 20.5, 11.05 mm, 6 × 4 mm");
    session.side.value = "bottom";
    choose(session, [idOf("C4")]);
    boardKey(session, key("ArrowRight"));
    expect(first("C4")).toEqual([7.5, 27.4]);
    expect(arrowStep(session, key("Enter"))).toBeNull();
  });

  it("resize with Alt, and are undone together", () => {
    const { session, idOf } = begin();
    choose(session, [idOf("U7")]);
    for (let i = 0; i < 3; i++) boardKey(session, key("ArrowRight", { altKey: true }));
    expect(lastSaid.value).toBe("U7 at 20.75, 11 mm, 7.5 × 4 mm");
    boardKey(session, key("z", { ctrlKey: true }));
    expect(mapOf(session.drawing.value)).toEqual(mapOf(smallDrawing()));
    expect(lastSaid.value).toBe("Undone: Resize U7");
    step(session, "undo");
    expect(lastSaid.value).toBe("Nothing left to undo");
  });

  it("move one corner where one is chosen, and the outline too", () => {
    const { session } = begin();
    chooseOutline(session);
    session.corner.value = 2;
    nudge(session, [-3, 1]);
    expect(session.drawing.value.outline).toEqual([
      [0, 0],
      [58, 0],
      [55, 35],
      [0, 34],
    ]);
    boardKey(session, key("Delete"));
    expect(session.drawing.value.outline).toHaveLength(3);
    session.corner.value = 0;
    boardKey(session, key("Delete"));
    expect(lastSaid.value).toBe("A shape keeps three corners");
  });
});

describe("tools", () => {
  it("close a polygon at its first corner, by the last one again, or when asked to", () => {
    for (const close of ["first", "last", "asked"]) {
      const { session } = begin();
      takeTool(session, "polygon");
      finishPolygon(session);
      expect(lastSaid.value).toBe("A shape needs three corners or more");
      for (const point of [
        [40, 5],
        [46, 5],
        [43, 9],
      ] as const)
        putPoint(session, point);
      // A corner twice in a row is one corner as long as the shape can't be closed.
      if (close === "first") putPoint(session, [40, 5]);
      else if (close === "last") putPoint(session, [43, 9]);
      else finishPolygon(session);
      const added = session.drawing.value.regions.at(-1)!;
      expect([added.ref, added.side, added.polygon]).toEqual([
        "C5",
        "top",
        [
          [40, 5],
          [46, 5],
          [43, 9],
        ],
      ]);
      expect(session.chosen.value).toEqual(new Set([added.id]));
    }
  });

  it("make no rectangle without width", () => {
    const { session } = begin();
    takeTool(session, "rectangle");
    putPoint(session, [40, 5]);
    putPoint(session, [40, 9]);
    expect(session.drawing.value.regions.at(-1)!.polygon).toEqual([
      [39.975, 5],
      [40.025, 5],
      [40.025, 9],
      [39.975, 9],
    ]);
  });

  it("are pulled to the parts of the side that is seen alone, and not at all with Alt", () => {
    const { session } = begin();
    takeTool(session, "rectangle");
    // U7 begins at 17, 9 above; C4 at 8, 27.4 below. The pane shows 10 px a mm.
    expect(snapped(session, [17.2, 9.3], false).to).toBe("corner");
    expect(snapped(session, [8.2, 27.6], false).to).toBe("grid");
    session.side.value = "bottom";
    expect(snapped(session, [8.2, 27.6], false)).toEqual({ point: [8, 27.4], to: "corner" });
    expect(snapped(session, [8.2, 27.6], true)).toEqual({ point: [8.2, 27.6], to: null });
  });
});

describe("copies", () => {
  it("are chosen, and go away again with one undo", () => {
    const { session, idOf } = begin();
    copyChosen(session);
    expect(lastSaid.value).toBe("Choose a region to copy first");
    choose(session, [idOf("C3")]);
    copyChosen(session);
    expect(session.drawing.value.regions.at(-1)).toMatchObject({ ref: "C5", finish: "ceramic" });
    arrayChosen(session, { columns: 4, rows: 2, pitchXMm: 2, pitchYMm: 3 });
    expect(session.chosen.value.size).toBe(8);
    step(session, "undo");
    expect(session.drawing.value.regions).toHaveLength(4);
    // What is gone is no longer chosen.
    expect(session.chosen.value.size).toBe(1);
    removeChosen(session);
    expect(session.drawing.value.regions).toHaveLength(3);
  });
});

describe("fiducials", () => {
  it("are made of a pick on the picture and one on the board, whichever comes first", () => {
    const { session } = begin();
    pickEnd(session, "pixel", [5, 6]);
    expect(lastSaid.value).toBe("Fiducial 1 at pixel 5.0, 6.0; now pick it on the board");
    pickEnd(session, "board", [0, 0]);
    pickEnd(session, "board", [58, 0]);
    pickEnd(session, "pixel", [60, 7]);
    const { fiducials } = session.drawing.value.placements["ab"]!;
    expect(fiducials).toEqual([
      { board: [0, 0], pixel: [5, 6] },
      { board: [58, 0], pixel: [60, 7] },
    ]);
    expect(session.placing.value!.placed!.model).toBe("similarity");
    setPictureSide(session, "bottom");
    expect([session.side.value, session.drawing.value.placements["ab"]!.side]).toEqual(["bottom", "bottom"]);
    // One that is chosen is picked again.
    session.fiducial.value = 0;
    pickEnd(session, "pixel", [6, 6]);
    expect(session.drawing.value.placements["ab"]!.fiducials[0]).toEqual({ board: [0, 0], pixel: [6, 6] });
  });

  it("asks for a size that is missing, and makes outline and fiducials once it is there", () => {
    const { session } = begin();
    takeWay(session, "corners");
    for (const pixel of [
      [5, 5],
      [60, 5],
      [60, 40],
      [5, 40],
    ] as const)
      expect(startPick(session, pixel)).toBe(true);
    const before = session.drawing.value;
    beginFromCorners(session, 40, null);
    expect(said.value.text).toContain("Type the board's size first");
    expect(session.drawing.value).toBe(before);
    expect(session.startPoints.value).toHaveLength(4);
    beginFromCorners(session, 40, 20);
    expect(session.drawing.value.outline).toEqual([
      [0, 0],
      [40, 0],
      [40, 20],
      [0, 20],
    ]);
  });
});
