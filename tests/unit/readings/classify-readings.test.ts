import { describe, expect, it } from "vitest";
import { beforeAfter } from "../../../src/readings/before-after.js";
import { classifyReading } from "../../../src/readings/classify-reading.js";
import {
  classifyReadings,
  findReference,
  type ToldReading,
} from "../../../src/readings/classify-readings.js";
import { parseExpected } from "../../../src/readings/parse-expected.js";
import { parseReading } from "../../../src/readings/parse-reading.js";
import type { Measure, Reference } from "../../../src/readings/reading-schema.js";

const reading = (raw: string, seq = 1, more: Partial<ToldReading> = {}): ToldReading => {
  const measure = more.measure ?? "diode";
  const { value, overRange } = parseReading(raw, measure);
  return { net: "VSYS", measure, value, overRange, raw, seq, ...more };
};
const reference = (raw: string, more: Partial<Reference> = {}): Reference => {
  const measure = more.measure ?? "diode";
  const { assumed: _, ...expected } = parseExpected(raw, measure);
  return { net: "VSYS", measure, raw, ...expected, ...more };
};
const judge = (
  raw: string,
  expected: string | null,
  measure: Measure = "diode",
  more: Partial<Reference> = {},
) =>
  classifyReading(
    reading(raw, 1, { measure }),
    expected === null ? null : reference(expected, { measure, ...more }),
  ).class;

describe("classifyReading", () => {
  // Common practice, no source.
  it.each([
    ["0.30", "0.30", "asExpected"],
    ["0.32", "0.30", "asExpected"],
    ["0.22", "0.27", "low"],
    ["0.00", "0.60", "short"],
    ["0.02", "0.60", "short"],
    ["OL", "0.45", "open"],
    ["0.45", "OL", "low"],
    ["0.00", "OL", "short"],
    ["OL", "OL", "asExpected"],
    ["1.9", "OL", "asExpected"],
    ["OL", "1.9", "asExpected"],
    ["0.75", "0.45", "high"],
    ["0.42", "0.40-0.45", "asExpected"],
    ["0.30", "0.40-0.45", "low"],
    ["0.36", "0.40 ± 0.02", "low"],
    ["0.36", "0.40 ± 12 %", "asExpected"],
    ["-0.30", "0.30", "unjudged"],
    ["0.00", "0.00", "asExpected"],
  ])("calls %s V against %s %s", (raw, expected, verdict) => {
    expect(judge(raw, expected)).toBe(verdict);
  });

  it.each([
    ["0.4 Ω", "1.2 kΩ", "short"],
    ["300", "1.2 kΩ", "low"],
    ["1k1", "1.2 kΩ", "asExpected"],
    ["OL", "1.2 kΩ", "open"],
    ["4k7", "1.2 kΩ", "high"],
    ["12 MΩ", "OL", "asExpected"],
    ["1.4", "3.1", "low"],
    // A few ohms where thousands belong.
    ["3.2", "46 kΩ", "short"],
    ["9.9", "46 kΩ", "short"],
    ["11", "46 kΩ", "low"],
    ["6", "500", "low"],
    ["4.9", "500", "short"],
    ["7", "OL", "short"],
    ["70", "OL", "low"],
  ])("calls %s Ω against %s %s", (raw, expected, verdict) => {
    expect(judge(raw, expected, "resistance")).toBe(verdict);
  });

  // More volts or amperes than a meter can show are more than was expected; no path is broken by them.
  it.each([
    ["OL", "1.8", "voltage", "high"],
    ["OL", "0.2", "current", "high"],
    ["1.8", "OL", "voltage", "low"],
    ["OL", "OL", "current", "asExpected"],
  ] as const)("calls %s against %s in %s mode %s", (raw, expected, measure, verdict) => {
    expect(judge(raw, expected, measure)).toBe(verdict);
  });

  it("says of volts beyond a meter's range no word of a broken path", () => {
    const over = reading("OL", 1, { measure: "voltage" });
    expect(classifyReading(over, reference("1.8", { measure: "voltage" })).why).toBe(
      "over-range against 1.80 V: more than the meter can show",
    );
    const wanted = reference("OL", { measure: "current" });
    expect(classifyReading(reading("0.2", 1, { measure: "current" }), wanted).why).toBe(
      "200 mA where a good board is over-range",
    );
  });

  it("calls nothing a short on a rail that is low by nature", () => {
    expect(judge("0.02", "0.12", "diode")).toBe("short");
    expect(judge("0.02", "0.12", "diode", { lowByNature: true })).toBe("low");
    expect(judge("0.11", "0.12", "diode", { lowByNature: true })).toBe("asExpected");
  });

  it("takes a share of the end of a range that the reading is nearer to", () => {
    // A quarter of 900 kΩ would let a dead short pass for a kiloohm.
    expect(judge("3", "1k - 900k", "resistance")).toBe("short");
    expect(judge("760", "1k - 900k", "resistance")).toBe("asExpected");
    expect(judge("740", "1k - 900k", "resistance")).toBe("low");
    expect(judge("1.12 MΩ", "1k - 900k", "resistance")).toBe("asExpected");
    expect(judge("1.13 MΩ", "1k - 900k", "resistance")).toBe("high");
    const { tolerance, why } = classifyReading(reading("0.22"), reference("0.40-0.45"));
    expect(tolerance).toBeCloseTo(0.04, 9);
    expect(why).toBe("0.22 V against 0.40 V to 0.45 V ± 0.04 V");
  });

  it("lets the shop say how few ohms are a short", () => {
    const [three, good] = [
      reading("3.2", 1, { measure: "resistance" }),
      reference("46k", { measure: "resistance" }),
    ];
    expect(classifyReading(three, good, { farShortOhm: 3 }).class).toBe("low");
    expect(classifyReading(three, good, { farShortShare: 1e-5 }).class).toBe("low");
    expect(classifyReading(three, good, { lowByNature: true }).class).toBe("low");
    expect(classifyReading(three, good).why).toBe("3.20 Ω against 46.0 kΩ ± 11.5 kΩ: a short to ground");
  });

  it("calls a dead rail low in volts, never a short", () => {
    expect(judge("0.0", "1.8", "voltage")).toBe("low");
    expect(judge("1.79", "1.8", "voltage")).toBe("asExpected");
  });

  it("knows a short without a reference, and nothing else", () => {
    expect(judge("0.01", null)).toBe("short");
    expect(judge("0.40", null)).toBe("unjudged");
    expect(classifyReading(reading("0.01"), null, { lowByNature: true }).class).toBe("unjudged");
  });

  it("states the tolerance, and takes another one", () => {
    const { tolerance, why } = classifyReading(reading("0.22"), reference("0.27"));
    expect(tolerance).toBeCloseTo(0.027, 9);
    expect(why).toBe("0.22 V against 0.27 V ± 0.027 V");
    expect(classifyReading(reading("0.22"), reference("0.27"), { diodeShare: 0.2 }).class).toBe("asExpected");
  });
});

describe("classifyReadings", () => {
  const series = (...raws: string[]) =>
    classifyReadings(
      raws.map((raw, k) => reading(raw, k + 1)),
      [reference("0.42")],
    );

  it("calls readings that climb drifting: the board still discharges", () => {
    const [only, ...rest] = series("0.2", "0.3", "0.4");
    expect(rest).toEqual([]);
    expect(only).toMatchObject({ class: "drifting", seqs: [1, 2, 3], value: 0.4 });
    expect(only!.why).toContain("discharge");
  });

  it("judges the last one once two in a row agree", () => {
    expect(series("0.2", "0.3", "0.4", "0.405")[0]).toMatchObject({ class: "asExpected", value: 0.405 });
  });

  it("calls a climb to over-range drifting, over-range twice open, and a jump a bad contact", () => {
    expect(series("0.5", "1.2", "OL")[0]!.class).toBe("drifting");
    expect(series("1.2", "OL", "OL")[0]!.class).toBe("open");
    expect(series("0.4", "0.1", "0.4")[0]!.why).toContain("jump");
  });

  it("keeps pins, measures, boards and states of the board apart", () => {
    const all = classifyReadings(
      [
        reading("0.01", 1),
        reading("0.41", 2, { pin: "C7.1" }),
        reading("900", 3, { measure: "resistance" }),
        reading("0.2", 4, { board: "lower" }),
        reading("0.42", 9),
      ],
      [reference("0.42")],
      { changes: [5] },
    );
    expect(all.map(({ class: name, state, seqs }) => [name, state, seqs])).toEqual([
      ["short", 0, [1]],
      ["asExpected", 0, [2]],
      ["unjudged", 0, [3]],
      ["low", 0, [4]],
      ["asExpected", 1, [9]],
    ]);
  });

  it("names nets that are low by nature apart from references", () => {
    const [only] = classifyReadings([reading("0.01")], [], { lowByNature: ["vsys "] });
    expect(only).toMatchObject({ class: "unjudged", lowByNature: true });
  });
});

describe("findReference", () => {
  it("prefers the pin to the net, the later to the earlier, and ignores other measures and boards", () => {
    const references = [
      { ...reference("0.40"), seq: 1 },
      { ...reference("0.41"), seq: 2 },
      { ...reference("0.50", { pin: "C7.1" }), seq: 1 },
      { ...reference("0.60", { board: "lower" }), seq: 3 },
      { ...reference("600", { measure: "resistance" }), seq: 4 },
    ];
    expect(findReference(reading("0.4", 1, { pin: "c7.1" }), references)?.value).toBe(0.5);
    expect(findReference(reading("0.4", 1, { board: "upper" }), references)?.value).toBe(0.41);
    expect(findReference(reading("0.4", 1, { net: "VIO" }), references)).toBeNull();
  });
});

describe("beforeAfter", () => {
  it("lays the states before and after a change side by side", () => {
    const judged = classifyReadings(
      [reading("0.01", 1), reading("0.41", 8), reading("0.3", 2, { net: "VIO" })],
      [reference("0.42"), reference("0.3", { net: "VIO" })],
      { changes: [5] },
    );
    const rows = beforeAfter(judged);
    expect(
      rows.map(({ net, before, after, change }) => [net, before?.class ?? null, after.class, change]),
    ).toEqual([
      ["VSYS", "short", "asExpected", "cleared"],
      ["VIO", null, "asExpected", null],
    ]);
  });

  it("does not call a drifting reading cleared", () => {
    const judged = classifyReadings(
      [reading("0.01", 1), reading("0.2", 7), reading("0.41", 8)],
      [reference("0.42")],
      { changes: [5] },
    );
    expect(beforeAfter(judged)).toMatchObject([{ change: "unknown" }]);
  });
});
