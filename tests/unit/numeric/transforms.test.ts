import { describe, expect, it } from "vitest";
import { createFft } from "../../../src/numeric/fft.js";

describe("createFft", () => {
  // 4·2, 3², 5², 7·3, 31·2 (largest direct prime), 37 and 2·41 (chirp), 121 = 11².
  it.each([1, 2, 3, 4, 5, 6, 7, 8, 9, 12, 16, 21, 25, 37, 60, 62, 82, 121])(
    "%i numbers: the sum that defines it",
    (size) => {
      const re = Float64Array.from({ length: size }, (_, i) => Math.sin(i * i + 1));
      const im = Float64Array.from({ length: size }, (_, i) => Math.cos(3 * i * i + 2));
      const foundRe = re.slice();
      const foundIm = im.slice();
      createFft(size).transform(foundRe, foundIm);
      for (let k = 0; k < size; k++) {
        let sumRe = 0;
        let sumIm = 0;
        for (let j = 0; j < size; j++) {
          const angle = (-2 * Math.PI * ((j * k) % size)) / size;
          sumRe += re[j]! * Math.cos(angle) - im[j]! * Math.sin(angle);
          sumIm += re[j]! * Math.sin(angle) + im[j]! * Math.cos(angle);
        }
        // A hundred roundings of numbers of about 10.
        expect(Math.abs(foundRe[k]! - sumRe)).toBeLessThan(1e-12);
        expect(Math.abs(foundIm[k]! - sumIm)).toBeLessThan(1e-12);
      }
    },
  );

  it("refuses lengths that are none, and lists of another length", () => {
    expect(() => createFft(0)).toThrow(RangeError);
    expect(() => createFft(2.5)).toThrow(RangeError);
    expect(() => createFft(8).transform(new Float64Array(7), new Float64Array(8))).toThrow(RangeError);
    expect(() => createFft(37).transform(new Float64Array(37), new Float64Array(8))).toThrow(RangeError);
  });
});
