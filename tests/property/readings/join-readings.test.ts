import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { classifyReadings, type ToldReading } from "../../../src/readings/classify-readings.js";
import { joinReadings } from "../../../src/readings/join-readings.js";

const NETS = ["VSYS", "VIO", "VCAM", "VRF"];
const references = NETS.map((net) => ({
  net,
  measure: "diode" as const,
  value: 0.4,
  overRange: false,
  raw: "0.4",
}));
const suspects = fc
  .array(
    fc.record({ weight: fc.double({ min: 0.01, max: 1, noNaN: true }), nets: fc.subarray([...NETS, "GND"]) }),
    {
      minLength: 2,
      maxLength: 6,
    },
  )
  .map((parts) => {
    const sum = parts.reduce((all, { weight }) => all + weight, 0.2);
    return {
      parts: parts.map(({ weight, nets }, k) => ({ ref: `U${k}`, probability: weight / sum, nets })),
      rest: 0.2 / sum,
    };
  });
const told = fc.uniqueArray(
  fc.record({ net: fc.constantFrom(...NETS), value: fc.constantFrom(0, 0.2, 0.4) }),
  {
    selector: ({ net }) => net,
    maxLength: 4,
  },
);
const readings = (list: readonly { net: string; value: number }[]): ToldReading[] =>
  list.map(({ net, value }, k) => ({ net, measure: "diode", value, overRange: false, raw: "", seq: k + 1 }));

describe("joinReadings", () => {
  it("keeps the sum of all probabilities", () => {
    fc.assert(
      fc.property(suspects, told, ({ parts, rest }, list) => {
        const joined = joinReadings(parts, rest, classifyReadings(readings(list), references));
        const sum = joined.parts.reduce((all, { probability }) => all + probability, joined.unexplained);
        expect(sum).toBeCloseTo(1, 9);
      }),
    );
  });

  it("does not depend on the order in which nets are read", () => {
    fc.assert(
      fc.property(suspects, told, ({ parts, rest }, list) => {
        const there = joinReadings(parts, rest, classifyReadings(readings(list), references));
        const back = joinReadings(parts, rest, classifyReadings(readings([...list].reverse()), references));
        there.parts.forEach(({ probability }, k) => {
          expect(back.parts[k]!.probability).toBeCloseTo(probability, 9);
        });
      }),
    );
  });

  it("never lets a part gain on one that is not on its net by a reading that clears the net", () => {
    let compared = 0;
    fc.assert(
      fc.property(suspects, told, fc.constantFrom(...NETS), ({ parts, rest }, list, net) => {
        const others = list.filter((reading) => reading.net !== net);
        const before = joinReadings(parts, rest, classifyReadings(readings(others), references));
        const after = joinReadings(
          parts,
          rest,
          classifyReadings(readings([...others, { net, value: 0.4 }]), references),
        );
        const named = parts.filter(({ nets }) => nets.some((name) => name !== "GND"));
        const on = named.filter(({ nets }) => nets.includes(net)).map(({ ref }) => ref);
        const off = named.filter(({ nets }) => !nets.includes(net)).map(({ ref }) => ref);
        const of = (joined: typeof before, ref: string) =>
          joined.parts.find((part) => part.ref === ref)!.probability;
        for (const a of on) {
          for (const b of off) {
            compared++;
            expect(of(after, a) / of(after, b)).toBeLessThanOrEqual(
              (of(before, a) / of(before, b)) * (1 + 1e-9),
            );
          }
        }
        // Where one part alone is on the net it can't gain at all.
        if (on.length === 1) {
          expect(of(after, on[0]!)).toBeLessThanOrEqual(of(before, on[0]!) * (1 + 1e-9));
        }
      }),
    );
    expect(compared).toBeGreaterThan(0);
  });
});
