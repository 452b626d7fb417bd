import { describe, expect, it } from "vitest";
import { ANALYSE_DEFAULTS } from "../../../src/findings/analyse-options.js";
import { FIT_DEFAULTS } from "../../../src/sources/fit-defaults.js";
import { ABLATIONS } from "../../evaluate/ablations.js";

describe("ablations", () => {
  it("begin with the whole tool and change options that exist, away from their defaults", () => {
    expect(ABLATIONS[0]?.options).toEqual({});
    const defaults = ANALYSE_DEFAULTS;
    for (const { name, options } of ABLATIONS.slice(1)) {
      expectChanges(name, options, defaults);
      if (options["fit"] !== undefined) expectChanges(name, options["fit"] as object, FIT_DEFAULTS);
    }
  });
});

/** Every option is one of those that exist, and away from its default. */
function expectChanges(name: string, options: object, defaults: object): void {
  const known = defaults as Readonly<Record<string, unknown>>;
  expect(Object.keys(options).length, name).toBeGreaterThan(0);
  for (const [key, value] of Object.entries(options)) {
    expect(Object.keys(known), name).toContain(key);
    expect(value, name).not.toEqual(known[key]);
  }
}
