import { describe, expect, it } from "vitest";
import { greyRange, greyWords, paintGrey } from "../../../../src/page/board/paint-grey.js";
import { paintRise, riseColourOn, shownRange } from "../../../../src/page/board/paint-rise.js";

/** 7×5; a block of 3×3 rises by 1 … 9 K around the middle. */
const [width, height] = [7, 5];
const baseline = Float32Array.from({ length: 35 }, (_, i) => 20 + i * 0.1);
const rise = new Float32Array(35);
const significance = new Float32Array(35);
for (let n = 0; n < 9; n++) {
  const i = (1 + Math.floor(n / 3)) * width + 2 + (n % 3);
  rise[i] = n + 1;
  significance[i] = 10 * (n + 1);
}
const input = { width, height, baseline, rise, significance };
const options = {
  leastSigma: 5,
  leastRiseK: 100,
  scaleK: { low: 1, high: 9 },
  greyC: { low: 20, high: 23.4 },
};
const word = ([r, g, b]: readonly [number, number, number]): number =>
  ((255 << 24) | (b << 16) | (g << 8) | r) >>> 0;

describe("paintRise", () => {
  it.each([false, true])(
    "colours what is significant, rings it, and leaves the rest grey (dark: %s)",
    (isDark) => {
      const into = new Uint32Array(35);
      // The middle rises by 5 K: the end of this scale, and no rounding of a share.
      paintRise(input, { ...options, scaleK: { low: 1, high: 5 }, isDark }, into);
      const greys = new Set(greyWords(isDark ? "dark" : "light"));
      const middle = 2 * width + 3;
      expect(into[middle]).toBe(word(riseColourOn(1, isDark)));
      const ring = into[width + 2];
      expect(greys.has(ring!)).toBe(false);
      // Eight of the nine touch what is not coloured.
      expect(into.filter((value) => value === ring).length).toBe(8);
      expect([...into].filter((value) => greys.has(value)).length).toBe(35 - 9);
    },
  );

  it("colours less at a higher threshold, and by height alone where nothing stands out", () => {
    const coloured = (change: object): number => {
      const into = new Uint32Array(35);
      paintRise(input, { ...options, isDark: false, ...change }, into);
      const greys = new Set(greyWords("light"));
      return [...into].filter((value) => !greys.has(value)).length;
    };
    expect(coloured({ leastSigma: 45 })).toBe(5);
    expect(coloured({ leastSigma: 1e9 })).toBe(0);
    expect(coloured({ leastSigma: 1e9, leastRiseK: 8 })).toBe(2);
  });

  it("leaves pixels without a reading clear", () => {
    const into = new Uint32Array(35);
    const holed = baseline.slice();
    holed[0] = Number.NaN;
    paintRise({ ...input, baseline: holed }, { ...options, isDark: false }, into);
    expect(into[0]).toBe(0);
  });
});

describe("shownRange", () => {
  it("spans what is coloured; a single value starts at 0; nothing is null", () => {
    expect(shownRange(input, options)).toEqual({ low: 1, high: 9 });
    expect(shownRange(input, { ...options, leastSigma: 85 })).toEqual({ low: 0, high: 9 });
    expect(shownRange(input, { ...options, leastSigma: 1e9 })).toBeNull();
  });
});

describe("riseColourOn", () => {
  /** Lightness as the eye has it, roughly: enough to tell which of two is lighter. */
  const light = ([r, g, b]: readonly [number, number, number]): number =>
    0.2126 * r + 0.7152 * g + 0.0722 * b;

  it("stands out more, the more it rises: darker on light, lighter on dark", () => {
    for (let step = 1; step <= 10; step++) {
      const [before, now] = [(step - 1) / 10, step / 10];
      expect(light(riseColourOn(now, false))).toBeLessThan(light(riseColourOn(before, false)));
      expect(light(riseColourOn(now, true))).toBeGreaterThan(light(riseColourOn(before, true)));
    }
  });
});

describe("paintGrey", () => {
  it("spans all but a hundredth at either end, and is null without a reading", () => {
    const data = Float32Array.from({ length: 200 }, (_, i) => i);
    expect(greyRange(data, 20)).toEqual({ low: 2, high: 197 });
    expect(
      paintGrey({ width: 2, height: 1, data: Float32Array.of(Number.NaN, Number.NaN) }, "light").greyC,
    ).toBeNull();
  });

  it("gives a frame by itself the whole range, and one that lies under a rise a narrow one", () => {
    const span = (on: "light" | "dark" | "alone"): number => {
      const levels = [...greyWords(on)].map((value) => value & 255);
      return Math.max(...levels) - Math.min(...levels);
    };
    expect(span("alone")).toBeGreaterThan(2 * span("dark"));
    expect(span("alone")).toBeGreaterThan(span("light"));
  });
});
