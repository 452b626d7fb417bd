import { describe, expect, it } from "vitest";
import {
  greyColour,
  type Rgb,
  RISE_COLOURS,
  riseColour,
  srgbFromOklab,
} from "../../../src/report/colour-scale.js";

/** CIELAB of an 8-bit sRGB colour, D65 (IEC 61966-2-1; CIE 15:2004, 8.2.1): another space than the ramp is made in. */
function labFromSrgb(colour: Rgb): [number, number, number] {
  const [r, g, b] = colour.map((channel) => {
    const c = channel / 255;
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
  }) as [number, number, number];
  const f = (t: number): number => (t > 216 / 24389 ? Math.cbrt(t) : ((24389 / 27) * t + 16) / 116);
  const fx = f((0.4124 * r + 0.3576 * g + 0.1805 * b) / 0.9505);
  const fy = f(0.2126 * r + 0.7152 * g + 0.0722 * b);
  const fz = f((0.0193 * r + 0.1192 * g + 0.9505 * b) / 1.089);
  return [116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz)];
}

describe("srgbFromOklab", () => {
  // CSS Color Module Level 4, sample conversions of the primaries to OKLab (values from memory, to four digits).
  it.each([
    ["white", [1, 0, 0], [255, 255, 255]],
    ["red", [0.628, 0.2249, 0.1258], [255, 0, 0]],
    ["lime", [0.8664, -0.2339, 0.1795], [0, 255, 0]],
    ["blue", [0.452, -0.0325, -0.3115], [0, 0, 255]],
  ] as const)("gives %s", (_name, oklab, rgb) => {
    const found = srgbFromOklab(oklab[0], oklab[1], oklab[2]);
    // Four digits of OKLab leave up to one level of sRGB open, more near black where the transfer curve is steep.
    found.forEach((channel, i) => {
      expect(Math.abs(channel - rgb[i]!)).toBeLessThanOrEqual(rgb[i] === 0 ? 6 : 1);
    });
  });
});

describe("the colours of the rise", () => {
  const labs = RISE_COLOURS.map(labFromSrgb);

  it("fall in lightness at every eighth step, so that an eye without colour reads the order", () => {
    for (let i = 8; i < labs.length; i += 8) expect(labs[i]![0]).toBeLessThan(labs[i - 8]![0] - 0.5);
  });

  it("are evenly spaced to the eye: eighths of the ramp differ by no more than a factor of 2 in CIELAB", () => {
    // The ramp is even in OKLab; CIELAB stretches saturated colours differently, so it can't be even in both. A factor
    // of 2 is the most that two neighbouring differences may vary before a ramp shows a false edge: our judgement.
    const steps: number[] = [];
    for (let i = 0; i < 8; i++) {
      const [p, q] = [labs[Math.round((i * 255) / 8)]!, labs[Math.round(((i + 1) * 255) / 8)]!];
      steps.push(Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]));
    }
    expect(Math.max(...steps) / Math.min(...steps)).toBeLessThan(2);
  });

  it("stand apart from every grey of the baseline", () => {
    const greys = [0, 0.25, 0.5, 0.75, 1].map((share) => labFromSrgb(greyColour(share)));
    // 20 is about nine just noticeable differences of 2.3 (Mahy, Van Eycken, Oosterlinck 1994).
    for (const lab of labs) {
      for (const grey of greys) {
        expect(Math.hypot(lab[0] - grey[0], lab[1] - grey[1], lab[2] - grey[2])).toBeGreaterThan(20);
      }
    }
  });

  it("hold shares outside 0…1 to the ends", () => {
    expect(riseColour(-3)).toEqual(RISE_COLOURS[0]);
    expect(riseColour(7)).toEqual(RISE_COLOURS[255]);
    expect(greyColour(-1)).toEqual(greyColour(0));
  });
});

describe("greyColour", () => {
  it("is the same to the last bit as its OKLab grey, at every step and between", () => {
    const { cold, warm } = { cold: 0.7, warm: 0.95 };
    for (let k = 0; k <= 300_007; k++) {
      const share = k / 300_007;
      const direct = srgbFromOklab(cold + share * (warm - cold), 0, 0);
      const [red, green, blue] = greyColour(share);
      if (red !== direct[0] || green !== direct[1] || blue !== direct[2])
        expect.fail(`at ${share}: ${[red, green, blue]} is not ${direct}`);
    }
    expect(greyColour(-1)).toEqual(greyColour(0));
    expect(greyColour(2)).toEqual(greyColour(1));
  });
});
