import { describe, expect, it } from "vitest";
import { holdAgainstFeed } from "../../../src/sources/hold-against-feed.js";
import { powerOverStates } from "../../../src/sources/power-over-states.js";
import type { FittedSource, PowerInState } from "../../../src/sources/source-fit.js";
import { makeRandom } from "../../simulate/random.js";

const state = (chance: number, powerW: number, logSigma: number): PowerInState => ({
  chance,
  powerW,
  logSigma,
});

const sourceOf = (byState: readonly PowerInState[]): FittedSource => {
  const { powerW, powerLogSigma } = powerOverStates(byState)!;
  const toTell = { powerW, powerLogSigma, powerNoiseW: 0, byState };
  return { powerW, powerLogSigma, powerNoiseW: 0, powerSigmaW: powerW, toTell } as unknown as FittedSource;
};

describe("powerOverStates", () => {
  it("of one state is that state", () => {
    const one = powerOverStates([state(1, 0.3, 0.4), state(0, 5, 0.1)])!;
    expect(one.powerW).toBeCloseTo(0.3, 6);
    expect(Math.abs(one.powerLogSigma / 0.4 - 1)).toBeLessThan(0.01);
    expect(one.chance).toBe(1);
  });

  it("of two that mean other watts is the median: with the likelier one, not between both", () => {
    const { powerW, powerLogSigma } = powerOverStates([state(0.75, 0.1, 0.2), state(0.25, 1, 0.2)])!;
    // Two thirds of the likelier state lie below: z = 0.431.
    expect(powerW).toBeCloseTo(0.1 * Math.exp(0.431 * 0.2), 2);
    expect(powerLogSigma).toBeGreaterThan(1);
  });

  it("has none where no state has watts", () => {
    expect(powerOverStates([state(1, 0, 0.2)])).toBeNull();
  });
});

describe("holdAgainstFeed, by states", () => {
  it("drops a state that means more than was fed in", () => {
    const [held] = holdAgainstFeed([sourceOf([state(0.5, 2, 0.2), state(0.5, 0.3, 0.2)])], 0.5).sources;
    expect(Math.abs(held!.powerW / 0.3 - 1)).toBeLessThan(0.05);
    expect(held!.powerLogSigma).toBeLessThan(0.25);
  });

  it("adds up what all sources take in a state", () => {
    const one = sourceOf([state(0.5, 0.3, 0.1), state(0.5, 0.1, 0.1)]);
    const [alone] = holdAgainstFeed([one], 0.4).sources;
    const [beside] = holdAgainstFeed([one, one], 0.4).sources;
    expect(alone!.powerW).toBeGreaterThan(0.25);
    expect(beside!.powerW).toBeLessThan(0.12);
  });

  it("moves all by one factor, and leaves each source what it has of its own", () => {
    const [strong, weak] = holdAgainstFeed(
      [sourceOf([state(1, 4.5, 0.25)]), sourceOf([state(1, 0.2, 1.03)])],
      5,
    ).sources;
    expect(weak!.powerW / 0.2).toBeCloseTo(strong!.powerW / 4.5, 9);
    expect(strong!.powerLogSigma).toBeLessThan(0.2);
    // √(1.03² − 0.25²) of its own.
    expect(weak!.powerLogSigma).toBeGreaterThan(0.999);
    expect(weak!.powerLogSigma).toBeLessThan(1.03);
  });

  it("leaves watts that no state brings below the feed", () => {
    const source = sourceOf([state(0.5, 3, 0.1), state(0.5, 2, 0.1)]);
    expect(holdAgainstFeed([source], 0.5)).toEqual({ sources: [source], exclusive: true });
  });

  // Bayes' rule is exact for draws from its own prior: half of the truths lie below the median.
  it("tells the median of draws from its own prior", () => {
    const random = makeRandom("states and shares");
    let [below, all] = [0, 0];
    for (let k = 0; k < 3000; k++) {
      const share = random.uniform(0, 1);
      // What the frames show fits two states, of which the second means four times the watts.
      const second = random.chance(0.3);
      const shownW = share * Math.exp(0.3 * random.normal()) * (second ? 0.25 : 1);
      const [held] = holdAgainstFeed(
        [sourceOf([state(0.7, shownW, 0.3), state(0.3, 4 * shownW, 0.3)])],
        1,
      ).sources;
      all++;
      if (share < held!.powerW) below++;
    }
    // Three standard deviations of a count of 3000.
    expect(Math.abs(below / all - 0.5)).toBeLessThan(0.027);
  });
});
