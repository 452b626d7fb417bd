import { existsSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { averageFrames } from "../../../src/clean/average-frames.js";
import { createRaster, type Raster } from "../../../src/core/raster.js";
import { analyse } from "../../../src/findings/analyse.js";
import type { AnalysisInput } from "../../../src/findings/analyse-options.js";
import { type Frame, frameFromRaster } from "../../../src/frames/frame.js";
import { seriesOf, storedRaster } from "../../../src/frames/frame-series.js";
import { type FrameSpool, openFrameSpool } from "../../../src/read/frame-spool.js";
import { readFrames } from "../../../src/read/read-frames.js";
import { cycleBasis } from "../../../src/rise/cycle-basis.js";
import { demodulateCycle } from "../../../src/rise/demodulate-cycle.js";
import { searchCycle } from "../../../src/rise/find-cycle.js";
import { findJolts } from "../../../src/rise/find-jolts.js";
import { frameLevels } from "../../../src/rise/frame-levels.js";
import { cellsOf, placesOf } from "../../../src/rise/frame-places.js";
import { temporalNoise } from "../../../src/rise/temporal-noise.js";
import { makeRandom } from "../../simulate/random.js";
import { caught } from "../frames/caught.js";

const [WIDTH, HEIGHT] = [37, 29];
const PIXELS = WIDTH * HEIGHT;

const scenery = makeRandom("scene of a long burst");
const scene = Float32Array.from({ length: PIXELS }, (_, i) => {
  const part = Math.floor((i % WIDTH) / 9) % 2 === Math.floor(i / WIDTH / 7) % 2 ? 1 : 0;
  return 24 + part + 0.1 * scenery.normal();
});

/** Frames of one scene with a spot that warms from frame to frame, in a rhythm of so many frames, or not at all; with a
 *  hole and a flare, and with a frame that lies elsewhere. */
function makeFrames(count: number, spot: number | "warms" | "still" = "warms", movedFrame = -1): Frame[] {
  const random = makeRandom(`long burst of ${count}`);
  return Array.from({ length: count }, (_, k) => {
    const height =
      spot === "warms"
        ? 2 * Math.log1p((8 * k) / count)
        : spot === "still"
          ? 0
          : 0.4 * Math.cos((2 * Math.PI * k) / spot - 0.7);
    const drift = 0.1 * random.normal();
    const data = Float32Array.from(scene, (_, i) => {
      const [x, y] = [i % WIDTH, Math.floor(i / WIDTH)];
      const warm = height * Math.exp(-0.5 * (((x - 21) ** 2 + (y - 11) ** 2) / 2.5 ** 2));
      const from = k === movedFrame ? scene[(i + 3) % PIXELS]! : scene[i]!;
      return from + drift + warm + 0.04 * random.normal();
    });
    if (k % 5 === 2) data[7 * WIDTH + 30] = Number.NaN;
    if (k === 4) data[20 * WIDTH + 5]! += 3;
    return frameFromRaster(createRaster("degC", WIDTH, HEIGHT, data));
  });
}

const spools: FrameSpool[] = [];
afterAll(() => {
  for (const spool of spools) spool.close();
});

/** The same frames, their readings in a file. */
function spooled(frames: readonly Frame[]): Frame[] {
  const spool = openFrameSpool({ heldBytes: 0 });
  spools.push(spool);
  const out = [...frames];
  spool.keep(out);
  return out;
}

const rasters = (frames: readonly Frame[]): Raster<"degC">[] => frames.map(({ raster }) => raster);

describe("frames in a file", () => {
  it("a series reads them as those held, whole, in part and in blocks of any size", () => {
    const held = makeFrames(11);
    const apart = rasters(spooled(held));
    // Some held, some not, as when files come one after the other.
    const mixed = apart.map((raster, k) => (k % 3 === 1 ? held[k]!.raster : raster));
    for (const blockBytes of [11 * 4 * 17, 11 * 4 * 100, 11 * 4 * PIXELS, 1e9]) {
      for (const frames of [apart, mixed]) {
        const series = seriesOf(frames, blockBytes);
        let next = 0;
        for (const { start, size, stack } of series.blocks()) {
          expect(start).toBe(next);
          next += size;
          expect(stack).toHaveLength(11);
          expect(size * 11 * 4).toBeLessThanOrEqual(blockBytes);
          stack.forEach((part, k) => {
            expect(part).toEqual(held[k]!.raster.data.subarray(start, start + size));
          });
        }
        expect(next).toBe(PIXELS);
        held.forEach(({ raster }, k) => {
          expect(seriesOf(frames, 1).blocks()[Symbol.iterator]().next().value).toMatchObject({ size: 1 });
          expect(series.frame(k)).toEqual(raster.data);
          expect(series.frame(k, 40, 95)).toEqual(raster.data.subarray(40, 95));
          expect(frames[k]!.data).toEqual(raster.data);
        });
      }
    }
  });

  it("a spool that ends before a frame does is no silent picture of zeros", () => {
    const spool = openFrameSpool({ heldBytes: 0 });
    const frames = makeFrames(1);
    spool.keep(frames);
    spool.close();
    expect(() => frames[0]!.raster.data).toThrow();
    const empty = storedRaster({ read: () => expect.fail("read twice") }, 0, WIDTH, HEIGHT);
    expect([empty.width, empty.height, empty.unit]).toEqual([WIDTH, HEIGHT, "degC"]);
  });

  it("holds frames while they fit, then puts all of them into the file, and leaves none behind", () => {
    const folder = mkdtempSync(join(tmpdir(), "spool-"));
    try {
      const spool = openFrameSpool({ folder, heldBytes: 3 * 4 * PIXELS });
      const held = makeFrames(4);
      const lists = held.map((frame) => [frame]);
      for (const list of lists.slice(0, 3)) spool.keep(list);
      expect(lists[2]![0]).toBe(held[2]);
      spool.keep(lists[3]!);
      expect(lists.map((list) => "store" in list[0]!.raster)).toEqual([true, true, true, true]);
      lists.forEach((list, k) => {
        expect(list[0]!.raster.data).toEqual(held[k]!.raster.data);
      });
      // The file has no name while it is in use, so nothing can be left when the process is killed.
      expect(readdirSync(folder)).toEqual([]);
      spool.close();
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  });

  it("E_FRAME_SPOOL says where there was no room", () => {
    const folder = join(tmpdir(), "faultglow-no-such-folder");
    expect(existsSync(folder)).toBe(false);
    const spool = openFrameSpool({ folder, heldBytes: 0 });
    const error = caught(() => spool.keep(makeFrames(1)));
    expect(error.code).toBe("E_FRAME_SPOOL");
    expect(error.message).toContain(folder);
  });

  it("read from files with a spool, frames are the same as without", async () => {
    const folder = mkdtempSync(join(tmpdir(), "spool-"));
    const spool = openFrameSpool({ heldBytes: 5 * 4 * 12 });
    try {
      for (let k = 0; k < 20; k++) {
        const rows = [0, 1, 2].map((y) => [0, 1, 2, 3].map((x) => (20 + k / 7 + x * y).toFixed(3)).join(","));
        writeFileSync(join(folder, `${k}.csv`), rows.join("\n"));
      }
      const held = await readFrames([folder], { unit: "C" });
      const apart = await readFrames([folder], { unit: "C", spool });
      expect(apart.frames.filter(({ raster }) => "store" in raster)).toHaveLength(20);
      expect(apart.notes).toEqual(held.notes);
      apart.frames.forEach(({ raster, ...rest }, k) => {
        const { raster: before, ...same } = held.frames[k]!;
        expect(rest).toEqual(same);
        expect(raster.data).toEqual(before.data);
      });
    } finally {
      spool.close();
      rmSync(folder, { recursive: true, force: true });
    }
  });
});

describe("what is computed from frames in a file is the same to the last bit", () => {
  const frames = makeFrames(40, "warms", 17);
  const held = rasters(frames);
  const apart = rasters(spooled(frames));

  it("mean and noise of a role, with and without outliers", () => {
    for (const options of [{}, { outlierSigma: Number.POSITIVE_INFINITY }]) {
      const result = averageFrames(held, options);
      expect(averageFrames(apart, options)).toEqual(result);
      expect(result.outliers > 0).toBe(options.outlierSigma === undefined);
    }
  });

  it("places and odd frames, whether cells are kept or made anew", () => {
    const members = findJolts(held);
    expect(members.odd.map(({ index }) => index)).toContain(17);
    expect(findJolts(apart)).toEqual(members);
    const places = placesOf(cellsOf(held));
    expect(placesOf(cellsOf(apart, 0))).toEqual(places);
  });

  it("noise of each pixel with a course taken out", () => {
    const course = Float64Array.from({ length: 40 }, (_, k) => Math.log1p(k));
    const group = { offsetsK: new Float64Array(40), courses: [course] };
    const result = temporalNoise([{ ...group, frames: held }], 0.001);
    expect(result).not.toBeNull();
    expect(temporalNoise([{ ...group, frames: apart }], 0.001)).toEqual(result);
  });

  it("levels, rhythm and amplitudes of cycled power", () => {
    const sequence = makeFrames(60, 7.3);
    const [inMemory, inFile] = [rasters(sequence), rasters(spooled(sequence))];
    const levels = frameLevels(inMemory, null);
    expect(frameLevels(inFile, null)).toEqual(levels);
    const found = searchCycle(inMemory);
    expect(found!.periodFrames).toBeCloseTo(7.3, 1);
    expect(searchCycle(inFile)).toEqual(found);
    const basis = cycleBasis(60, 7.3);
    expect(demodulateCycle(inFile, levels, basis)).toEqual(demodulateCycle(inMemory, levels, basis));
  });

  it.each([
    ["a burst", { powered: frames, rateHz: 10 }],
    ["frames of one state", { powered: frames }],
    ["cycled power", { powered: makeFrames(60, 7.3), rateHz: 10, cycleS: 0.73 }],
    ["cycled power, period unknown", { powered: makeFrames(60, 7.3), rateHz: 10, cycleS: "find" as const }],
  ])("the findings of %s", (what, given) => {
    const baseline = makeFrames(6, "still");
    const input: AnalysisInput = { baseline, ...given };
    const before = analyse(input);
    const after = analyse({ ...input, baseline: spooled(baseline), powered: spooled(given.powered) });
    const { hotspots } = before.findings;
    expect(hotspots.length).toBeGreaterThan(0);
    // The course of a spot is measured in the frames one by one.
    if (what === "a burst") expect(hotspots[0]!.course).toHaveLength(39);
    expect(after).toEqual(before);
  });
});
