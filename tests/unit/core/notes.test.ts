import { describe, expect, it } from "vitest";
import { NOTE_CODES, type NoteCode, note } from "../../../src/core/notes.js";

const codes = Object.keys(NOTE_CODES) as NoteCode[];

describe("note", () => {
  it.each(codes)("%s takes its severity from the table", (code) => {
    expect(note(code, "a sentence")).toEqual({
      code,
      severity: NOTE_CODES[code].severity,
      text: "a sentence",
    });
    expect(["info", "warning"]).toContain(NOTE_CODES[code].severity);
    expect(code).toMatch(/^N_[A-Z0-9]+(_[A-Z0-9]+)*$/);
    expect(NOTE_CODES[code].meaning.length).toBeGreaterThan(0);
  });

  it("what makes the answer doubtful warns; what is merely worth knowing does not", () => {
    for (const code of ["N_ALIGNMENT_WEAK", "N_VIEW_MISSING", "N_SATURATED", "N_UNIT_GUESSED"] as const) {
      expect(note(code, "").severity, code).toBe("warning");
    }
    for (const code of ["N_NOTHING_HOT", "N_PIXELS_REPAIRED", "N_PLATE_ASSUMED"] as const) {
      expect(note(code, "").severity, code).toBe("info");
    }
  });
});
