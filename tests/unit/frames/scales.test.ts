import { describe, expect, it } from "vitest";
import { applyScale } from "../../../src/frames/apply-scale.js";
import { chooseScale, sidecarNames } from "../../../src/frames/choose-scale.js";
import { linearScale, parseScaleOption } from "../../../src/frames/parse-scale-option.js";
import { parseScaleText } from "../../../src/frames/scale-schema.js";
import { caught } from "./caught.js";

describe("parseScaleOption", () => {
  it.each([
    ["20:45", 20, 45],
    ["-20.5:150", -20.5, 150],
    ["-40:-10", -40, -10],
    [" 0 : 1143.717 ", 0, 1143.717],
    ["+1e1:2.5e2", 10, 250],
  ])("%j", (text, lowC, highC) => expect(parseScaleOption(text)).toEqual({ lowC, highC }));

  it.each([
    ["20", "LO:HI"],
    ["20:30:40", "LO:HI"],
    ["", "LO:HI"],
    ["45:20", "LO must be below HI"],
    ["20:20", "LO must be below HI"],
    ["a:45", "LO of the scale"],
    ["20:", "HI of the scale"],
    ["20,5:45", "decimals with a point"],
    ["20:0x2D", "HI of the scale"],
    ["20:1e999", "HI of the scale"],
    ["NaN:45", "LO of the scale"],
  ])("refuses %j", (text, why) => {
    const error = caught(() => parseScaleOption(text));
    expect(error.code).toBe("E_SCALE_VALUE");
    expect(error.message).toContain(why);
  });
});

describe("linearScale", () => {
  it("refuses what scales nothing", () => {
    expect(linearScale(-0.01, 5)).toEqual({ gainCPerLevel: -0.01, offsetC: 5 });
    for (const [gain, offset] of [
      [0, 1],
      [Number.NaN, 1],
      [1, Infinity],
    ] as const) {
      expect(caught(() => linearScale(gain, offset)).code).toBe("E_SCALE_VALUE");
    }
  });
});

describe("parseScaleText", () => {
  const place = { file: "f.png.json" };
  const json = (more: object) => JSON.stringify({ kind: "faultglow/scale", version: 1, ...more });
  it("reads both forms, and words", () => {
    expect(parseScaleText(json({ lowC: -5, highC: 60 }), place)).toEqual({ lowC: -5, highC: 60 });
    const linear = { gainCPerLevel: 0.01, offsetC: -273.15 };
    expect(parseScaleText(json(linear), place)).toEqual(linear);
    expect(parseScaleText(" 20:45\n", place)).toEqual({ lowC: 20, highC: 45 });
  });
  it.each([
    ["broken JSON", "{ lowC: 1 }", "does not parse", undefined],
    ["both forms", json({ lowC: 1, highC: 2, offsetC: 3 }), "both are there", undefined],
    ["half a form", json({ lowC: 1 }), "expected number", "highC"],
    ["neither form", json({}), "expected number", "gainCPerLevel"],
    ["text for a number", json({ lowC: "1", highC: 2 }), '"1"', "lowC"],
    ["another kind", '{"kind":"faultglow/view","version":1,"lowC":1,"highC":2}', "faultglow/view", "kind"],
    ["another version", json({ version: 2, lowC: 1, highC: 2 }), "found 2", "version"],
    ["ends the wrong way round", json({ lowC: 9, highC: 2 }), "LO must be below HI", undefined],
  ])("refuses %s", (_, text, why, path) => {
    const error = caught(() => parseScaleText(text, place));
    expect([error.code, error.parts.place?.file, error.parts.place?.path]).toEqual([
      "E_SCALE_VALUE",
      "f.png.json",
      path,
    ]);
    expect(error.message).toContain(why);
  });
});

describe("chooseScale", () => {
  const option = { from: "the option", scale: { lowC: 0, highC: 100 } };
  it("takes the first source and tells of one that differs", () => {
    const file = { from: "f.json", scale: { lowC: 0, highC: 90 } };
    const chosen = chooseScale([option, file], 255, "f.png");
    expect(chosen.scale).toEqual(option.scale);
    expect(chosen.notes.map((n) => n.code)).toEqual(["N_OPTION_WINS"]);
    expect(chosen.notes[0]?.text).toContain("f.json as 0:90 °C; the option holds");
  });
  it("sees that gain and offset say the same as two ends", () => {
    const linear = { from: "f.json", scale: { gainCPerLevel: 100 / 255, offsetC: 0 } };
    expect(chooseScale([option, linear], 255, "f.png").notes).toEqual([]);
    expect(chooseScale([option, linear], 65535, "f.png").notes).toHaveLength(1);
  });
  it("says how to give a scale where there is none", () => {
    const error = caught(() => chooseScale([], 65535, "a/f.png"));
    expect(error.code).toBe("E_SCALE_NONE");
    expect(error.message).toContain("--scale LO:HI");
    expect(error.message).toContain("a/f.png.json");
  });
  it("looks for two names", () => {
    expect(sidecarNames("a.b/f.1.png")).toEqual(["a.b/f.1.png.json", "a.b/f.1.json"]);
  });
});

describe("applyScale", () => {
  it("maps 0 and the largest level to the ends, and counts them", () => {
    const levels = Uint16Array.from([0, 0, 13107, 52428, 65535, 32767]);
    const image = { width: 3, height: 2, levels, maxLevel: 65535, noReadingLevel: null };
    const { raster, stepK, saturated } = applyScale(image, { lowC: -20, highC: 130 });
    // 13107 and 52428 are 1/5 and 4/5 of 65535; 32767/65535·150 − 20 = 54.99885557…
    expect([...raster.data].map((v) => Number(v.toFixed(4)))).toEqual([-20, -20, 10, 100, 130, 54.9989]);
    expect(stepK).toBeCloseTo(150 / 65535, 15);
    expect(saturated).toEqual({ low: 2, high: 1 });
  });
  it("applies gain and offset, and leaves marked pixels without reading", () => {
    const levels = Uint16Array.from([0, 29815, 27315, 65535, 31315, 0]);
    const image = { width: 2, height: 3, levels, maxLevel: 65535, noReadingLevel: 0 };
    const { raster, stepK, saturated } = applyScale(image, { gainCPerLevel: 0.01, offsetC: -273.15 });
    expect([...raster.data].map((v) => Number(v.toFixed(3)))).toEqual([
      Number.NaN,
      25,
      0,
      382.2,
      40,
      Number.NaN,
    ]);
    expect([stepK, saturated]).toEqual([0.01, { low: 0, high: 1 }]);
  });
});
