import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { columnWidths } from "../../../src/report/column-widths.js";
import { contourRings } from "../../../src/report/contour-rings.js";
import { textWidth, wrapText } from "../../../src/report/wrap-text.js";

/** Widths between 0.3 and 1, by the character. */
const advance = (codePoint: number): number => 0.3 + (codePoint % 71) / 100;
const word = fc.string({
  unit: fc.constantFrom("a", "b", "W", "-", "/", "主", "。", "（", "ü"),
  minLength: 1,
  maxLength: 40,
});
const prose = fc.array(word, { maxLength: 12 }).map((words) => words.join(" "));

describe("wrapText", () => {
  it("loses no character but blanks, and no line is wider than asked for", () => {
    fc.assert(
      fc.property(prose, fc.double({ min: 1, max: 30, noNaN: true }), (text, width) => {
        const lines = wrapText(text, width, advance);
        expect(lines.join("").replaceAll(" ", "")).toBe(text.replaceAll(" ", ""));
        // A billionth for the order of the sum.
        for (const line of lines) expect(textWidth(line, advance)).toBeLessThanOrEqual(width + 1e-9);
      }),
    );
  });

  it("makes one line of what fits on one", () => {
    fc.assert(
      fc.property(prose, (text) => {
        expect(wrapText(text, textWidth(text, advance) + 1e-9, advance)).toEqual([text.trimEnd()]);
      }),
    );
  });
});

describe("columnWidths", () => {
  it("never exceeds the total, and gives nobody more than it wants or, where there is room, less than it needs", () => {
    const wish = fc
      .tuple(
        fc.double({ min: 0.5, max: 300, noNaN: true }),
        fc.double({ min: 0, max: 600, noNaN: true }),
        fc.integer({ min: 1, max: 30 }),
      )
      .map(([least, more, lines]) => ({ least, most: least + more, text: (least + more) * lines }));
    fc.assert(
      fc.property(
        fc.array(wish, { minLength: 1, maxLength: 8 }),
        fc.double({ min: 50, max: 800, noNaN: true }),
        (wishes, total) => {
          const widths = columnWidths(wishes, total);
          expect(widths.reduce((sum, width) => sum + width, 0)).toBeLessThanOrEqual(total + 1e-6);
          const fits = wishes.reduce((sum, { least }) => sum + least, 0) <= total;
          widths.forEach((width, i) => {
            expect(width).toBeLessThanOrEqual(wishes[i]!.most + 1e-6);
            if (fits) expect(width).toBeGreaterThanOrEqual(wishes[i]!.least - 1e-6);
          });
        },
      ),
    );
  });
});

describe("contourRings", () => {
  it("by the even-odd rule cover the grid points that reach the level, and no others", () => {
    const size = fc.record({ width: fc.integer({ min: 1, max: 9 }), height: fc.integer({ min: 1, max: 7 }) });
    fc.assert(
      fc.property(
        size.chain(({ width, height }) =>
          fc
            .array(fc.oneof(fc.integer({ min: -5, max: 5 }), fc.constant(Number.NaN)), {
              minLength: width * height,
              maxLength: width * height,
            })
            .map((values) => ({ width, height, data: Float32Array.from(values) })),
        ),
        (field) => {
          // Between the integers, so that no point lies on a ring but beside missing values.
          const rings = contourRings(field, 0.5);
          for (let y = 0, i = 0; y < field.height; y++) {
            for (let x = 0; x < field.width; x++, i++) {
              const value = field.data[i]!;
              if (value > 0.5 && touchesRing(rings, x, y)) continue;
              expect(inside(rings, x, y)).toBe(value > 0.5);
            }
          }
        },
      ),
    );
  });
});

function touchesRing(rings: readonly (readonly [number, number])[][], x: number, y: number): boolean {
  return rings.some((ring) =>
    ring.some((from, i) => {
      const to = ring[(i + 1) % ring.length]!;
      const cross = (to[0] - from[0]) * (y - from[1]) - (to[1] - from[1]) * (x - from[0]);
      const along = (x - from[0]) * (x - to[0]) + (y - from[1]) * (y - to[1]);
      return Math.abs(cross) < 1e-9 && along <= 1e-9;
    }),
  );
}

function inside(rings: readonly (readonly [number, number])[][], x: number, y: number): boolean {
  let crossings = 0;
  for (const ring of rings) {
    ring.forEach(([x0, y0], i) => {
      const [x1, y1] = ring[(i + 1) % ring.length]!;
      if (y0 > y !== y1 > y && x < x0 + ((x1 - x0) * (y - y0)) / (y1 - y0)) crossings++;
    });
  }
  return crossings % 2 === 1;
}
