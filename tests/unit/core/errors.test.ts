import { describe, expect, it } from "vitest";
import { ERROR_CODES, type ErrorCode, type ErrorPlace, ToolError } from "../../../src/core/errors.js";

const problem = "baseline is 160×120 but powered is 320×240";
const fix = "Export both frames at the same resolution";
const message = (place?: ErrorPlace): string =>
  new ToolError("E_FRAME_SIZE", place === undefined ? { problem, fix } : { problem, fix, place }).message;

describe("ToolError", () => {
  it("says code, what is wrong, where, and what to do, in the form of the conventions", () => {
    expect(message({ file: "powered.csv" })).toBe(
      "E_FRAME_SIZE: baseline is 160×120 but powered is 320×240 (powered.csv). Export both frames at the same resolution.",
    );
  });

  it("names as much of the place as is known, from the outside in", () => {
    expect(message()).toBe(`E_FRAME_SIZE: ${problem}. ${fix}.`);
    expect(message({})).toBe(`E_FRAME_SIZE: ${problem}. ${fix}.`);
    expect(message({ file: undefined })).toBe(`E_FRAME_SIZE: ${problem}. ${fix}.`);
    expect(message({ file: "a.csv", line: 12, column: 3 })).toContain("(a.csv, line 12, column 3)");
    expect(message({ file: "board.json", path: "regions[3].polygon[1]" })).toContain(
      "(board.json, at regions[3].polygon[1])",
    );
    expect(message({ path: "outline" })).toContain("(at outline)");
  });

  it("keeps its parts and is an Error by its own name", () => {
    const error = new ToolError("E_FRAME_NONE", { problem, fix, place: { line: 7 } });
    expect(error).toBeInstanceOf(Error);
    expect(error.name).toBe("ToolError");
    expect(error.code).toBe("E_FRAME_NONE");
    expect(error.parts).toEqual({ problem, fix, place: { line: 7 } });
  });
});

describe("the table of errors", () => {
  it("is frozen, and every line is a code with a meaning that reads as part of a sentence", () => {
    expect(Object.isFrozen(ERROR_CODES)).toBe(true);
    for (const [code, meaning] of Object.entries(ERROR_CODES)) {
      expect(code).toMatch(/^E_[A-Z0-9]+(_[A-Z0-9]+)*$/);
      expect(meaning, code).toMatch(/^\S.*[^.\s]$/);
    }
    const meanings = Object.values(ERROR_CODES);
    expect(new Set(meanings).size).toBe(meanings.length);
  });

  it("only its codes can be thrown", () => {
    // @ts-expect-error not in the table
    const wrong: ErrorCode = "E_NO_SUCH_CODE";
    expect(wrong in ERROR_CODES).toBe(false);
  });
});
