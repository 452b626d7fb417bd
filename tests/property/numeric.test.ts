// Laws of the numeric kernels.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { createFft } from "../../src/numeric/fft.js";
import { gaussianFilter } from "../../src/numeric/gaussian-filter.js";
import { labelComponents } from "../../src/numeric/label-components.js";
import { median, quantile, robustSigma } from "../../src/numeric/median.js";
import { solveNonNegative } from "../../src/numeric/nonnegative-least-squares.js";
import { normalTail, zForTail } from "../../src/numeric/normal-distribution.js";
import { warpRaster } from "../../src/numeric/warp.js";
import { besselI0, besselI1, besselK0, besselK1 } from "../reference/bessel.js";

const reading = fc.double({ min: -50, max: 150, noNaN: true });
const holedReading = fc.oneof(
  { weight: 9, arbitrary: reading },
  { weight: 1, arbitrary: fc.constant(Number.NaN) },
);

/** A picture whose width is never its height. */
const picture = (value: fc.Arbitrary<number>) =>
  fc
    .tuple(fc.integer({ min: 1, max: 9 }), fc.integer({ min: 10, max: 14 }), fc.boolean())
    .chain(([short, long, wide]) =>
      fc.record({
        width: fc.constant(wide ? long : short),
        height: fc.constant(wide ? short : long),
        data: fc
          .array(value, { minLength: short * long, maxLength: short * long })
          .map((list) => Float64Array.from(list)),
      }),
    );

const rangeOf = (values: Iterable<number>): [number, number] => {
  const known = Array.from(values).filter((value) => !Number.isNaN(value));
  return [Math.min(...known), Math.max(...known)];
};

describe("gaussianFilter", () => {
  it("an average: never beyond the range of the readings; holes stay; offset and scale go through", () => {
    fc.assert(
      fc.property(
        picture(holedReading),
        fc.double({ min: 0.3, max: 4, noNaN: true }),
        ({ width, height, data }, sigma) => {
          const found = gaussianFilter(data, width, height, sigma);
          const [low, high] = rangeOf(data);
          const shifted = gaussianFilter(
            data.map((value) => 3 * value - 7),
            width,
            height,
            sigma,
          );
          found.forEach((value, i) => {
            expect(Number.isNaN(value)).toBe(Number.isNaN(data[i]!));
            if (Number.isNaN(value)) return;
            // Single precision at 150 is 1e-5; times 3 at most 450: 3e-5.
            expect(value).toBeGreaterThanOrEqual(low - 1e-5);
            expect(value).toBeLessThanOrEqual(high + 1e-5);
            expect(Math.abs(shifted[i]! - (3 * value - 7))).toBeLessThan(1e-4);
          });
        },
      ),
    );
  });
});

describe("median", () => {
  it("the same as sorting; order does not matter; the quantile of ½ is it", () => {
    fc.assert(
      fc.property(fc.array(holedReading, { maxLength: 60 }), (values) => {
        const known = values.filter((value) => !Number.isNaN(value)).sort((a, b) => a - b);
        const found = median(values);
        if (known.length === 0) {
          expect(found).toBeNaN();
          return;
        }
        const expected = (known[(known.length - 1) >> 1]! + known[known.length >> 1]!) / 2;
        expect(found).toBeCloseTo(expected, 11);
        // −0 and 0 are one number, and either may come out.
        expect(median([...values].reverse()) === found).toBe(true);
        expect(quantile(values, 0.5)).toBeCloseTo(found, 11);
      }),
    );
  });

  it("selection in long lists with many equal numbers gives the ranks of the sorted list", () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 0, max: 40 }), { minLength: 700, maxLength: 1500 }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (values, share) => {
          const sorted = [...values].sort((a, b) => a - b);
          const rank = Math.floor(share * (values.length - 1));
          expect(quantile(values, rank / (values.length - 1))).toBeCloseTo(sorted[rank]!, 9);
        },
      ),
      { numRuns: 60 },
    );
  });

  it("the robust sigma goes with the scale and not with the offset", () => {
    fc.assert(
      fc.property(fc.array(reading, { minLength: 1, maxLength: 50 }), reading, (values, offset) => {
        const moved = values.map((value) => -2 * value + offset);
        expect(robustSigma(moved)).toBeCloseTo(2 * robustSigma(values), 9);
      }),
    );
  });
});

describe("labelComponents", () => {
  it("neighbours share a label, labels rise in reading order, 8-connected never has more than 4-connected", () => {
    fc.assert(
      fc.property(picture(fc.constantFrom(0, 1)), ({ width, height, data }) => {
        const mask = Uint8Array.from(data);
        const four = labelComponents(mask, width, height, 4);
        const eight = labelComponents(mask, width, height, 8);
        expect(eight.count).toBeLessThanOrEqual(four.count);
        for (const { labels, count } of [four, eight]) {
          let highest = 0;
          labels.forEach((label, i) => {
            expect(label > 0).toBe(mask[i] !== 0);
            expect(label).toBeLessThanOrEqual(highest + 1);
            highest = Math.max(highest, label);
            if (label > 0 && i % width > 0 && mask[i - 1] !== 0) expect(labels[i - 1]).toBe(label);
            if (label > 0 && i >= width && mask[i - width] !== 0) expect(labels[i - width]).toBe(label);
          });
          expect(highest).toBe(count);
        }
      }),
    );
  });
});

describe("warpRaster", () => {
  it("a shift by half a picture of pixels there and back by whole ones is no change; linear stays in range", () => {
    fc.assert(
      fc.property(
        picture(holedReading),
        fc.integer({ min: -3, max: 3 }),
        fc.integer({ min: -3, max: 3 }),
        fc.double({ min: -1.5, max: 1.5, noNaN: true }),
        ({ width, height, data }, dx, dy, part) => {
          for (const order of ["cubic", "spline"] as const) {
            const away = warpRaster(data, width, height, [1, 0, dx, 0, 1, dy], { order });
            const back = warpRaster(away, width, height, [1, 0, -dx, 0, 1, -dy], { order });
            back.forEach((value, i) => {
              if (!Number.isNaN(value)) expect(value).toBe(Math.fround(data[i]!));
            });
          }
          const [low, high] = rangeOf(data);
          for (const value of warpRaster(data, width, height, [1, 0, part, 0, 1, part / 2], {
            order: "linear",
          })) {
            if (Number.isNaN(value)) continue;
            expect(value).toBeGreaterThanOrEqual(low - 1e-5);
            expect(value).toBeLessThanOrEqual(high + 1e-5);
          }
        },
      ),
    );
  });
});

describe("special functions", () => {
  it("x·(I0·K1 + I1·K0) = 1 (DLMF 10.28.2; number from memory)", () => {
    fc.assert(
      fc.property(fc.double({ min: 1e-6, max: 600, noNaN: true }), (x) => {
        expect(x * (besselI0(x) * besselK1(x) + besselI1(x) * besselK0(x))).toBeCloseTo(1, 11);
      }),
    );
  });

  it("the tail of the quantile of a tail is that tail; both sides make 1", () => {
    fc.assert(
      fc.property(
        fc.double({ min: -300, max: -0.3, noNaN: true }),
        fc.double({ min: 0, max: 8, noNaN: true }),
        (power, z) => {
          const p = 10 ** power;
          // d ln Q = −z·dz: 37 sigma times the rounding of z.
          expect(Math.abs(normalTail(zForTail(p)) / p - 1)).toBeLessThan(1e-11);
          expect(normalTail(z) + normalTail(-z)).toBeCloseTo(1, 14);
        },
      ),
    );
  });
});

describe("solveNonNegative", () => {
  it("meets the conditions of the best answer: nothing negative, no gradient in the set, none upwards outside it", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 8 }),
        fc.array(fc.double({ min: -3, max: 3, noNaN: true }), { minLength: 13 * 9, maxLength: 13 * 9 }),
        fc.array(fc.boolean(), { minLength: 8, maxLength: 8 }),
        (n, numbers, freeList) => {
          const rows = 13;
          const gram = new Float64Array(n * n);
          const right = new Float64Array(n);
          for (let r = 0; r < rows; r++) {
            for (let i = 0; i < n; i++) {
              right[i] = right[i]! + numbers[r * 9 + i]! * numbers[r * 9 + 8]!;
              for (let j = 0; j < n; j++) {
                gram[i * n + j] = gram[i * n + j]! + numbers[r * 9 + i]! * numbers[r * 9 + j]!;
              }
            }
          }
          const free = Uint8Array.from({ length: n }, (_, i) => (freeList[i] ? 1 : 0));
          const found = solveNonNegative(gram, right, n, { free });
          expect(found.converged).toBe(true);
          for (let i = 0; i < n; i++) {
            if (free[i] === 0) expect(found.x[i]).toBeGreaterThanOrEqual(0);
            if (found.passive[i] === 0) expect(found.x[i]).toBe(0);
            let gradient = right[i]!;
            let size = Math.abs(gradient);
            for (let j = 0; j < n; j++) {
              gradient -= gram[i * n + j]! * found.x[j]!;
              size += Math.abs(gram[i * n + j]! * found.x[j]!);
            }
            // Rounding of the sum; a combination of others (share 1e-10 of its square) has at most 1e-5 of its length.
            const slack = 1e-9 * size + 1e-5 * Math.sqrt(gram[i * n + i]!) * Math.sqrt(9 * rows);
            if (found.passive[i] === 1) expect(Math.abs(gradient)).toBeLessThanOrEqual(slack);
            else if (free[i] === 0) expect(gradient).toBeLessThanOrEqual(slack);
          }
        },
      ),
    );
  });
});

describe("transforms", () => {
  it("the Fourier transform of any length, then again with the parts swapped, is the input × length", () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(reading, reading), { minLength: 1, maxLength: 150 }), (numbers) => {
        const re = Float64Array.from(numbers, ([a]) => a);
        const im = Float64Array.from(numbers, ([, b]) => b);
        const fft = createFft(numbers.length);
        const foundRe = re.slice();
        const foundIm = im.slice();
        fft.transform(foundRe, foundIm);
        fft.transform(foundIm, foundRe);
        foundRe.forEach((value, i) => {
          expect(Math.abs(value / numbers.length - re[i]!)).toBeLessThan(1e-10);
          expect(Math.abs(foundIm[i]! / numbers.length - im[i]!)).toBeLessThan(1e-10);
        });
      }),
    );
  });
});
