import { describe, expect, it } from "vitest";
import { tellRole } from "../../../src/watch/tell-role.js";

describe("tellRole", () => {
  it.each([
    ["off-0001.csv", "baseline"],
    ["Baseline_3.png", "baseline"],
    ["vsys-on-2.csv", "powered"],
    ["poweredBurst-12.tiff", "powered"],
    ["off/frame-7.csv", "baseline"],
    ["2031-03-01/on/frame-7.csv", "powered"],
    // The file goes before its folder.
    ["off/on-3.csv", "powered"],
    ["frame-7.csv", null],
    // Letters inside a word are no word.
    ["coffee-one.csv", null],
    ["on-off-3.csv", null],
  ])("takes the words in %s for %s", (name, role) => expect(tellRole(name)).toBe(role));

  it("takes what does not fit the one pattern for the other role", () => {
    expect(tellRole("a1.csv", { baseline: "a*" })).toBe("baseline");
    expect(tellRole("b1.csv", { baseline: "a*" })).toBe("powered");
    expect(tellRole("off.csv", { powered: "hot*" })).toBe("baseline");
    expect(tellRole("hot-off.csv", { powered: "hot*" })).toBe("powered");
  });

  it("tells nothing where two patterns fit none or both", () => {
    const patterns = { baseline: "a*", powered: "*b.csv" };
    expect(["a1.csv", "1b.csv", "ab.csv", "c.csv"].map((name) => tellRole(name, patterns))).toEqual([
      "baseline",
      "powered",
      null,
      null,
    ]);
  });

  it("holds a pattern with folders against the whole name", () => {
    expect(tellRole("day/a/1.csv", { baseline: "*/a/*" })).toBe("baseline");
    expect(tellRole("day/b/a/1.csv", { baseline: "*/a/*" })).toBe("powered");
    expect(tellRole("day/b/x1.csv", { baseline: "x*" })).toBe("baseline");
  });
});
