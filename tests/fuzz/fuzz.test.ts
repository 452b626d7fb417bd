// Every reader is given 5,000 files: whole ones in many styles, damaged ones and soups. `npm run fuzz` gives a million.
import { beforeAll, describe, expect, it } from "vitest";
import { makeRandom } from "../simulate/random.js";
import type { FuzzTarget } from "./fuzz-target.js";
import { mutateBytes } from "./mutate-bytes.js";
import { makeInput, runInputs } from "./run-inputs.js";
import { TARGETS } from "./targets/targets.js";
import { WATCH_LIMITS, type WatchedFigures, watchChild } from "./watch-child.js";

const INPUTS = 5000;
const SEED = "2031-03";
const names = TARGETS.map(({ name }) => name);

describe(`${INPUTS} inputs each`, () => {
  let all: WatchedFigures[];
  beforeAll(async () => {
    all = await watchChild(names, { seed: SEED, inputs: INPUTS });
  }, 600_000);

  it.each(names)(
    "%s: the right values or an error with a code, no trace, no hang, nothing left behind",
    (name) => {
      const figures = all.find(({ target }) => target === name)!;
      expect(figures.faults).toEqual([]);
      expect(figures.inputs).toBe(INPUTS);
      // Inputs that are all read, or all refused, would try nothing. A lock is null where it can't be read.
      expect(figures.read).toBeGreaterThan(INPUTS / 10);
      if (name !== "lock") expect(figures.refused).toBeGreaterThan(INPUTS / 10);
    },
  );

  it(`takes at most ${WATCH_LIMITS.memoryMiB} MiB in the process that reads them all`, () => {
    expect(Math.max(...all.map(({ peakMiB }) => peakMiB))).toBeLessThan(WATCH_LIMITS.memoryMiB);
  });
});

describe("the fuzzing itself", () => {
  const target = (read: FuzzTarget["read"], expected: "equal" | "refused" | "any" = "any"): FuzzTarget => ({
    name: "toy",
    make: (random) => {
      const bytes = Uint8Array.of(random.integer(0, 255), 7);
      return {
        what: "toy",
        bytes,
        expected: expected === "equal" ? { sort: "equal", value: [7, Number.NaN] } : { sort: expected },
      };
    },
    read,
  });
  const faultOf = async (one: FuzzTarget): Promise<string> => {
    const { faults } = await runInputs(one, { seed: "toy", inputs: 1 });
    return faults.map(({ fault }) => fault).join();
  };

  it("makes the same inputs again", () => {
    const [first, again, other] = [17, 17, 18].map((input) =>
      makeInput(
        target(() => null),
        SEED,
        input,
      ),
    );
    expect(first).toEqual(again);
    expect(first!.bytes).not.toEqual(other!.bytes);
    const bytes = Uint8Array.from({ length: 50 }, (_, i) => i);
    const mutated = Array.from({ length: 200 }, (_, i) => mutateBytes(makeRandom(`m${i}`), bytes));
    expect(mutateBytes(makeRandom("m3"), bytes)).toEqual(mutated[3]);
    expect(mutated.filter((one) => !Buffer.from(one).equals(Buffer.from(bytes))).length).toBeGreaterThan(150);
  });

  it("goes on where another run has ended", async () => {
    const one = target(([byte]) => byte);
    const told: number[] = [];
    const { inputs } = await runInputs(one, { seed: SEED, inputs: 5, from: 3 }, (input) => told.push(input));
    expect([inputs, told]).toEqual([2, [3, 4]]);
  });

  it("sees what a reader must not do", async () => {
    expect(await faultOf(target(() => [7, Number.NaN], "equal"))).toBe("");
    expect(await faultOf(target(() => [7, null], "equal"))).toContain("in place of");
    expect(await faultOf(target(() => [7], "refused"))).toContain("although it is damaged");
    expect(await faultOf(target(() => JSON.parse("{")))).toContain("SyntaxError");
    const pollute = (): void => void Object.assign(Object.prototype, { polluted: 1 });
    expect(await faultOf(target(pollute))).toContain("every object has now a key polluted");
    expect(await faultOf(target((bytes) => void bytes.fill(0)))).toContain("were changed");
  });
});
