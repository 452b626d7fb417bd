// Mixes units in every way that must not compile; never run: tests/structure/units.test.ts hands it to the compiler.
import { createRaster, type Raster } from "../../src/core/raster.js";
import {
  type BoardPoint,
  boardPoint,
  type Celsius,
  celsius,
  type FramePoint,
  framePoint,
  type Kelvin,
  kelvin,
  type Radians,
  radians,
} from "../../src/core/units.js";

/** Each function takes one unit; what follows hands it another. */
export function mixUnits(): void {
  const takesCelsius = (_: Celsius): void => {};
  const takesKelvin = (_: Kelvin): void => {};
  const takesRadians = (_: Radians): void => {};
  const takesFrame = (_: FramePoint): void => {};
  const takesBoard = (_: BoardPoint): void => {};
  const takesRise = (_: Raster<"K">): void => {};
  takesCelsius(celsius(21.5));
  takesKelvin(kelvin(3.5));
  takesRadians(radians(0.25));
  takesFrame(framePoint(12, 7));
  takesBoard(boardPoint(33.2, 17));
  takesRise(createRaster("K", 3, 2));
  // @ts-expect-error a difference is no temperature
  takesCelsius(kelvin(3.5));
  // @ts-expect-error a temperature is no difference
  takesKelvin(celsius(21.5));
  // @ts-expect-error a plain number has no unit
  takesKelvin(3.5);
  // @ts-expect-error degrees are no radians
  takesRadians(14);
  // @ts-expect-error a temperature is no angle
  takesRadians(celsius(21.5));
  // @ts-expect-error millimetres on the board are no pixels
  takesFrame(boardPoint(33.2, 17));
  // @ts-expect-error pixels are no millimetres on the board
  takesBoard(framePoint(12, 7));
  // @ts-expect-error a bare pair of numbers is neither
  takesBoard([33.2, 17]);
  // @ts-expect-error a raster of temperatures is none of differences
  takesRise(createRaster("degC", 3, 2));
}
