import { expect, it } from "vitest";
import { note } from "../../../src/core/notes.js";
import { mergeNotes } from "../../../src/frames/merge-notes.js";

it("says one remark and three warnings in full, and counts the rest", () => {
  const notes = [1, 2, 3, 4, 5].flatMap((n) => [
    note("N_UNIT_ASSUMED", `remark ${n}.`),
    note("N_SATURATED", `warning ${n}.`),
  ]);
  expect(mergeNotes([...notes, ...notes]).map((n) => n.text)).toEqual([
    "remark 1. The same goes for 4 more.",
    "warning 1.",
    "warning 2.",
    "warning 3. The same goes for 2 more.",
  ]);
});
