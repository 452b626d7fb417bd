// core: numbers and points → branded numbers and points, so that units can't be mixed.
// Every cast to a brand lives in this file.

declare const brand: unique symbol;
type Branded<Base, Name extends string> = Base & { readonly [brand]: Name };

/** A temperature, °C. */
export type Celsius = Branded<number, "celsius">;
/** A difference of temperatures, K. */
export type Kelvin = Branded<number, "kelvin of difference">;
/** An angle, rad. */
export type Radians = Branded<number, "radians">;
/** `[x, y]` in frame pixels: x right, y down, integers are pixel centres. */
export type FramePoint = Branded<readonly [number, number], "frame point">;
/** `[x, y]` in board millimetres: x right, y down, seen from the top side. */
export type BoardPoint = Branded<readonly [number, number], "board point">;

/** Mark a number as a temperature in °C. */
export const celsius = (value: number): Celsius => value as Celsius;
/** Mark a number as a temperature difference in K. */
export const kelvin = (value: number): Kelvin => value as Kelvin;
/** Mark a number as an angle in rad. */
export const radians = (value: number): Radians => value as Radians;
/** Make a frame point from pixel coordinates. */
export const framePoint = (x: number, y: number): FramePoint => [x, y] as unknown as FramePoint;
/** Make a board point from millimetres. */
export const boardPoint = (x: number, y: number): BoardPoint => [x, y] as unknown as BoardPoint;
/** Radians → degrees of angle. */
export const degreesFromRadians = (angleRad: Radians): number => (angleRad * 180) / Math.PI;
