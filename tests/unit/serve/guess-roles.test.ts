// Baseline or powered: by word, by name, by contents, by order.
import { describe, expect, it } from "vitest";
import type { InboxFrame, Role } from "../../../src/api/inbox-schema.js";
import { cleanName, endingOf, fileNameOf } from "../../../src/serve/dropped-name.js";
import { type FrameToTell, guessRoles } from "../../../src/serve/guess-roles.js";

function frame(name: string, contrastK: number, said: Role | null = null, width = 160): FrameToTell {
  const shown: InboxFrame = {
    width,
    height: 120,
    frames: 1,
    lowC: 20,
    medianC: 22,
    highC: 25,
    contrastK,
    noiseK: 0.05,
    missing: 0,
    scaleFrom: null,
  };
  return { sha256: name, name, frame: shown, said };
}

const told = (frames: readonly FrameToTell[]) =>
  [...guessRoles(frames)].map(([name, { role, by }]) => `${name} ${role} ${by}`).sort();

describe("the role of a frame", () => {
  it("is what a person said, whatever its name and contents say", () => {
    expect(told([frame("off.csv", 0.9, "powered"), frame("on.csv", 3, "baseline")])).toEqual([
      "off.csv powered said",
      "on.csv baseline said",
    ]);
  });

  it("follows from words in the name, before the contents", () => {
    expect(told([frame("off-1.csv", 3), frame("on-1.csv", 0.9)])).toEqual([
      "off-1.csv baseline name",
      "on-1.csv powered name",
    ]);
  });

  it("follows from how far the warmest part stands out, where names say nothing", () => {
    expect(
      told([frame("a.csv", 2.4), frame("b.csv", 0.9), frame("c.csv", 0.95), frame("d.csv", 3.1)]),
    ).toEqual([
      "a.csv powered contents",
      "b.csv baseline contents",
      "c.csv baseline contents",
      "d.csv powered contents",
    ]);
  });

  it("follows from the order where contents are alike: the first is a baseline", () => {
    expect(told([frame("a.csv", 0.9), frame("b.csv", 0.92), frame("c.csv", 0.91)])).toEqual([
      "a.csv baseline order",
      "b.csv powered order",
      "c.csv powered order",
    ]);
  });

  it("is powered for a lone frame of another size than the baseline, which no order makes a baseline of", () => {
    expect(told([frame("a.csv", 0.9), frame("b.csv", 0.9, null, 320)])).toEqual([
      "a.csv baseline order",
      "b.csv powered order",
    ]);
    // Two of another size may be another view's.
    expect(
      told([frame("a.csv", 0.9), frame("b.csv", 0.9, null, 320), frame("c.csv", 2.4, null, 320)]),
    ).toEqual(["a.csv baseline contents", "b.csv baseline contents", "c.csv powered contents"]);
  });

  it("is powered for such a frame too where it was dropped before the others", () => {
    const odd = (contrastK: number) => frame("a.csv", contrastK, null, 320);
    expect(told([odd(0.9), frame("b.csv", 0.9), frame("c.csv", 0.92)])).toEqual([
      "a.csv powered order",
      "b.csv baseline order",
      "c.csv powered order",
    ]);
    expect(told([odd(2.4), frame("b.csv", 0.9), frame("c.csv", 2.3)])).toEqual([
      "a.csv powered contents",
      "b.csv baseline contents",
      "c.csv powered contents",
    ]);
    // Each of a size of its own: the warmer one has the power.
    expect(told([odd(2.4), frame("b.csv", 0.9)])).toEqual([
      "a.csv powered contents",
      "b.csv baseline contents",
    ]);
  });

  it("does not go by contents against what is told already", () => {
    expect(told([frame("off.csv", 3), frame("x.csv", 0.9)])).toEqual([
      "off.csv baseline name",
      "x.csv powered order",
    ]);
  });
});

describe("names of dropped files", () => {
  it.each([
    ["../../a.csv", "a.csv"],
    ["C:\\frames\\on\\a.csv", "C:/frames/on/a.csv"],
    ["on/./b/../a.csv", "on/b/a.csv"],
    ["a\u0000\u202e.csv", "a.csv"],
    ["..", "unnamed"],
  ])("%j is shown as %s", (given, shown) => {
    expect(cleanName(given)).toBe(shown);
  });

  it.each([
    ["on/a.csv", "a.csv"],
    ["con.csv", "_con.csv"],
    [".hidden.csv", "_hidden.csv"],
    ['a<b>:"c|?*.png', "a_b___c___.png"],
    ["a. ", "a"],
  ])("%j becomes the file %s", (name, file) => {
    expect(fileNameOf(name)).toBe(file);
  });

  it("keeps a long name's ending, and no ending of other signs", () => {
    expect(fileNameOf(`${"x".repeat(300)}.png`)).toMatch(/^x{116}\.png$/);
    expect([endingOf("a.PNG"), endingOf("a"), endingOf("a.b/c"), endingOf("a.ta-r")]).toEqual([
      ".png",
      ".bin",
      ".bin",
      ".bin",
    ]);
  });
});
