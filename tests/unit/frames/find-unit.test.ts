import { describe, expect, it } from "vitest";
import { findUnit } from "../../../src/frames/find-unit.js";
import { readUnitWord } from "../../../src/frames/temperature-unit.js";
import { caught } from "./caught.js";

const unit = (...texts: string[]) => findUnit(texts.map((text, i) => ({ text, line: i + 1 })));

describe("readUnitWord", () => {
  it("knows the three units in their usual spellings", () => {
    for (const word of ["C", "°C", "degC", "deg C", "Celsius", "degrees Celsius", "℃", "ºC"]) {
      expect(readUnitWord(word), word).toBe("C");
    }
    for (const word of ["F", "°F", "degF", "fahrenheit", "℉"]) expect(readUnitWord(word), word).toBe("F");
    for (const word of ["K", "Kelvin", "kelvins", "\u212A"]) expect(readUnitWord(word), word).toBe("K");
    for (const word of ["", "mK", "m", "counts", "R", "CF"]) expect(readUnitWord(word), word).toBeNull();
  });
});

describe("findUnit", () => {
  it.each([
    ["unit=K", "K"],
    ["# unit: °F", "F"],
    ["Units;Celsius", "C"],
    ["temperature_unit\tK", "K"],
    ["% Temperature unit , [°C]", "C"],
    ['"Unit";"K"', "K"],
    ["Einheit: °C", "C"],
    ["Temperature [°F]", "F"],
    ["values (K), row by row", "K"],
    ["temperatures in Kelvin", "K"],
  ])("%s", (text, expected) => expect(unit(text)).toBe(expected));

  it("passes over the units of other values", () => {
    expect(
      unit("reflected = 20 °C", "distance unit: m", "range: -20 to 150 (°C)", "made in Kiel"),
    ).toBeNull();
  });
  it("prefers what calls itself the unit to a title", () => {
    expect(unit("Camera data in °C", "unit=K")).toBe("K");
  });
  it("takes the same statement twice, and refuses two that differ", () => {
    expect(unit("unit=K", "x", "unit: kelvin")).toBe("K");
    const error = caught(() => unit("unit=K", "", "unit=F"));
    expect([error.code, error.parts.place?.line]).toEqual(["E_UNIT", 3]);
  });
  it("refuses a unit that is none of temperature", () => {
    expect(caught(() => unit("unit=counts")).code).toBe("E_UNIT");
  });
});
