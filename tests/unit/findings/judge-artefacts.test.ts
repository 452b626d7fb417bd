import { describe, expect, it } from "vitest";
import { placeView } from "../../../src/board/place-view.js";
import { createRaster } from "../../../src/core/raster.js";
import { ANALYSE_DEFAULTS } from "../../../src/findings/analyse-options.js";
import { findHotspots } from "../../../src/findings/find-hotspots.js";
import {
  judgeArtefacts,
  looksLikeEdge,
  mirrorLimit,
  mirrorLimits,
  strangeRises,
  strangest,
} from "../../../src/findings/judge-artefacts.js";
import { prepareViews } from "../../../src/findings/prepare-views.js";
import { frameFromRaster } from "../../../src/frames/frame.js";
import { expectContract } from "./expect-contract.js";
import { type AttemptRecipe, BOARD, makeAttempt, VIEW } from "./make-attempt.js";

/** A bare metal can over U2's place. */
const WITH_CAN = {
  ...BOARD,
  regions: BOARD.regions.map((r) =>
    r.ref === "U2" ? { ...r, ref: "SH1", kind: "shield" as const, finish: "bare-metal" as const } : r,
  ),
};

describe("what is no heat", () => {
  /** The powered frames with something added to each pixel. */
  const changed = (
    recipe: Partial<AttemptRecipe>,
    addK: (xMm: number, yMm: number, x: number, y: number) => number,
  ) => {
    const { baseline, powered } = makeAttempt(recipe);
    return {
      baseline,
      powered: powered.map(({ raster }) =>
        frameFromRaster(
          createRaster(
            "degC",
            128,
            96,
            raster.data.map((v, i) => {
              const x = i % 128;
              const y = Math.floor(i / 128);
              return v + addK((x - 9.3) / 2.7, (y - 14.8) / 2.7, x, y);
            }),
          ),
        ),
      ),
      view: VIEW,
    };
  };

  it("a warm hand beside the board is outside, and no hotspot", () => {
    const input = changed(
      { seed: "hand" },
      (_mmX, _mmY, x, y) => 6 * Math.exp(-((x - 60) ** 2 + (y - 91) ** 2) / 18),
    );
    const findings = findHotspots({ ...input, board: BOARD });
    expectContract(findings);
    expect(findings.hotspots).toEqual([]);
    const outside = findings.artefacts.filter((a) => a.kind === "outside");
    expect(outside.length).toBeGreaterThan(0);
    expect(Math.hypot(outside[0]!.px[0] - 60, outside[0]!.px[1] - 91)).toBeLessThan(4);
    for (const { reason } of findings.artefacts) expect(reason.length).toBeGreaterThan(10);
  });

  it("a change that ends at the edge of a bare metal can is the room in a mirror, and accuses nobody", () => {
    // The can shows 2 to 4.1 K more from pixel to pixel of its face, with not a trace of heat around it.
    const input = changed({ seed: "can" }, (x, y) =>
      x > 23 && x < 30 && y > 13 && y < 19 ? 2 + 0.3 * (x - 23) : 0,
    );
    const findings = findHotspots({ ...input, board: WITH_CAN });
    expectContract(findings);
    expect(findings.artefacts.map(({ kind }) => kind)).toContain("reflection");
    for (const { probability } of findings.suspects) expect(probability).toBeLessThan(0.5);
    for (const { sourceMm, nearest } of findings.hotspots) {
      // Where the two can't be told apart: a hotspot of low probability.
      expect(sourceMm).not.toBeNull();
      for (const { probability } of nearest) expect(probability).toBeLessThan(0.5);
    }
  });

  it("a change that no mirrored person makes is not called the mirrored room", () => {
    const onCan = (changeK: number) => {
      const input = changed({ seed: "can" }, (x, y) => (x > 23 && x < 30 && y > 13 && y < 19 ? changeK : 0));
      const { artefacts, notes } = findHotspots({ ...input, board: WITH_CAN });
      const reasons = artefacts.flatMap(({ kind, reason }) => (kind === "reflection" ? [reason] : []));
      return { reasons, strange: notes.some(({ code }) => code === "N_RISE_STRANGE") };
    };
    const [hand, iron] = [onCan(6), onCan(60)];
    expect(hand.reasons[0]).toContain("so it mirrors the room");
    expect(hand.strange).toBe(false);
    expect(iron.reasons[0]).toContain("so it mirrors something hot, or is hardly joined to the board");
    expect(iron.strange).toBe(true);
  });

  it("a dull face is not said to mirror more of the room than its finish can", () => {
    const changeK = 6;
    const input = changed({ seed: "dull" }, (x, y) => (x > 23 && x < 30 && y > 13 && y < 19 ? changeK : 0));
    const [seen] = prepareViews(input, { ...ANALYSE_DEFAULTS, toolVersion: "" }, () => {});
    // Epoxy moulding compounds send out 0.9 or more: of the 16 K of a person against a room they throw back 1.6 K.
    const limitOn = (finish: "moulded" | "bare-metal") =>
      mirrorLimits(placeView(VIEW), {
        ...BOARD,
        regions: BOARD.regions.map((r) => (r.ref === "U2" ? { ...r, finish } : r)),
      });
    for (const onFace of [true, false]) {
      const judged = (finish: "moulded" | "bare-metal") => {
        const limitAt = limitOn(finish);
        const { patches } = seen!.detected;
        const shiny = new Map(onFace ? patches.map(({ peak }) => [peak, "U2"]) : []);
        const artefacts = judgeArtefacts(seen!.pair, patches, () => 100, null, shiny, null, limitAt);
        return { reason: artefacts[0]!.reason, strange: strangest(strangeRises(artefacts, limitAt)) };
      };
      const dull = judged("moulded");
      expect(dull.reason).toContain("U2, with its finish, mirrors 1.6 K of a person at most");
      expect(dull.strange?.riseK).toBeGreaterThan(0.5 * changeK);
      const shiny = judged("bare-metal");
      expect(shiny.reason).toMatch(/it mirrors the room|something mirrored in the surface/);
      expect(shiny.strange).toBeNull();
    }
  });

  it("takes the limit from a told emissivity, less what tables differ by, and from nothing that is not told", () => {
    expect(mirrorLimit({ ref: "U1", emissivity: 0.95 })?.mostK).toBeCloseTo(1.6, 6);
    expect(mirrorLimit({ ref: "U1", finish: "ceramic" })?.mostK).toBeCloseTo(1.6, 6);
    expect(mirrorLimit({ ref: "U1", emissivity: 0.02 })?.mostK).toBe(16);
    expect(mirrorLimit({ ref: "U1" })).toBeNull();
  });

  it("a large change where the map names nothing, and that ends as no heat does, is listed", () => {
    const input = changed({ seed: "patch" }, (x, y) => (Math.hypot(x - 17, y - 8) < 2 ? 60 : 0));
    const { artefacts, notes, hotspots, verdict } = findHotspots({ ...input, board: BOARD });
    expect(hotspots).toEqual([]);
    const large = artefacts.find(({ riseK }) => riseK !== null && riseK > 50);
    expect(large?.reason).toContain("mirrors something hot, or is hardly joined to the board");
    expect(notes.map(({ code }) => code)).toContain("N_RISE_STRANGE");
    expect(verdict).toContain("but not as heat in this board does");
  });

  it("a change of which the fit left no pixel to tell is listed, and one that it explains is not", () => {
    const input = changed({ seed: "patch" }, (x, y) => 60 * Math.exp(-((x - 15) ** 2 + (y - 7) ** 2) / 8));
    const [seen] = prepareViews(input, { ...ANALYSE_DEFAULTS, toolVersion: "" }, () => {});
    const { patches } = seen!.detected;
    const judged = (z: number) => judgeArtefacts(seen!.pair, patches, () => z, null, new Map(), null);
    expect(judged(0).filter(({ kind }) => kind === "reflection")).toEqual([]);
    for (const z of [Number.NaN, 100]) {
      const [one] = judged(z).filter(({ kind }) => kind === "reflection");
      expect(one?.riseK).toBeGreaterThan(50);
      expect(one?.reason).toContain("does not spread as heat would");
    }
  });

  it("a fault beside such a can is still found", () => {
    const input = changed({ seed: "can and fault", watts: { C1: 0.05 } }, (x, y) =>
      x > 23 && x < 30 && y > 13 && y < 19 ? 2 : 0,
    );
    const findings = findHotspots({ ...input, board: WITH_CAN });
    expectContract(findings);
    expect(findings.suspects[0]!.ref).toBe("C1");
  });
});

describe("what a small shift explains", () => {
  const { baseline, powered } = makeAttempt({ seed: "edge", watts: { U2: 0.2 } });
  const input = { baseline, powered, board: BOARD, view: VIEW };
  const [seen] = prepareViews(input, { ...ANALYSE_DEFAULTS, toolVersion: "" }, () => {});
  const { pair, detected } = seen!;
  const scene = pair.alignment.separated.scene;
  const patch = detected.patches[0]!;
  /** A change that is the scene's own gradient along x, moved by so much. */
  const moved = (shiftPx: number, uncertaintyPx: number, trusted = true): typeof pair => ({
    ...pair,
    alignment: { ...pair.alignment, uncertaintyPx, trusted },
    smoothRise: createRaster(
      "K",
      scene.width,
      scene.height,
      scene.data.map((_, i) => (shiftPx * (scene.data[i + 1]! - scene.data[i - 1]!)) / 2),
    ),
  });

  it.each([
    // Aligned to 0.015 px: interpolation and pattern leave 0.2 px, but 0.43 px are none of theirs.
    [0.2, 0.015, true, true],
    [0.43, 0.015, true, false],
    // Less well aligned, 0.43 px may be left; beyond 1.5 px nothing is.
    [0.43, 0.1, true, true],
    [1.4, 0.1, true, false],
    [1.4, 0.3, true, true],
    [1.6, 0.3, true, false],
    // Nothing is known of an alignment that is not trusted.
    [1.4, 0.015, false, true],
    [1.6, 0.015, false, false],
  ] as const)(
    "of %d px, with an alignment good to %d px, is an edge if that can be left",
    (shift, sigma, trusted, edge) => {
      expect(looksLikeEdge(moved(shift, sigma, trusted), patch, true)).toBe(edge);
    },
  );

  it("without a board is an edge up to 1.5 px, however good the alignment: no fit tells heat from it", () => {
    expect(looksLikeEdge(moved(1.4, 0.015), patch, false)).toBe(true);
    expect(looksLikeEdge(moved(1.6, 0.015), patch, false)).toBe(false);
  });

  it("is listed as drift where the fit leaves nothing of a change that no source makes", () => {
    const still = moved(0.43, 0.015);
    const kinds = (heatShare: number) => {
      const sized = Math.abs(still.smoothRise.data[patch.peak]!);
      const data = still.smoothRise.data.map((k) => k * Math.sign(still.smoothRise.data[patch.peak]!));
      const change = { ...still, smoothRise: { ...still.smoothRise, data } };
      const heatK = () => heatShare * sized;
      const artefacts = judgeArtefacts(
        change,
        [patch],
        () => 0,
        null,
        new Map(),
        null,
        () => null,
        heatK,
      );
      return artefacts.flatMap(({ kind }) => (kind === "pixel" ? [] : [kind]));
    };
    expect(kinds(0.2)).toEqual(["drift"]);
    expect(kinds(0.9)).toEqual([]);
  });
});

describe("what is heat although a shift could be fitted to it", () => {
  it("a wide face that heats strongly is a hotspot, wherever the frame is cut", () => {
    // On a face without structure of its own, a shift by many pixels explains two thirds of the change; no edge was
    // moved by so much. Seed and cut are one where it did.
    const { baseline, powered } = makeAttempt({ seed: "cut 4", watts: { U2: 0.2 } });
    const cut = ({ raster }: (typeof baseline)[number]) =>
      frameFromRaster(
        createRaster(
          "degC",
          112,
          82,
          Float32Array.from(
            { length: 112 * 82 },
            (_, i) => raster.data[(Math.floor(i / 112) + 7) * 128 + (i % 112) + 8]!,
          ),
        ),
      );
    const findings = findHotspots({ baseline: baseline.map(cut), powered: powered.map(cut) });
    const [x, y] = findings.hotspots[0]!.sourcePx;
    // Its face spans 18.9 × 16.2 px about this place; a fifth of that is far less than to a neighbour.
    expect(Math.hypot(x + 8 - (9.3 + 2.7 * 26.5), y + 7 - (14.8 + 2.7 * 16))).toBeLessThan(3.5);
    expect(findings.artefacts.filter(({ kind }) => kind === "edge")).toEqual([]);
  });
});
