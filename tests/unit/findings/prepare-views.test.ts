import { describe, expect, it } from "vitest";
import type { View } from "../../../src/board/board-schema.js";
import { analyse } from "../../../src/findings/analyse.js";
import { BOARD, makeAttempt, VIEW } from "./make-attempt.js";

/** The view with its fiducials' points on the board elsewhere. */
const seenAt = (toX: (x: number) => number, toY: (y: number) => number): View => ({
  ...VIEW,
  fiducials: VIEW.fiducials.map(({ pixel, board: [x, y] }) => ({ pixel, board: [toX(x), toY(y)] })),
});

describe("a view that shows none of the board", () => {
  const attempt = makeAttempt({});
  const withView = (view: View) => () => analyse({ ...attempt, board: BOARD, view, viewFile: "view.json" });

  it.each([
    [
      "of another board",
      seenAt(
        (x) => x + 200,
        (y) => y + 100,
      ),
    ],
    [
      "in micrometres",
      seenAt(
        (x) => 1000 * x,
        (y) => 1000 * y,
      ),
    ],
  ])("%s: E_VIEW_FIT, and no finding that nothing warmed", (_name, view) => {
    expect(withView(view)).toThrow(
      /^E_VIEW_FIT: .*board wholly outside the frame.*view\.json, at fiducials.*in millimetres/,
    );
  });

  it("one that shows a corner of it is taken", () => {
    expect(
      withView(
        seenAt(
          (x) => x + 30,
          (y) => y,
        ),
      ),
    ).not.toThrow();
  });
});
