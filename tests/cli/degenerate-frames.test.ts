// Frames at the edge of what a frame is, through the command: what is printed is true, and no NaN is in any JSON.
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { findingsSchema } from "../../src/findings/findings-schema.js";
import { badNumbers } from "../unit/findings/make-attempt.js";
import { FRAME, makeFolder, makeFrame, SPOT, writeCsv } from "./make-frames.js";
import { runCli } from "./run-cli.js";

let folder: string;
let remove: () => Promise<void>;
beforeAll(async () => {
  ({ folder, remove } = await makeFolder());
});
afterAll(() => remove());

/** Run `find` on a pair of matrices. */
async function find(baseline: readonly (readonly number[])[], powered: readonly (readonly number[])[]) {
  const [off, on] = [join(folder, "off.csv"), join(folder, "on.csv")];
  await writeCsv(off, baseline);
  await writeCsv(on, powered);
  return runCli(["find", "--baseline", off, "--powered", on, "--json"]);
}

/** The same, for pairs that must come to findings. */
async function findings(baseline: readonly (readonly number[])[], powered: readonly (readonly number[])[]) {
  const run = await find(baseline, powered);
  expect([run.status, run.err]).toEqual([0, expect.not.stringContaining("E_")]);
  expect(run.out).not.toMatch(/\b(?:NaN|Infinity|undefined)\b/);
  const value = JSON.parse(run.out);
  expect(badNumbers(value)).toEqual([]);
  return findingsSchema.parse(value);
}

const { width: W, height: H } = FRAME;
const cold = makeFrame(11, 0);
const hot = makeFrame(12, 2.4);
const map = (
  rows: readonly (readonly number[])[],
  change: (value: number, x: number, y: number) => number,
): number[][] => rows.map((row, y) => row.map((value, x) => change(value, x, y)));
const near = (x: number, y: number, radius: number): boolean => Math.hypot(x - SPOT.x, y - SPOT.y) < radius;
const spot = (x: number, y: number, atX: number, atY: number, peakK: number): number =>
  peakK * Math.exp(-((x - atX) ** 2 + (y - atY) ** 2) / 18);

describe("frames that are none", () => {
  it.each([
    ["1×1", [[25]], "E_TEXT_MATRIX"],
    ["1×N", [[25, 26, 27.5, 28]], "E_TEXT_MATRIX"],
    ["N×1", [[25], [26], [27.5]], "E_TEXT_MATRIX"],
    [
      "2×2",
      [
        [25, 26.5],
        [27, 28],
      ],
      "E_FRAME_SIZE",
    ],
    ["no reading at all", map(cold, () => Number.NaN), "E_TEXT_MATRIX|E_FRAME_EMPTY"],
    [
      "infinite values",
      map(cold, (value, x) => (x === 9 ? Number.POSITIVE_INFINITY : value)),
      "E_FRAME_INFINITE",
    ],
    ["absolute zero", map(cold, () => -273.15), "E_FRAME_RANGE"],
  ])("%s: refused with a clear word, and no stack", async (_, rows, code) => {
    const run = await find(rows, rows);
    expect(run.status).toBe(2);
    expect(run.out).toBe("");
    expect(run.err).toMatch(new RegExp(`^(?:error: )?(?:${code}): .{20,}`, "m"));
    expect(run.err).not.toMatch(/\n\s+at /);
  });
});

describe("frames that say nothing", () => {
  it.each([
    ["constant", map(cold, () => 25.5), map(cold, () => 25.5)],
    ["constant, then warmer everywhere", map(cold, () => 25.5), map(cold, () => 31.25)],
    ["the same frame twice", cold, cold],
  ])("%s: nothing hot, and it is said", async (_, off, on) => {
    const found = await findings(off, on);
    expect([found.hotspots, found.suspects]).toEqual([[], []]);
    expect(found.verdict).toMatch(/^Nothing on the board warmed by more than/);
  });
});

describe("frames that say something in spite of it", () => {
  const nearest = (found: Awaited<ReturnType<typeof findings>>, x: number, y: number): number =>
    Math.min(Infinity, ...found.hotspots.map(({ sourcePx }) => Math.hypot(sourcePx[0] - x, sourcePx[1] - y)));

  it("an island without readings over the hot spot: no place inside it is claimed exactly", async () => {
    const found = await findings(
      cold,
      map(hot, (value, x, y) => (near(x, y, 4) ? Number.NaN : value)),
    );
    // The flanks of the spot are seen as spots at the island's rim, whose error must hold the true place.
    expect(found.hotspots.length).toBeGreaterThan(0);
    for (const { sourcePx, sourceSigmaPx, flags } of found.hotspots) {
      expect(Math.hypot(sourcePx[0] - SPOT.x, sourcePx[1] - SPOT.y)).toBeLessThan(2 * sourceSigmaPx);
      expect(flags).toContain("noReading");
    }
  });

  it("an island that hides the hot spot whole: where heat could not be looked for is said", async () => {
    const found = await findings(
      cold,
      map(hot, (value, x, y) => (near(x - 3, y, 7) ? Number.NaN : value)),
    );
    expect(found.notes.map(({ code }) => code)).toContain("N_NO_READING");
    expect((await findings(cold, hot)).notes.map(({ code }) => code)).not.toContain("N_NO_READING");
  });

  it("a hot spot that the scale cuts off: the place stays, and its peak is said to be a lower bound", async () => {
    const found = await findings(
      cold,
      map(makeFrame(12, 30), (value) => Math.min(value, 35)),
    );
    expect(nearest(found, SPOT.x, SPOT.y)).toBeLessThan(1.5);
    expect(found.hotspots[0]!.flags).toContain("saturated");
    expect((await findings(cold, hot)).hotspots[0]!.flags).not.toContain("saturated");
  });

  it("a hot spot on the frame's edge and one in its corner are found there", async () => {
    const edge = await findings(
      cold,
      map(cold, (value, x, y) => value + spot(x, y, 0, 25, 6)),
    );
    expect(nearest(edge, 0, 25)).toBeLessThan(3);
    const corner = await findings(
      cold,
      map(cold, (value, x, y) => value + spot(x, y, W - 1, H - 1, 6)),
    );
    expect(nearest(corner, W - 1, H - 1)).toBeLessThan(3);
  });

  it("two hot spots that are alike are both found, and neither is left out for the other", async () => {
    const found = await findings(
      cold,
      map(makeFrame(13, 0), (value, x, y) => value + spot(x, y, 14, 14, 3) + spot(x, y, 46, 33, 3)),
    );
    expect(nearest(found, 14, 14)).toBeLessThan(1);
    expect(nearest(found, 46, 33)).toBeLessThan(1);
    const peaks = found.hotspots.slice(0, 2).map(({ peakRiseK }) => peakRiseK);
    expect(Math.abs(peaks[0]! / peaks[1]! - 1)).toBeLessThan(0.15);
  });

  it("what is written into a folder holds no NaN either", async () => {
    const [off, on, out] = [join(folder, "off.csv"), join(folder, "on.csv"), join(folder, "out")];
    await writeCsv(
      off,
      map(cold, (value, x) => (x % 7 === 3 ? Number.NaN : value)),
    );
    await writeCsv(
      on,
      map(hot, (value, x, y) => (near(x, y, 2) ? Number.NaN : value)),
    );
    expect((await runCli(["find", "--baseline", off, "--powered", on, "--out", out])).status).toBe(0);
    expect(badNumbers(JSON.parse(await readFile(join(out, "findings.json"), "utf8")))).toEqual([]);
    expect(await readFile(join(out, "report.html"), "utf8")).not.toMatch(
      />[^<]*\b(?:NaN|undefined|Infinity)\b/,
    );
  });
});
