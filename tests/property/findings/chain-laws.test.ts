// Laws of the whole chain: what may be done to the frames, the view and the map without changing what they say.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { BoardMap, View } from "../../../src/board/board-schema.js";
import { createRaster } from "../../../src/core/raster.js";
import { analyse } from "../../../src/findings/analyse.js";
import type { Findings } from "../../../src/findings/findings-schema.js";
import { parseFindings } from "../../../src/findings/parse-findings.js";
import { type Frame, frameFromRaster } from "../../../src/frames/frame.js";
import { serialiseFindings } from "../../../src/report/serialise-findings.js";
import { BOARD, makeAttempt, VIEW } from "../../unit/findings/make-attempt.js";

interface Pair {
  readonly baseline: readonly Frame[];
  readonly powered: readonly Frame[];
}

// One analysis with a board takes most of a second: few runs, each of frames of its own.
const PIXELS = { numRuns: 3, seed: 20310301 };
const ON_BOARD = { numRuns: 2, seed: 20310301 };

/** One or two parts that heat clearly. */
const attempt = fc.record({
  seed: fc.nat().map((n) => `law ${n}`),
  watts: fc.constantFrom<Record<string, number>>(
    { C2: 0.05 },
    { U2: 0.2 },
    { Q1: 0.06, C2: 0.06 },
    { U1: 0.15, C1: 0.05 },
  ),
});

/** The same without a small face that heats beside a wide one. */
const oneOfAKind = <R extends { watts: Record<string, number> }>(recipe: R): R =>
  "U1" in recipe.watts ? { ...recipe, watts: { U1: recipe.watts["U1"]! } } : recipe;

const onBoard = (pair: Pair, board: BoardMap = BOARD, view: View = VIEW): Findings =>
  analyse({ ...pair, board, view }).findings;
const inPixels = (pair: Pair): Findings => analyse(pair).findings;
const each = (pair: Pair, change: (frame: Frame) => Frame): Pair => ({
  baseline: pair.baseline.map(change),
  powered: pair.powered.map(change),
});

/** A frame whose pixel [x, y] comes to stand at `to`. */
function moved(
  frame: Frame,
  width: number,
  height: number,
  to: (x: number, y: number) => readonly [number, number],
): Frame {
  const { raster } = frame;
  const data = new Float32Array(width * height);
  for (let y = 0; y < raster.height; y++) {
    for (let x = 0; x < raster.width; x++) {
      const [u, v] = to(x, y);
      data[v * width + u] = raster.data[y * raster.width + x]!;
    }
  }
  return frameFromRaster(createRaster("degC", width, height, data));
}

function movedView(
  view: View,
  width: number,
  height: number,
  to: (x: number, y: number) => readonly [number, number],
): View {
  const fiducials = view.fiducials.map(({ board, pixel }) => {
    const [x, y] = to(pixel[0], pixel[1]);
    return { board, pixel: [x, y] as [number, number] };
  });
  return { ...view, frame: { width, height }, fiducials };
}

/** Hotspots that stand out so far that nothing which the law allows takes them below the threshold or lifts others over
 *  it. */
function clear(findings: Findings) {
  return findings.hotspots.filter(({ peakRiseK }) => peakRiseK > 1.5 * findings.threshold.riseK);
}

/** Places agree to a twentieth of a pixel or a fifth of their stated error, rises and watts to one in two hundred: the
 *  chain's filters round, and its search for the place ends at steps of that size. */
function expectSame(
  found: Findings,
  wanted: Findings,
  to: (x: number, y: number) => readonly [number, number] = (x, y) => [x, y],
): void {
  const [some, others] = [clear(found), clear(wanted)];
  expect(some.length).toBeGreaterThan(0);
  expect(some.length).toBe(others.length);
  for (const other of others) {
    const [x, y] = to(other.sourcePx[0], other.sourcePx[1]);
    const distance = (one: (typeof some)[number]): number =>
      Math.hypot(one.sourcePx[0] - x, one.sourcePx[1] - y);
    const nearest = some.reduce((a, b) => (distance(a) <= distance(b) ? a : b));
    expect(distance(nearest)).toBeLessThan(Math.max(0.05, 0.2 * other.sourceSigmaPx));
    expect(Math.abs(nearest.peakRiseK / other.peakRiseK - 1)).toBeLessThan(0.005);
    if (other.powerW !== null) expect(Math.abs(nearest.powerW! / other.powerW - 1)).toBeLessThan(0.005);
  }
  const sure = (findings: Findings) => findings.suspects.filter(({ probability }) => probability > 0.1);
  const names = (findings: Findings) =>
    sure(findings)
      .map(({ ref }) => ref)
      .sort();
  expect(names(found)).toEqual(names(wanted));
  for (const suspect of sure(wanted)) {
    const again = found.suspects.find(({ ref }) => ref === suspect.ref)!;
    expect(Math.abs(again.probability - suspect.probability)).toBeLessThan(0.01);
  }
}

describe("frames turned, mirrored or moved, and the view with them", () => {
  const { width: w, height: h } = VIEW.frame;
  const turn = (x: number, y: number) => [h - 1 - y, x] as const;
  const mirror = (x: number, y: number) => [w - 1 - x, y] as const;

  it("a quarter turn turns what is found", () => {
    fc.assert(
      // A wide and a small one together are left out, as below: without a map the small one's place follows the
      // alignment, which the wide one's heat pulls, and every other pixel that is taken for an edge is another one in
      // turned frames.
      fc.property(attempt.map(oneOfAKind), (recipe) => {
        const pair = makeAttempt(recipe);
        expectSame(inPixels(each(pair, (frame) => moved(frame, h, w, turn))), inPixels(pair), turn);
      }),
      PIXELS,
    );
  });

  it("a quarter turn leaves parts, watts and probabilities", () => {
    fc.assert(
      fc.property(attempt, (recipe) => {
        const pair = makeAttempt(recipe);
        const turned = each(pair, (frame) => moved(frame, h, w, turn));
        expectSame(onBoard(turned, BOARD, movedView(VIEW, h, w, turn)), onBoard(pair), turn);
      }),
      ON_BOARD,
    );
  });

  it("a mirror mirrors what is found", () => {
    fc.assert(
      fc.property(attempt, (recipe) => {
        const pair = makeAttempt(recipe);
        expectSame(inPixels(each(pair, (frame) => moved(frame, w, h, mirror))), inPixels(pair), mirror);
      }),
      PIXELS,
    );
  });

  it("a mirrored board in a mirrored picture has the same parts, watts and probabilities", () => {
    fc.assert(
      fc.property(attempt, (recipe) => {
        const pair = makeAttempt(recipe);
        const flip = ([x, y]: readonly [number, number]): [number, number] => [40 - x, y];
        const board: BoardMap = {
          ...BOARD,
          regions: BOARD.regions.map((region) => ({ ...region, polygon: region.polygon.map(flip) })),
        };
        const view = movedView(VIEW, w, h, mirror);
        const flipped: View = {
          ...view,
          fiducials: view.fiducials.map(({ board: at, pixel }) => ({ board: flip(at), pixel })),
        };
        expectSame(
          onBoard(
            each(pair, (frame) => moved(frame, w, h, mirror)),
            board,
            flipped,
          ),
          onBoard(pair),
          mirror,
        );
      }),
      ON_BOARD,
    );
  });

  it("frames cut elsewhere from a larger picture move the places, within what is stated", () => {
    fc.assert(
      fc.property(
        // One wide face or small parts. A wide and a small one together are left out: the wide one's heat pulls the
        // alignment of the frames by more than it states, and with it the place of the small one (up to four times the
        // stated error).
        fc.record({
          seed: fc.nat().map((n) => `cut ${n}`),
          watts: fc.constantFrom<Record<string, number>>(
            { C2: 0.05 },
            { Q1: 0.06, C2: 0.06 },
            { U1: 0.15 },
            { U2: 0.2 },
          ),
        }),
        fc.integer({ min: -6, max: 7 }),
        fc.integer({ min: -5, max: 4 }),
        (recipe, dx, dy) => {
          const pair = makeAttempt(recipe);
          const cut = (left: number, top: number): Pair =>
            each(pair, ({ raster }) => {
              const [width, height] = [w - 16, h - 14];
              const data = Float32Array.from(
                { length: width * height },
                (_, i) => raster.data[(Math.floor(i / width) + top) * w + (i % width) + left]!,
              );
              return frameFromRaster(createRaster("degC", width, height, data));
            });
          const [here, there] = [inPixels(cut(8, 7)), inPixels(cut(8 + dx, 7 + dy))];
          // What is cut off at the edges takes part in the estimates of pattern and drift: three of the stated errors.
          expect(clear(here)[0]).toBeDefined();
          for (const one of clear(here)) {
            const distances = clear(there).map(({ sourcePx }) =>
              Math.hypot(sourcePx[0] + dx - one.sourcePx[0], sourcePx[1] + dy - one.sourcePx[1]),
            );
            expect(Math.min(...distances)).toBeLessThan(Math.max(0.1, 3 * one.sourceSigmaPx));
          }
          expect(clear(there)[0]).toBeDefined();
        },
      ),
      { ...PIXELS, numRuns: 6 },
    );
  });
});

describe("what must not matter", () => {
  it("a constant added to the powered frames", () => {
    fc.assert(
      fc.property(attempt, fc.double({ min: -9, max: 9, noNaN: true }), (recipe, addedK) => {
        const pair = makeAttempt(recipe);
        const warmer = pair.powered.map(({ raster }) =>
          frameFromRaster(
            createRaster(
              "degC",
              raster.width,
              raster.height,
              raster.data.map((value) => value + addedK),
            ),
          ),
        );
        expectSame(inPixels({ ...pair, powered: warmer }), inPixels(pair));
      }),
      PIXELS,
    );
  });

  it("the order of the frames that are averaged", () => {
    fc.assert(
      fc.property(attempt, (recipe) => {
        const pair = makeAttempt({ ...recipe, frames: 3 });
        const other = {
          baseline: [2, 0, 1].map((i) => pair.baseline[i]!),
          powered: [1, 2, 0].map((i) => pair.powered[i]!),
        };
        expectSame(inPixels(other), inPixels(pair));
      }),
      PIXELS,
    );
  });

  it("the order of the regions of a map", () => {
    fc.assert(
      fc.property(
        attempt,
        fc.shuffledSubarray([0, 1, 2, 3, 4], { minLength: 5, maxLength: 5 }),
        (recipe, order) => {
          const pair = makeAttempt(recipe);
          const [found, wanted] = [
            onBoard(pair, { ...BOARD, regions: order.map((i) => BOARD.regions[i]!) }),
            onBoard(pair),
          ];
          expectSame(found, wanted);
          expect(found.verdict).toBe(wanted.verdict);
        },
      ),
      ON_BOARD,
    );
  });
});

describe("more heat", () => {
  /** The same noise, the rise of the one frame times a factor. */
  const scaled = (seed: string, ref: string, factor: number): Findings =>
    onBoard(makeAttempt({ seed, watts: { [ref]: 0.05 * factor } }));

  it("times a factor gives watts times the factor at the same place, within what is stated", () => {
    fc.assert(
      fc.property(
        fc.nat(),
        fc.constantFrom("C2", "Q1"),
        fc.double({ min: 1.3, max: 3, noNaN: true }),
        (seed, ref, factor) => {
          const [one, more] = [scaled(`scale ${seed}`, ref, 1), scaled(`scale ${seed}`, ref, factor)];
          const [a, b] = [one.hotspots[0]!, more.hotspots[0]!];
          expect(Math.hypot(a.sourcePx[0] - b.sourcePx[0], a.sourcePx[1] - b.sourcePx[1])).toBeLessThan(
            3 * Math.hypot(a.sourceSigmaPx, b.sourceSigmaPx),
          );
          // The stated error has a part for the plate's unknown losses, which both share: three of it is far more than
          // noise.
          expect(Math.abs(b.powerW! - factor * a.powerW!)).toBeLessThan(
            3 * Math.hypot(b.powerSigmaW!, factor * a.powerSigmaW!),
          );
          // Noise alone, which is a tenth of a kelvin on six: a tenth.
          expect(Math.abs(b.powerW! / (factor * a.powerW!) - 1)).toBeLessThan(0.1);
        },
      ),
      ON_BOARD,
    );
  });

  it("of a part, all else the same, does not make it less probable", () => {
    const probability = (findings: Findings, ref: string): number =>
      findings.suspects.find((suspect) => suspect.ref === ref)?.probability ?? 0;
    fc.assert(
      fc.property(fc.nat(), fc.constantFrom("C2", "C1", "Q1"), (seed, ref) => {
        const chances = [0.001, 0.004, 0.02].map((powerW) =>
          probability(onBoard(makeAttempt({ seed: `more ${seed}`, watts: { [ref]: powerW } })), ref),
        );
        for (let i = 1; i < chances.length; i++)
          expect(chances[i]!).toBeGreaterThanOrEqual(chances[i - 1]! - 1e-6);
        expect(chances[2]).toBeGreaterThan(0.9);
      }),
      ON_BOARD,
    );
  });
});

describe("nothing", () => {
  it("is found in frames against themselves, with a board and without", () => {
    fc.assert(
      fc.property(attempt, fc.boolean(), (recipe, hot) => {
        const { baseline, powered } = makeAttempt(recipe);
        const same = hot ? { baseline: powered, powered } : { baseline, powered: baseline };
        for (const findings of [inPixels(same), onBoard(same)]) {
          expect([findings.hotspots, findings.suspects]).toEqual([[], []]);
        }
      }),
      ON_BOARD,
    );
  });
});

describe("findings that are written", () => {
  it("read back equal", () => {
    fc.assert(
      fc.property(attempt, fc.boolean(), (recipe, known) => {
        const pair = makeAttempt(recipe);
        const findings = known ? onBoard(pair) : inPixels(pair);
        const read = parseFindings(JSON.parse(serialiseFindings(findings)), "findings.json");
        expect(read).toEqual({ findings, notes: [] });
      }),
      ON_BOARD,
    );
  });
});
