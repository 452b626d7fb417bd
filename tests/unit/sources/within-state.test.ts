import { describe, expect, it } from "vitest";
import { type PlateState, timedStates } from "../../../src/sources/plate-state.js";
import { withinState } from "../../../src/sources/within-state.js";
import { makeRandom } from "../../simulate/random.js";

const states = timedStates(20);
const evenly = Math.log(2) / Math.sqrt(12);
/** Watts as a power of the time, in some of the states. */
const fitted = (some: readonly PlateState[], power: number) =>
  some.map((state) => ({ state, powerW: 0.3 * state.timeConstants! ** power }));

describe("how unsure the time between two states leaves watts", () => {
  it("is the scatter of watts at times that are as likely anywhere between the state's neighbours' halves", () => {
    const random = makeRandom("within a state");
    const logs = Array.from({ length: 20_000 }, () => -0.7 * random.uniform(-0.5, 0.5) * Math.log(2));
    const scatter = Math.sqrt(logs.reduce((sum, log) => sum + log * log, 0) / logs.length);
    const some = fitted(states.slice(2, 5), -0.7);
    for (const k of [0, 1, 2]) expect(withinState(some, k)).toBeCloseTo(scatter, 2);
  });

  it("does not hang on the order, nor on states without watts, nor on how far the next one is", () => {
    const [a, b, c] = fitted([states[1]!, states[3]!, states[6]!], -0.4);
    const without = { state: states[2]!, powerW: 0 };
    expect(withinState([c!, without, a!, b!], 3)).toBeCloseTo(0.4 * evenly, 10);
    expect(withinState([c!, without, a!, b!], 0)).toBeCloseTo(0.4 * evenly, 10);
  });

  it("is half as much on the scale of the logarithm where each time is √2 times the one before", () => {
    const some = fitted(states.slice(2, 5), -0.7);
    expect(withinState(some, 1, Math.SQRT2)).toBeCloseTo(0.5 * withinState(some, 1), 10);
  });

  it("of a lone state is that of watts that go inversely as the time, and nothing at rest", () => {
    expect(withinState(fitted([states[0]!], 1), 0)).toBeCloseTo(evenly, 10);
    expect(withinState(fitted([states.at(-1)!], 1), 0)).toBe(0);
  });
});
