import { describe, expect, it } from "vitest";
import {
  type BoardPoint,
  boardPoint,
  type Celsius,
  celsius,
  degreesFromRadians,
  type FramePoint,
  framePoint,
  type Kelvin,
  kelvin,
  type Radians,
  radians,
} from "../../../src/core/units.js";

describe("units", () => {
  it("brands leave the numbers as they are", () => {
    expect(celsius(-273.15)).toBe(-273.15);
    expect(kelvin(6.1)).toBe(6.1);
    expect(radians(-0.25)).toBe(-0.25);
    expect(framePoint(3, -7)).toEqual([3, -7]);
    expect(boardPoint(58, 34)).toEqual([58, 34]);
  });

  it("angles: a quarter turn is 90 degrees, and π/6 back is −30", () => {
    expect(degreesFromRadians(radians(Math.PI / 2))).toBe(90);
    // A rounding of double at 30: 4e-15.
    expect(degreesFromRadians(radians(-Math.PI / 6))).toBeCloseTo(-30, 13);
  });

  it("what must not be mixed does not compile", () => {
    // The type checker is the judge: a line without an error under it fails `npm run types`.
    const temperature: Celsius = celsius(25);
    const difference: Kelvin = kelvin(6);
    const onFrame: FramePoint = framePoint(3, 5);
    const onBoard: BoardPoint = boardPoint(3, 5);
    // @ts-expect-error a difference is no temperature
    const first: Celsius = difference;
    // @ts-expect-error a temperature is no difference
    const second: Kelvin = temperature;
    // @ts-expect-error millimetres are no pixels
    const third: FramePoint = onBoard;
    // @ts-expect-error pixels are no millimetres
    const fourth: BoardPoint = onFrame;
    // @ts-expect-error a bare number is no angle
    const fifth: Radians = 0.5;
    expect([first, second, third, fourth, fifth]).toEqual([6, 25, [3, 5], [3, 5], 0.5]);
  });
});
