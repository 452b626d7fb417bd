// Heat, reflections and a nudge put into real frames of an uncooled array (see ../shared/real-frames/README.md): noise,
// fixed pattern and drift are measured ones; board, plate and optics are those of `real-heat-scene.ts`.
import { beforeAll, describe, expect, it } from "vitest";
import { createRaster } from "../../src/core/raster.js";
import { findHotspots } from "../../src/findings/find-hotspots.js";
import type { Findings } from "../../src/findings/findings-schema.js";
import { type Frame, frameFromRaster } from "../../src/frames/frame.js";
import { readFrames } from "../../src/read/read-frames.js";
import { makeRandom, type Random } from "../simulate/random.js";
import {
  ABOVE,
  board,
  HIGH,
  LEFT,
  PARTS,
  SCALE,
  type SceneOf,
  scenePicture,
  view,
  WIDE,
} from "./real-heat-scene.js";
import { sharedFolder } from "./shared-folder.js";

const REAL = sharedFolder("real-frames");
/** Parts that may heat: a mirror's own warmth is not seen. */
const FAULTS = PARTS.filter(([, , , , , , mirrors]) => mirrors < 0.5);

describe.skipIf(REAL.missing)(`heat in real frames of an uncooled array${REAL.title}`, () => {
  let real: Frame[] = [];
  beforeAll(async () => {
    ({ frames: real } = await readFrames([`${REAL.path}/uniform/*.png`], {
      scale: { lowC: 0, highC: 1143.717 },
    }));
  });

  /** A window of real frames, turned over at random, with a scene in it; °C of a room. */
  function windowOf(random: Random): (frame: number, scene: Float64Array) => Frame {
    const [left, above] = [random.integer(0, 320 - WIDE), random.integer(0, 240 - HIGH)];
    const [overX, overY] = [random.chance(0.5), random.chance(0.5)];
    return (frame, scene) => {
      const from = real[frame]!.raster;
      const raster = createRaster("degC", WIDE, HIGH);
      for (let y = 0, i = 0; y < HIGH; y++) {
        for (let x = 0; x < WIDE; x++, i++) {
          const u = left + (overX ? WIDE - 1 - x : x);
          const v = above + (overY ? HIGH - 1 - y : y);
          raster.data[i] = from.data[v * from.width + u]! - 58 + scene[i]!;
        }
      }
      return frameFromRaster(raster);
    };
  }

  /** Baseline of one real frame, powered of another, later one. */
  function look(
    random: Random,
    hot: SceneOf["hot"],
    mirroredK: number,
  ): { findings: Findings; nudge: readonly [number, number] } {
    const cut = windowOf(random);
    const off = random.integer(0, 14);
    const on = random.integer(off + 1, 15);
    const angle = random.uniform(0, 2 * Math.PI);
    const size = random.uniform(0.3, 2.5);
    const nudge = [size * Math.cos(angle), size * Math.sin(angle)] as const;
    const [shield, plug, mask] = [random.uniform(0.5, 1), random.uniform(-1, 1), random.uniform(-0.4, 0.4)];
    const roomK = (ref: string): number => mirroredK * (ref === "SH1" ? shield : ref === "J1" ? plug : mask);
    const idle = scenePicture({ nudge: [0, 0], roomK: () => 0, hot: null });
    const findings = findHotspots({
      baseline: [cut(off, idle)],
      powered: [cut(on, scenePicture({ nudge, roomK, hot }))],
      board,
      view,
    });
    return { findings, nudge };
  }

  // The threshold states one false hotspot in a hundred frames; the project holds 98 of 100 such pairs clean. Two
  // alarms in 12 would come by that in one run of forty; sixteen frames give pairs that share their noise.
  it("unpowered, nudged, with changed mirrors: no heat, and the board is where it was put", {
    timeout: 300_000,
  }, () => {
    const random = makeRandom("real frames without heat");
    const alarms: string[] = [];
    const errors: number[] = [];
    for (let k = 0; k < 12; k++) {
      const { findings, nudge } = look(random, null, random.uniform(1, 6));
      for (const { peakPx, peakRiseK } of findings.hotspots) alarms.push(`${k}: ${peakRiseK} K at ${peakPx}`);
      const { dxPx, dyPx, trusted } = findings.alignment;
      expect(trusted, `pair ${k}`).toBe(true);
      errors.push(Math.hypot(dxPx - nudge[0], dyPx - nudge[1]));
    }
    expect(alarms.length, alarms.join("; ")).toBeLessThanOrEqual(1);
    errors.sort((a, b) => a - b);
    // The bars for nudged boards: 0.05 px in the middle, 0.3 px for 95 of 100.
    expect(errors[6]).toBeLessThan(0.05);
    expect(errors[11]).toBeLessThan(0.3);
  });

  // 98 of 100 is the bar of nudged boards: of 14 two may be wrong (one run of twenty-five would have more).
  it("powered and nudged: the right part comes first, its place within what is stated", {
    timeout: 300_000,
  }, () => {
    const random = makeRandom("real frames with heat");
    const wrong: string[] = [];
    const z: number[] = [];
    for (let k = 0; k < 14; k++) {
      const part = FAULTS[k % FAULTS.length]!;
      // Peaks of 9 to 40 times the noise of one pixel, 37 mK; a part's own rise is as high as what it gives the board,
      // or half.
      const peakK = random.logUniform(0.33, 1.5);
      const body = random.uniform(0.3, 0.5);
      const hot = { part, hillK: (1 - body) * peakK, bodyK: body * peakK, spreadMm: random.uniform(3, 9) };
      const { findings } = look(random, hot, 0.3);
      const first = findings.suspects[0];
      if (first?.ref !== part[0])
        wrong.push(`${part[0]} at ${peakK.toFixed(2)} K: ${first?.ref ?? "nothing"}`);
      const spot = findings.hotspots[0];
      if (spot === undefined || first?.ref !== part[0]) continue;
      z.push((spot.sourcePx[0] - (LEFT + SCALE * part[1])) / spot.sourceSigmaPx);
      z.push((spot.sourcePx[1] - (ABOVE + SCALE * part[2])) / spot.sourceSigmaPx);
    }
    expect(wrong.length, wrong.join("; ")).toBeLessThanOrEqual(2);
    z.sort((a, b) => Math.abs(a) - Math.abs(b));
    // Half of normal errors lie within 0.67 of their σ: of some thirty, within 0.4 to 1.0 but for one run of a hundred.
    expect(Math.abs(z[z.length >> 1]!)).toBeLessThan(1);
  });
});
