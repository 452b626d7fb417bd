import { describe, expect, it } from "vitest";
import { ANALYSE_DEFAULTS } from "../../../src/findings/analyse-options.js";
import { ABLATIONS } from "../../evaluate/ablations.js";

describe("ablations", () => {
  it("begin with the whole tool and change options that exist, away from their defaults", () => {
    expect(ABLATIONS[0]?.options).toEqual({});
    const defaults = ANALYSE_DEFAULTS as unknown as Record<string, unknown>;
    for (const { name, options } of ABLATIONS.slice(1)) {
      expect(Object.keys(options).length, name).toBeGreaterThan(0);
      for (const [key, value] of Object.entries(options)) {
        expect(Object.keys(defaults), name).toContain(key);
        expect(value, name).not.toEqual(defaults[key]);
      }
    }
  });
});
