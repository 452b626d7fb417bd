// Faults of JSON are found where the engine's own parser finds one.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { findJsonFault } from "../../../src/read/find-json-fault.js";

describe("findJsonFault", () => {
  it("finds one where and only where JSON.parse does", () => {
    const broken = fc
      .tuple(fc.json(), fc.nat(), fc.constantFrom("", ",", '"', "}", "1", "\\", "x"))
      .map(([text, at, piece]) => {
        const cut = at % (text.length + 1);
        return text.slice(0, cut) + piece + text.slice(cut + 1);
      });
    fc.assert(
      fc.property(broken, (text) => {
        let sound = true;
        try {
          JSON.parse(text);
        } catch {
          sound = false;
        }
        expect(findJsonFault(text) === null).toBe(sound);
      }),
      { numRuns: 500 },
    );
  });
});
