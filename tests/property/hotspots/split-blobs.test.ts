// Laws of splitting significant areas into patches.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { splitBlobs } from "../../../src/hotspots/split-blobs.js";
import { labelComponents } from "../../../src/numeric/label-components.js";

const area = fc.integer({ min: 1, max: 8 }).chain((width) =>
  fc.integer({ min: 9, max: 12 }).chain((rows) =>
    fc.record({
      width: fc.constant(width),
      height: fc
        .array(fc.integer({ min: 1, max: 6 }), { minLength: width * rows, maxLength: width * rows })
        .map((list) => Float32Array.from(list)),
      mask: fc
        .array(fc.boolean(), { minLength: width * rows, maxLength: width * rows })
        .map((list) => Uint8Array.from(list, Number)),
      prominence: fc.integer({ min: 0, max: 5 }),
    }),
  ),
);

describe("splitBlobs", () => {
  it("labels the mask and nothing else; each patch holds its peak; patches come highest first", () => {
    fc.assert(
      fc.property(area, ({ width, height, mask, prominence }) => {
        const { labels, patches } = splitBlobs(height, mask, width, () => prominence);
        labels.forEach((label, i) => {
          expect(label > 0).toBe(mask[i] === 1);
          // No pixel stands above the peak of its patch.
          if (label > 0) expect(height[i]!).toBeLessThanOrEqual(height[patches[label - 1]!.peak]!);
        });
        patches.forEach(({ peak, prominenceK }, k) => {
          expect(labels[peak]).toBe(k + 1);
          expect(prominenceK).toBeGreaterThanOrEqual(
            prominence <= height[peak]! ? Math.min(prominence, height[peak]!) : 0,
          );
          if (k > 0) expect(height[peak]!).toBeLessThanOrEqual(height[patches[k - 1]!.peak]!);
        });
      }),
    );
  });

  it("with no prominence to reach, at least as many patches as areas; with all, exactly as many", () => {
    fc.assert(
      fc.property(area, ({ width, height, mask }) => {
        const areas = labelComponents(mask, width, mask.length / width, 8).count;
        const every = splitBlobs(height, mask, width, () => 0).patches.length;
        const none = splitBlobs(height, mask, width, () => Number.POSITIVE_INFINITY).patches.length;
        expect(every).toBeGreaterThanOrEqual(areas);
        expect(none).toBe(areas);
      }),
    );
  });

  it("a higher limit never makes more patches", () => {
    fc.assert(
      fc.property(area, ({ width, height, mask }) => {
        const counts = [0, 1, 2, 3, 4, 5, 6].map(
          (limit) => splitBlobs(height, mask, width, () => limit).patches.length,
        );
        for (let k = 1; k < counts.length; k++) expect(counts[k]!).toBeLessThanOrEqual(counts[k - 1]!);
      }),
    );
  });
});
