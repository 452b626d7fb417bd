import { describe, expect, it } from "vitest";
import { evenOut } from "../../../../src/page/board/even-out.js";
import { greyRange } from "../../../../src/page/board/paint-grey.js";
import { makeRandom } from "../../../simulate/random.js";

const [WIDTH, HEIGHT] = [96, 72];

/** Noise of 0.05 K, a faint board 0.4 K warmer than its table, and a lamp 30 K warmer than all. */
function scene(): Float32Array {
  const random = makeRandom("faint board");
  return Float32Array.from({ length: WIDTH * HEIGHT }, (_, i) => {
    const [x, y] = [i % WIDTH, Math.floor(i / WIDTH)];
    const onBoard = x >= 20 && x < 60 && y >= 15 && y < 55;
    const isLamp = x >= 80 && y < 20;
    return 24.3 + (onBoard ? 0.4 : 0) + (isLamp ? 30 : 0) + 0.05 * random.normal();
  });
}

/** The step over the board's left edge, as a share of the greys' range. */
function edgeShare(data: Float32Array): number {
  const { low, high } = greyRange(data, WIDTH)!;
  const meanOf = (from: number, to: number): number => {
    let sum = 0;
    for (let y = 25; y < 45; y++) for (let x = from; x < to; x++) sum += data[y * WIDTH + x]!;
    return sum / (20 * (to - from));
  };
  return (meanOf(20, 23) - meanOf(17, 20)) / (high - low);
}

describe("evenOut", () => {
  it("brings out a faint edge beside something bright", () => {
    expect(edgeShare(scene())).toBeLessThan(0.02);
    expect(edgeShare(evenOut(scene(), WIDTH, HEIGHT))).toBeGreaterThan(0.2);
  });

  it("is the same for readings in another unit, and leaves its input as it is", () => {
    const celsius = scene();
    const before = celsius.slice();
    const even = evenOut(celsius, WIDTH, HEIGHT);
    expect(celsius).toEqual(before);
    const fahrenheit = evenOut(
      celsius.map((value) => value * 1.8 + 32),
      WIDTH,
      HEIGHT,
    );
    // float32 carries 50 °C to 4 µK, and noise is 50 mK.
    const apart = even.map((value, i) => Math.abs(value - fahrenheit[i]!));
    expect(Math.max(...apart)).toBeLessThan(2e-3);
  });

  it("noise on an even ground stays below what an edge makes", () => {
    const random = makeRandom("even ground");
    const flat = Float32Array.from({ length: WIDTH * HEIGHT }, () => 21 + 0.05 * random.normal());
    // Scatter and what is usual together: noise by itself comes to 1/√2, and to a third of that over nine pixels.
    const even = evenOut(flat, WIDTH, HEIGHT);
    const rms = Math.sqrt(even.reduce((sum, value) => sum + value * value, 0) / even.length);
    expect(rms).toBeGreaterThan(0.2);
    expect(rms).toBeLessThan(0.27);
  });

  it("moves no edge: it changes sides where the step is, and as far on one side as on the other", () => {
    const step = Float32Array.from({ length: 40 * 30 }, (_, i) => (i % 40 < 17 ? 20 : 21));
    const even = evenOut(step, 40, 30);
    const at = (x: number): number => even[15 * 40 + x]!;
    expect(at(16)).toBeLessThan(-0.05);
    expect(at(17)).toBeCloseTo(-at(16), 4);
    expect(at(18)).toBeCloseTo(-at(15), 4);
  });

  it("a pixel without a reading stays one; one grey alone, or no reading, is no fault", () => {
    const data = scene();
    data[30 * WIDTH + 40] = Number.NaN;
    const even = evenOut(data, WIDTH, HEIGHT);
    expect(even[30 * WIDTH + 40]).toBeNaN();
    expect(even.filter((value) => Number.isNaN(value))).toHaveLength(1);
    expect(evenOut(new Float32Array(12).fill(20), 4, 3)).toEqual(new Float32Array(12));
    expect(evenOut(new Float32Array(12).fill(Number.NaN), 4, 3).every((value) => Number.isNaN(value))).toBe(
      true,
    );
  });
});
