// Laws of the chain on a board that chain-laws.test.ts holds in pixels: a constant, and frames cut elsewhere with their
// view.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { View } from "../../../src/board/board-schema.js";
import { createRaster } from "../../../src/core/raster.js";
import { analyse } from "../../../src/findings/analyse.js";
import type { Findings } from "../../../src/findings/findings-schema.js";
import { type Frame, frameFromRaster } from "../../../src/frames/frame.js";
import { BOARD, makeAttempt, VIEW } from "../../unit/findings/make-attempt.js";

// An analysis with a board takes most of a second: few runs, each of frames of its own.
const RUNS = { numRuns: 2, seed: 20310302 };
const attempt = fc.record({
  seed: fc.nat().map((n) => `board law ${n}`),
  watts: fc.constantFrom<Record<string, number>>({ C2: 0.05 }, { Q1: 0.06, C2: 0.06 }),
});

const onBoard = (
  { baseline, powered }: { readonly baseline: readonly Frame[]; readonly powered: readonly Frame[] },
  view: View = VIEW,
): Findings => analyse({ baseline, powered, board: BOARD, view }).findings;

const changed = (frame: Frame, change: (value: number) => number): Frame => {
  const { width, height, data } = frame.raster;
  return frameFromRaster(createRaster("degC", width, height, data.map(change)));
};

/** Parts that are named at all, with how sure. */
const named = (findings: Findings): Map<string, number> =>
  new Map(
    findings.suspects.flatMap(({ ref, probability }) =>
      probability > 0.1 ? [[ref, probability] as const] : [],
    ),
  );

describe("on a board", () => {
  it("a constant added to the powered frames changes neither parts nor watts nor places", () => {
    fc.assert(
      fc.property(attempt, fc.double({ min: -5, max: 5, noNaN: true }), (recipe, addedK) => {
        const pair = makeAttempt(recipe);
        const found = onBoard({
          ...pair,
          powered: pair.powered.map((frame) => changed(frame, (value) => value + addedK)),
        });
        const wanted = onBoard(pair);
        expect([...named(found).keys()]).toEqual([...named(wanted).keys()]);
        for (const [ref, probability] of named(wanted))
          expect(Math.abs(named(found).get(ref)! - probability)).toBeLessThan(0.01);
        const [a, b] = [found.hotspots[0]!, wanted.hotspots[0]!];
        // Frames are of single precision: at 30 °C a step of 2 µK, and the search ends at steps of a thousandth of a
        // pixel.
        expect(Math.hypot(a.sourcePx[0] - b.sourcePx[0], a.sourcePx[1] - b.sourcePx[1])).toBeLessThan(0.01);
        expect(Math.abs(a.powerW! / b.powerW! - 1)).toBeLessThan(0.002);
      }),
      RUNS,
    );
  });

  it("frames cut elsewhere, with their view, show the same parts at the same millimetres", () => {
    const { width: w, height: h } = VIEW.frame;
    const [width, height] = [w - 12, h - 10];
    const cut = (frame: Frame, left: number, top: number): Frame =>
      frameFromRaster(
        createRaster(
          "degC",
          width,
          height,
          Float32Array.from(
            { length: width * height },
            (_, i) => frame.raster.data[(Math.floor(i / width) + top) * w + (i % width) + left]!,
          ),
        ),
      );
    const seen = (pair: ReturnType<typeof makeAttempt>, left: number, top: number): Findings =>
      onBoard(
        {
          baseline: pair.baseline.map((frame) => cut(frame, left, top)),
          powered: pair.powered.map((frame) => cut(frame, left, top)),
        },
        {
          ...VIEW,
          frame: { width, height },
          fiducials: VIEW.fiducials.map(({ board, pixel: [x, y] }) => ({
            board,
            pixel: [x - left, y - top],
          })),
        },
      );
    fc.assert(
      fc.property(
        attempt,
        fc.integer({ min: 0, max: 12 }),
        fc.integer({ min: 0, max: 10 }),
        (recipe, left, top) => {
          const pair = makeAttempt(recipe);
          const [here, there] = [seen(pair, 6, 5), seen(pair, left, top)];
          expect(named(here).size).toBeGreaterThan(0);
          expect([...named(there).keys()].sort()).toEqual([...named(here).keys()].sort());
          for (const { sourceMm, sourceSigmaMm, powerW, powerSigmaW, nearest } of here.hotspots.slice(0, 1)) {
            const again = there.hotspots.find((one) => one.nearest[0]?.ref === nearest[0]!.ref)!;
            const [dx, dy] = [0, 1].map((c) => again.sourceMm![c]! - sourceMm![c]!);
            // What is cut off takes part in the estimates of pattern, drift and shift: three of the stated errors.
            expect(Math.hypot(dx!, dy!)).toBeLessThan(3 * Math.hypot(sourceSigmaMm!, again.sourceSigmaMm!));
            expect(Math.abs(again.powerW! - powerW!)).toBeLessThan(
              3 * Math.hypot(powerSigmaW!, again.powerSigmaW!),
            );
          }
        },
      ),
      RUNS,
    );
  });
});
