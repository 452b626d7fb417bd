// Undo and redo: whatever was done comes back, however often.
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  addRegion,
  changeRegion,
  copyRegions,
  removeRegions,
  reshapeRegions,
} from "../../../../src/page/draw/model/change-regions.js";
import type { Drawing } from "../../../../src/page/draw/model/drawing.js";
import { insertCorner, removeCorner } from "../../../../src/page/draw/model/edit-polygon.js";
import { withPolygon } from "../../../../src/page/draw/model/find-under.js";
import { beginHistory, record, redo, undo } from "../../../../src/page/draw/model/history.js";
import { movePolygon, turnPolygon } from "../../../../src/page/draw/model/move-shape.js";
import { anyPoint, anyPolygon, anySide, smallDrawing } from "./drawings.js";

const ids = fc.uniqueArray(fc.integer({ min: 1, max: 5 }), { minLength: 1 }).map((list) => new Set(list));
/** Operations of the editor, with any of their words. */
const anyStep: fc.Arbitrary<(drawing: Drawing) => Drawing> = fc.oneof(
  fc.tuple(anyPolygon, anySide).map(
    ([polygon, side]) =>
      (d: Drawing) =>
        addRegion(d, polygon, side).drawing,
  ),
  ids.map((set) => (d: Drawing) => removeRegions(d, set)),
  fc.tuple(ids, anyPoint).map(
    ([set, by]) =>
      (d: Drawing) =>
        copyRegions(d, set, by).drawing,
  ),
  fc.tuple(ids, anyPoint).map(
    ([set, by]) =>
      (d: Drawing) =>
        reshapeRegions(d, set, (p) => movePolygon(p, by)),
  ),
  fc.tuple(ids, anyPoint).map(
    ([set, by]) =>
      (d: Drawing) =>
        reshapeRegions(d, set, (p) => turnPolygon(p, by, 30)),
  ),
  fc.string().map((label) => (d: Drawing) => changeRegion(d, 1, { label })),
  anyPoint.map((point) => (d: Drawing) => withPolygon(d, "outline", insertCorner(d.outline, 1, point))),
  fc.nat(3).map((index) => (d: Drawing) => withPolygon(d, "outline", removeCorner(d.outline, index))),
);

describe("history", () => {
  it("goes back to the beginning and forward to the end, step by step", () => {
    fc.assert(
      fc.property(fc.array(anyStep, { maxLength: 40 }), (steps) => {
        let history = beginHistory(smallDrawing());
        const states = [history.now.state];
        for (const [i, step] of steps.entries()) {
          const next = step(history.now.state);
          history = record(history, next, `step ${i}`);
          if (next !== states[states.length - 1]) states.push(next);
        }
        const text = (drawing: Drawing) => JSON.stringify(drawing);
        const frozen = states.map(text);
        for (let i = states.length - 1; i > 0; i--) {
          expect(history.now.state).toBe(states[i]);
          history = undo(history);
        }
        expect(history.now.state).toBe(states[0]);
        expect(undo(history)).toBe(history);
        for (let i = 1; i < states.length; i++) {
          history = redo(history);
          expect(history.now.state).toBe(states[i]);
        }
        expect(redo(history)).toBe(history);
        // No operation changed what it was given.
        expect(states.map(text)).toEqual(frozen);
      }),
    );
  });

  it("has no end", () => {
    let history = beginHistory(0);
    for (let i = 1; i <= 20_000; i++) history = record(history, i, "count");
    for (let i = 0; i < 20_000; i++) history = undo(history);
    expect(history.now.state).toBe(0);
    for (let i = 0; i < 20_000; i++) history = redo(history);
    expect(history.now.state).toBe(20_000);
  });

  it("takes steps of one key together, unless one was undone between them", () => {
    let history = beginHistory("");
    for (const text of ["U", "U1", "U12"]) history = record(history, text, "Change the ref", "ref 1");
    expect(undo(history).now.state).toBe("");
    history = redo(undo(history));
    expect(history.now.state).toBe("U12");
    history = record(
      undo(record(history, "U9", "Change another", "ref 2")),
      "U123",
      "Change the ref",
      "ref 1",
    );
    expect([history.now.state, undo(history).now.state]).toEqual(["U123", "U12"]);
  });

  it("forgets what was undone once something else is done", () => {
    const one = undo(record(beginHistory(1), 2, "two"));
    expect(redo(record(one, 3, "three")).now.state).toBe(3);
    expect(record(one, 1, "nothing")).toBe(one);
  });
});
