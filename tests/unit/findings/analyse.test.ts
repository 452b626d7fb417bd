import { describe, expect, it } from "vitest";
import { createRaster } from "../../../src/core/raster.js";
import { analyse } from "../../../src/findings/analyse.js";
import { findHotspots } from "../../../src/findings/find-hotspots.js";
import { frameFromRaster } from "../../../src/frames/frame.js";
import { expectContract } from "./expect-contract.js";
import { BOARD, makeAttempt, VIEW } from "./make-attempt.js";

describe("findHotspots as a function", () => {
  const attempt = makeAttempt({ watts: { C1: 0.05, U2: 0.2 }, seed: "function" });
  const input = { ...attempt, board: BOARD, view: VIEW, volts: 1, amps: 0.25 };

  it("equal input gives equal bytes, and nothing of the input is changed", () => {
    const before = JSON.stringify([BOARD, VIEW]);
    const pixels = [...input.baseline, ...input.powered].map((f) => Float32Array.from(f.raster.data));
    const first = JSON.stringify(findHotspots(input));
    expect(JSON.stringify(findHotspots(input))).toBe(first);
    expect([...input.baseline, ...input.powered].map((f) => f.raster.data)).toEqual(pixels);
    expect(JSON.stringify([BOARD, VIEW])).toBe(before);
  });

  it("keeps what it was given: files, volts, amps, notes of the readers, resolved options", () => {
    const read = { code: "N_UNIT_ASSUMED", severity: "info", text: "read as °C" } as const;
    const findings = findHotspots(
      { ...input, notes: [read], boardFile: "board.json" },
      { falseAlarmsPerFrame: 0.05 },
    );
    expect(findings.inputs).toMatchObject({ volts: 1, amps: 0.25, rateHz: null, board: "board.json" });
    expect(findings.inputs.baseline).toEqual([
      { file: null, sha256: null, width: 128, height: 96 },
      { file: null, sha256: null, width: 128, height: 96 },
    ]);
    expect(findings.notes[0]).toEqual(read);
    expect(findings.options).toMatchObject({ falseAlarmsPerFrame: 0.05 });
    expect(findings.threshold.falseAlarmsPerFrame).toBe(0.05);
  });

  it("the same as analyse, whose pictures have the frame's shape and mark each hotspot", () => {
    const analysis = analyse(input);
    expect(analysis.findings).toEqual(findHotspots(input));
    for (const raster of [analysis.baseline, analysis.rise, analysis.smoothRise, analysis.significance]) {
      expect([raster.width, raster.height]).toEqual([128, 96]);
    }
    expect([analysis.rise.unit, analysis.significance.unit]).toEqual(["K", "sigma"]);
    for (const { rank, peakPx, areaPx } of analysis.findings.hotspots) {
      expect(areaPx).toBeGreaterThan(0);
      expect(analysis.hotspotRanks[peakPx[1] * 128 + peakPx[0]]).toBe(rank);
      expect(analysis.hotspotRanks.filter((r) => r === rank)).toHaveLength(areaPx);
    }
  });

  it("hands constants of the fit on to what fits the sources, and to what lists them", () => {
    expect(findHotspots(input).suspects.map(({ ref }) => ref)).toEqual(["U2", "C1"]);
    // What was fed in would be looked for all the same.
    const unfed = { ...input, volts: null, amps: null };
    expect(findHotspots(unfed, { fit: { leastChance: 1.1 } }).suspects).toEqual([]);
    const [byPower] = findHotspots(input, { fit: { leastChance: 1.1 } }).hotspots;
    expect(byPower!.flags).toContain("namedByPower");
    // Not listed where they lie in no significant patch, and ten million times the evidence is asked of them there.
    const quiet = { ...makeAttempt({ watts: { U2: 0.004 }, noiseK: 0.02, seed: "quiet" }) };
    const seen = { ...unfed, ...quiet };
    expect(findHotspots(seen).hotspots).toHaveLength(1);
    expect(
      findHotspots(seen, { falseAlarmsPerFrame: 1e-30, fit: { quietEvidence: 1e7 } }).hotspots,
    ).toHaveLength(0);
    expect(
      findHotspots(seen, { falseAlarmsPerFrame: 1e-30, fit: { quietEvidence: 0 } }).hotspots,
    ).toHaveLength(1);
  });

  it("an even change of all powered readings leaves the findings", () => {
    const shifted = input.powered.map(({ raster }) =>
      frameFromRaster(
        createRaster(
          "degC",
          128,
          96,
          raster.data.map((v) => v + 0.75),
        ),
      ),
    );
    const [plain, warmer] = [findHotspots(input), findHotspots({ ...input, powered: shifted })];
    expect(warmer.suspects.map((s) => s.ref)).toEqual(plain.suspects.map((s) => s.ref));
    plain.hotspots.forEach((hotspot, k) => {
      const other = warmer.hotspots[k]!;
      // Single precision at 30 °C is 2e-6 K; a rise of kelvins, through a fit: a thousandth.
      expect(Math.abs(other.peakRiseK / hotspot.peakRiseK - 1)).toBeLessThan(1e-3);
      expect(Math.abs(other.powerW! / hotspot.powerW! - 1)).toBeLessThan(5e-3);
      expect(
        Math.hypot(other.sourcePx[0] - hotspot.sourcePx[0], other.sourcePx[1] - hotspot.sourcePx[1]),
      ).toBeLessThan(0.01);
    });
  });

  it("a frame against itself: nothing, with and without a board", () => {
    for (const frames of [input.baseline, input.powered]) {
      const pair = { baseline: frames, powered: frames };
      for (const findings of [findHotspots(pair), findHotspots({ ...pair, board: BOARD, view: VIEW })]) {
        expectContract(findings);
        expect(findings.hotspots).toEqual([]);
        expect(findings.artefacts).toEqual([]);
        expect([findings.alignment.dxPx, findings.alignment.dyPx].map(Math.abs).every((d) => d < 0.01)).toBe(
          true,
        );
      }
    }
  });
});
