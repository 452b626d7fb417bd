import { describe, expect, it } from "vitest";
import { powerSigma } from "../../../src/sources/average-powers.js";
import { holdAgainstFeed } from "../../../src/sources/hold-against-feed.js";
import type { FittedSource } from "../../../src/sources/source-fit.js";
import { makeRandom } from "../../simulate/random.js";

/** A source as far as its watts. */
function sourceOf(powerW: number, powerLogSigma: number, powerNoiseW = 0): FittedSource {
  const powerSigmaW = powerSigma({ powerW, logSigma: powerLogSigma }, powerNoiseW ** 2);
  return { powerW, powerLogSigma, powerNoiseW, powerSigmaW } as FittedSource;
}

const heldOf = (...given: Parameters<typeof holdAgainstFeed>) => holdAgainstFeed(...given).sources;

describe("holdAgainstFeed", () => {
  it("leaves watts as the frames tell them where nothing is known of the feed, and where nothing was found", () => {
    const source = sourceOf(0.2, 0.5);
    expect(holdAgainstFeed([source], null)).toEqual({ sources: [source], exclusive: false });
    expect(holdAgainstFeed([source], 0)).toEqual({ sources: [source], exclusive: false });
    expect(holdAgainstFeed([], 1)).toEqual({ sources: [], exclusive: false });
  });

  it("of watts known to a factor of two: never more than was fed in, and narrower than before", () => {
    for (const powerW of [0.05, 0.2, 0.6, 1.5]) {
      const [held] = heldOf([sourceOf(powerW, 0.7)], 0.5);
      expect(held!.powerW).toBeLessThan(0.5 * 1.03);
      expect(held!.powerLogSigma).toBeLessThan(0.7);
      expect(held!.powerSigmaW / held!.powerW).toBeLessThan(sourceOf(1, 0.7).powerSigmaW);
    }
  });

  it("of watts that the frames know well, the feed changes nothing but what it forbids", () => {
    const [held] = heldOf([sourceOf(0.2, 0.02)], 0.5);
    expect(Math.abs(held!.powerW / 0.2 - 1)).toBeLessThan(0.01);
    // 4 % above the feed, known to 5 %: brought down to it.
    const [bounded] = heldOf([sourceOf(0.52, 0.05)], 0.5);
    expect(bounded!.powerW).toBeLessThan(0.51);
    expect(bounded!.powerW).toBeGreaterThan(0.45);
  });

  it("all sources move by one factor, and what each has of its own stays open", () => {
    const held = heldOf([sourceOf(0.4, 0.6), sourceOf(0.2, 0.8, 0.01)], 0.3);
    expect(held[0]!.powerW / held[1]!.powerW).toBeCloseTo(2, 9);
    const own2 = 0.8 ** 2 - 0.6 ** 2;
    expect(held[1]!.powerLogSigma ** 2 - held[0]!.powerLogSigma ** 2).toBeCloseTo(own2, 9);
    expect(held[1]!.powerNoiseW / held[1]!.powerW).toBeCloseTo(0.01 / 0.2, 9);
  });

  it("of two that can hardly be told apart, the feed moves what both are together, no more than that is unsure", () => {
    const toTell = (powerW: number) => ({ powerW, powerLogSigma: 0.4, powerNoiseW: 0, totalLogSigma: 0.05 });
    const pair = [0.3, 0.17].map((powerW) => ({ ...sourceOf(powerW, 0.4), toTell: toTell(powerW) }));
    const held = heldOf(pair, 0.5);
    // 94 % of the feed, known to 5 %.
    expect(held[0]!.powerW / 0.3).toBeGreaterThan(0.96);
    expect(held[1]!.powerW / 0.17).toBeCloseTo(held[0]!.powerW / 0.3, 9);
    expect(held[0]!.powerLogSigma).toBeGreaterThan(0.39);
    const apart = heldOf([sourceOf(0.3, 0.4), sourceOf(0.17, 0.4)], 0.5);
    expect(apart[0]!.powerW / 0.3).toBeLessThan(0.85);
  });

  it("where frames and feed can't both be true it leaves the watts, so that the books can say so", () => {
    const source = sourceOf(2, 0.1);
    expect(holdAgainstFeed([source], 0.5)).toEqual({ sources: [source], exclusive: true });
    // Known to a factor of two and 14 times the feed: 3.8 standard deviations, though it is told as 7 ± 6 W.
    const wide = sourceOf(7, 0.7);
    expect(holdAgainstFeed([wide], 0.5)).toEqual({ sources: [wide], exclusive: true });
  });

  it("excludes neither little of the feed, nor a strong source that is less sure than a weak one beside it", () => {
    for (const powerW of [1e-4, 0.002, 0.4]) {
      expect(holdAgainstFeed([sourceOf(powerW, 0.1)], 0.5).exclusive).toBe(false);
    }
    // Three times the feed: 11 standard deviations of the weak one, 1.1 of the strong one.
    expect(holdAgainstFeed([sourceOf(3, 1), sourceOf(0.1, 0.1)], 1).exclusive).toBe(false);
    expect(holdAgainstFeed([sourceOf(3, 0.1), sourceOf(0.1, 1)], 1).exclusive).toBe(true);
    expect(holdAgainstFeed([sourceOf(0.51, 0)], 0.5).exclusive).toBe(false);
    expect(holdAgainstFeed([sourceOf(0.6, 0)], 0.5).exclusive).toBe(true);
  });

  it("moves no watts by a step where they are little of the feed, in one state or several", () => {
    // Far below the feed a level share moves the mean logarithm by σ²: a product of a normal and an exponential.
    for (const powerW of [1e-4, 0.003, 0.0075, 0.008, 0.02]) {
      const [held] = heldOf([sourceOf(powerW, 0.7)], 1);
      expect(Math.log(held!.powerW / powerW)).toBeCloseTo(0.49, 2);
    }
    const inStates = (powerW: number) => {
      const byState = [1, 1.5].map((times) => ({ chance: 0.5, powerW: times * powerW, logSigma: 0.3 }));
      const source = {
        ...sourceOf(1.2 * powerW, 0.4),
        toTell: { powerW, powerLogSigma: 0.4, powerNoiseW: 0, byState },
      };
      return heldOf([source as FittedSource], 1)[0]!.powerW / powerW;
    };
    for (const powerW of [1e-4, 0.003, 0.006, 0.009, 0.012])
      expect(inStates(powerW)).toBeCloseTo(inStates(0.02), 6);
  });

  it("leaves a strong source that is less sure than a weak one, beyond the feed", () => {
    for (const [strongW, logSigma] of [
      [3, 1],
      [2, 0.5],
    ] as const) {
      const sources = [sourceOf(strongW, logSigma), sourceOf(0.1, 0.1)];
      expect(holdAgainstFeed(sources, 1)).toEqual({ sources, exclusive: false });
    }
  });

  // Bayes' rule is exact for draws from its own prior: what the factor was, over what is said of it.
  it("is calibrated where every share of the feed is as likely as any other", () => {
    const random = makeRandom("shares of the feed");
    const draws = Array.from({ length: 4000 }, () => {
      const share = random.uniform(0, 1);
      const seenW = share * Math.exp(0.6 * random.normal());
      const [held] = heldOf([sourceOf(seenW, 0.6)], 1);
      return { held: held!, z: (Math.log(share) - Math.log(held!.powerW)) / held!.powerLogSigma };
    }).filter(({ held }) => held.powerLogSigma < 0.6);
    // Some frames in a hundred disagree with their feed and are left as they are.
    expect(draws.length).toBeGreaterThan(3800);
    const mean = draws.reduce((sum, { z }) => sum + z, 0) / draws.length;
    const square = draws.reduce((sum, { z }) => sum + z * z, 0) / draws.length;
    // Three standard deviations of 4000 draws are 0.05 and 0.07; the watts told are those of the mean logarithm.
    expect(Math.abs(mean)).toBeLessThan(0.08);
    expect(Math.abs(square - 1)).toBeLessThan(0.12);
  });
});
