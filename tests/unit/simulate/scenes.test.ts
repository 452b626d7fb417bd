import { describe, expect, it } from "vitest";
import { boardMapSchema, viewSchema } from "../../../src/board/board-schema.js";
import { makeScene } from "../../simulate/make-scene.js";
import { gapBetween, isInside } from "../../simulate/polygons.js";
import { makeRandom } from "../../simulate/random.js";
import { randomBoard } from "../../simulate/random-board.js";
import { KINDS, type Kind, type Scene, type Truth } from "../../simulate/scene.js";

const SEEDS = [7001, 7002];

describe.each(KINDS)("a scene of kind %s", (kind) => {
  const scenes = SEEDS.map((seed) => makeScene(kind, seed));

  it("is the same each time, and another for another seed", () => {
    const again = makeScene(kind, SEEDS[0]!);
    expect(again.powered[0]!.data).toEqual(scenes[0]!.powered[0]!.data);
    expect(again.truth.transform).toEqual(scenes[0]!.truth.transform);
    expect(scenes[1]!.board.outline).not.toEqual(scenes[0]!.board.outline);
  });

  it("gives a map and a view that fit their schemas", () => {
    for (const scene of scenes) {
      boardMapSchema.parse(scene.board);
      viewSchema.parse(scene.view);
      expect(new Set(scene.board.regions.map((region) => region.ref)).size).toBe(scene.board.regions.length);
      expect(scene.board.plate !== undefined).toBe(scene.truth.plate.known);
    }
  });

  it("has frames of one size, with numbers in them", () => {
    for (const scene of scenes) {
      for (const frame of [...scene.baseline, ...scene.powered]) {
        expect([frame.width, frame.height]).toEqual([scene.view.frame.width, scene.view.frame.height]);
        expect(frame.data.every(Number.isFinite)).toBe(true);
      }
    }
  });

  it("has the sources, the motion and the strength that its kind asks for", () => {
    for (const { truth, view, powered, rateHz, board } of scenes) {
      const faults = truth.sources.filter((source) => source.fault);
      const expected = kind.startsWith("unpowered") ? 0 : kind === "near-parts" ? 2 : 1;
      if (kind === "onsets") expect([1, 2]).toContain(faults.length);
      else expect(faults.length).toBe(expected);
      const warm = truth.sources.filter((source) => !source.fault);
      if (kind === "warm-processor") {
        expect(warm.length).toBeGreaterThan(0);
        const warmest = Math.max(...warm.map((source) => source.watts));
        expect(warmest).toBeGreaterThan(faults[0]!.watts);
      } else if (kind !== "onsets" && kind !== "cycled") expect(warm).toEqual([]);
      for (const source of faults) {
        if (kind !== "two-sides") expect(source.visible).toBe(kind !== "behind");
        expect(source.side === view.side).toBe(source.visible);
        const region = board.regions.find((one) => one.ref === source.ref);
        expect(region === undefined).toBe(kind === "unlisted");
        expect(source.listed).toBe(kind !== "unlisted");
        expect(region?.normallyWarm ?? false).toBe(false);
        if (kind !== "onsets") expect(source.onsetS).toBe(0);
      }
      const { dxPx, dyPx, rotationDeg } = truth.transform;
      expect(Math.hypot(dxPx, dyPx)).toBeLessThanOrEqual(3);
      expect(Math.abs(rotationDeg)).toBeLessThanOrEqual(0.5);
      if (kind === "still") expect([dxPx, dyPx, rotationDeg]).toEqual([0, 0, 0]);
      if (kind === "nudged" || kind.startsWith("unpowered"))
        expect(Math.hypot(dxPx, dyPx)).toBeGreaterThan(0);
      if (kind === "faint") {
        expect(truth.peakApparentRiseK / truth.noise.differenceK).toBeGreaterThan(5);
        expect(truth.peakApparentRiseK / truth.noise.differenceK).toBeLessThan(9);
      }
      if (kind === "reflections") expect(truth.reflectionChangeK).toBeGreaterThan(truth.peakApparentRiseK);
      if (kind === "burst" || kind === "onsets") {
        expect(rateHz).toBeGreaterThanOrEqual(1);
        expect(powered.length).toBe(truth.timesS.length);
        expect(powered.length).toBeGreaterThanOrEqual(8);
        expect(truth.timesS[1]! - truth.timesS[0]!).toBeCloseTo(1 / rateHz!, 9);
      } else if (kind !== "cycled") expect(rateHz).toBeNull();
    }
  });

  it("is a run with a switched supply, or has a second side, where its kind asks for it and nowhere else", () => {
    for (const { truth, view, powered, rateHz, cycleS, otherSide } of scenes) {
      expect(cycleS !== null).toBe(kind === "cycled");
      expect(truth.cycle !== null).toBe(kind === "cycled");
      if (truth.cycle !== null) {
        // The period is told to the hundredth of a second.
        expect(Math.abs(truth.cycle.periodS - cycleS!)).toBeLessThan(0.0051);
        expect(powered.length).toBeGreaterThanOrEqual(200);
        expect(powered.length / rateHz! / cycleS!).toBeGreaterThan(4.9);
        const noiseK = truth.noise.sigmaK * Math.sqrt(2 / powered.length);
        expect(truth.cycle.amplitudeK / noiseK).toBeGreaterThan(5.9);
        expect(truth.cycle.amplitudeK / noiseK).toBeLessThan(30.1);
      }
      expect(otherSide !== null).toBe(kind === "two-sides");
      if (otherSide !== null) {
        viewSchema.parse(otherSide.view);
        expect(otherSide.view.side).not.toBe(view.side);
        expect(otherSide.powered[0]!.data.length).toBe(powered[0]!.data.length);
      }
    }
  });

  it("has parts begin within the burst, and the first of them at power-on or later", () => {
    for (const { truth } of scenes) {
      const lastS = truth.timesS[truth.timesS.length - 1]!;
      expect(truth.sources.length > 0).toBe(!kind.startsWith("unpowered"));
      for (const { onsetS } of truth.sources) {
        expect(onsetS).toBeGreaterThanOrEqual(0);
        expect(onsetS).toBeLessThan(0.6 * lastS);
      }
    }
  });
});

describe("what the truth says can be seen in the frames", () => {
  // Frame noise of 0.06 K at most, averaged over a few frames and a patch of 3 × 3 px, against rises above 0.8 K:
  // the patch at the source must have risen against the median of the board by half the stated peak or more.
  it("the rise stands at the source's place", () => {
    for (const seed of [7003, 7004, 7005]) {
      const { truth, baseline, powered } = makeScene("still", seed);
      const { width } = baseline[0]!;
      const first = baseline[0]!.data;
      const last = powered[0]!.data;
      const change = (k: number): number => last[k]! - first[k]!;
      const all = Array.from(first.keys(), change).sort((a, b) => a - b);
      const [x, y] = truth.sources[0]!.px.map(Math.round) as [number, number];
      const patch: number[] = [];
      for (let j = -1; j <= 1; j++) for (let i = -1; i <= 1; i++) patch.push(change((y + j) * width + x + i));
      patch.sort((a, b) => a - b);
      expect(patch[4]! - all[Math.floor(all.length / 10)]!).toBeGreaterThan(0.5 * truth.peakApparentRiseK);
    }
  });

  it("the shape of the board stands where the map's outline says", () => {
    const { truth, board, view } = makeScene("nudged", 7006);
    const m = truth.boardToFrame;
    const w = view.frame.width;
    let wrong = 0;
    for (let y = 0; y < view.frame.height; y++) {
      for (let x = 0; x < w; x++) {
        const outline = board.outline.map(([a, b]): [number, number] => {
          const d = m[6]! * a + m[7]! * b + m[8]!;
          return [(m[0]! * a + m[1]! * b + m[2]!) / d, (m[3]! * a + m[4]! * b + m[5]!) / d];
        });
        if (isInside(outline, x, y) !== (truth.boardMask[y * w + x] === 1)) wrong++;
      }
    }
    // The mask asks the middle sample of a pixel, up to a quarter of a pixel off its centre.
    expect(wrong / (w * view.frame.height)).toBeLessThan(0.01);
  });
});

/** The first of a few seeds whose truth is as wanted. */
function firstScene(kind: Kind, wanted: (truth: Truth) => boolean): Scene {
  for (let seed = 7010; seed < 7030; seed++) {
    const scene = makeScene(kind, seed);
    if (wanted(scene.truth)) return scene;
  }
  throw new Error("no seed gives a scene as wanted");
}

describe("a part that begins to heat later", () => {
  it("shows nothing before its onset and warms after it", () => {
    const { truth, powered } = firstScene(
      "onsets",
      (one) => one.sources.length === 1 && one.sources[0]!.onsetS > one.timesS[2]!,
    );
    const { width } = powered[0]!;
    const [x, y] = truth.sources[0]!.px.map(Math.round) as [number, number];
    // The part's own square against the frame's median: offset and drift fall out.
    const above = powered.map(({ data }) => {
      const patch: number[] = [];
      for (let j = -1; j <= 1; j++) for (let i = -1; i <= 1; i++) patch.push(data[(y + j) * width + x + i]!);
      const middle = (values: number[]): number => values.sort((a, b) => a - b)[values.length >> 1]!;
      return middle(patch) - middle(Array.from(data));
    });
    const off = truth.timesS.flatMap((t, i) => (t < truth.sources[0]!.onsetS ? [above[i]!] : []));
    // The median of nine readings of 0.06 K is good to 0.03 K; the rise asked for is 1.2 K or more.
    expect(Math.max(...off) - Math.min(...off)).toBeLessThan(0.25);
    expect(above[above.length - 1]! - above[0]!).toBeGreaterThan(0.5 * truth.peakApparentRiseK);
  });
});

describe("a supply that is switched on and off", () => {
  it("leaves its amplitude at its period where the part is, and little beside it", () => {
    const scene = makeScene("cycled", 7030);
    const { truth, powered } = scene;
    const n = powered.length;
    const { width, height } = powered[0]!;
    const period = truth.cycle!.periodS;
    const amplitudeAt = (periodS: number): number => {
      let best = 0;
      const middles = powered.map(({ data }) => data.reduce((sum, value) => sum + value, 0) / data.length);
      const [cx, cy] = truth.sources[0]!.px.map(Math.round) as [number, number];
      for (let y = Math.max(0, cy - 3); y <= Math.min(height - 1, cy + 3); y++) {
        for (let x = Math.max(0, cx - 3); x <= Math.min(width - 1, cx + 3); x++) {
          let re = 0;
          let im = 0;
          for (const [f, { data }] of powered.entries()) {
            const value = data[y * width + x]! - middles[f]!;
            const first = powered[0]!.data[y * width + x]! - middles[0]!;
            const last = powered[n - 1]!.data[y * width + x]! - middles[n - 1]!;
            const straight = first + ((last - first) * f) / (n - 1);
            const angle = (2 * Math.PI * truth.timesS[f]!) / periodS;
            re += ((value - straight) * Math.cos(angle) * 2) / n;
            im += ((value - straight) * Math.sin(angle) * 2) / n;
          }
          best = Math.max(best, Math.hypot(re, im));
        }
      }
      return best;
    };
    const noiseK = truth.noise.sigmaK * Math.sqrt(2 / n);
    // Of 49 pixels' noise the largest is some 3 σ; a slow slope left over adds to it.
    expect(Math.abs(amplitudeAt(period) - truth.cycle!.amplitudeK)).toBeLessThan(
      5 * noiseK + 0.3 * truth.cycle!.amplitudeK,
    );
    expect(amplitudeAt(period)).toBeGreaterThan(2 * amplitudeAt(period / 3.37));
  });
});

describe("a drawn board", () => {
  it("keeps its parts apart and on the board", () => {
    for (let i = 0; i < 6; i++) {
      const wishes = { shinyParts: 1, hideFinish: false, warmParts: true };
      const board = randomBoard(makeRandom(`board ${i}`), i % 2 === 0 ? "top" : "bottom", wishes);
      expect(board.parts.length).toBeGreaterThanOrEqual(12);
      expect(board.parts.length).toBeLessThanOrEqual(60);
      for (const [a, part] of board.parts.entries()) {
        for (const [x, y] of part.polygon) expect(isInside(board.outline, x, y)).toBe(true);
        for (const other of board.parts.slice(a + 1)) {
          if (other.side === part.side) expect(gapBetween(part.polygon, other.polygon)).toBeGreaterThan(0.29);
        }
      }
      expect(board.parts.filter((part) => part.normallyWarm).length).toBeGreaterThanOrEqual(1);
    }
  });
});
