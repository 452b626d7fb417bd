import { describe, expect, it } from "vitest";
import { classifyReadings, type ToldReading } from "../../../src/readings/classify-readings.js";
import { joinReadings } from "../../../src/readings/join-readings.js";
import { netLikelihood } from "../../../src/readings/net-likelihood.js";
import { netVerdicts } from "../../../src/readings/net-verdicts.js";

const read = (net: string, value: number | null, seq: number, pin?: string): ToldReading => ({
  net,
  ...(pin === undefined ? {} : { pin }),
  measure: "diode",
  value,
  overRange: value === null,
  raw: "",
  seq,
});
const good = ["VSYS", "VIO", "VCAM"].map((net) => ({ ...read(net, 0.4, 0), net }));
const judge = (...readings: ToldReading[]) => classifyReadings(readings, good);
const suspects = [
  { ref: "U1", probability: 0.5, nets: ["VIO", "GND"] },
  { ref: "C7", probability: 0.3, nets: ["VSYS", "GND"] },
  { ref: "U9", probability: 0.1, nets: ["VSYS", "VIO", "GND"] },
];

describe("joinReadings", () => {
  it("lifts parts on a shorted net and lowers those on none", () => {
    const joined = joinReadings(suspects, 0.1, judge(read("VSYS", 0, 1)));
    const [u1, c7, u9] = joined.parts;
    // 0.5 : 0.02 on the net, 1 on none, and half of each for a part with two nets.
    expect(c7!.ratio).toBeCloseTo(25, 9);
    expect(u1!.ratio).toBe(1);
    expect(u9!.ratio).toBeCloseTo(13, 9);
    expect(joined.unexplainedRatio).toBeCloseTo(13, 9);
    const sum = 0.5 + 0.3 * 25 + 0.1 * 13 + 0.1 * 13;
    expect(c7!.probability).toBeCloseTo(7.5 / sum, 9);
    expect(u1!.probability).toBeCloseTo(0.5 / sum, 9);
    expect(c7!.why.join(" ")).toMatch(/on VSYS, which reads short \(0\.00 V against/);
    expect(u1!.why[0]).toMatch(/^Against: it is on no net that reads low \(VSYS\)/);
    expect(u1!.why.at(-1)).toMatch(/× 1\.0 .*50 % becomes 5 %/);
  });

  it("does not hold a part's healthy nets against it once another of its nets is low", () => {
    const joined = joinReadings(suspects, 0.1, judge(read("VSYS", 0.2, 1), read("VIO", 0.4, 2)));
    const [u1, c7, u9] = joined.parts;
    expect(u9!.ratio).toBeGreaterThan(1);
    expect(c7!.ratio).toBeGreaterThan(u9!.ratio);
    expect(u1!.ratio).toBeCloseTo(1 / 9, 9);
  });

  it("says what each net reads: those that are low first, healthy ones against it, and where nothing can be said", () => {
    const told = [...suspects, { ref: "Q4", probability: 0.05, nets: ["GND"] }];
    const joined = joinReadings(told, 0.05, judge(read("VSYS", 0, 1), read("VIO", 0.4, 2)));
    const [u1, c7, u9, q4] = joined.parts.map(({ why }) => why);
    expect(u1!.map((line) => line.slice(0, 48))).toEqual([
      "Against: it is on VIO, which reads as it should ",
      "Against: it is on no net that reads low (VSYS).",
      expect.stringMatching(/^Readings: × /),
    ]);
    expect(c7!.map((line) => line.slice(0, 34))).toEqual([
      "It is on VSYS, which reads short (",
      expect.stringMatching(/^Readings: × /),
    ]);
    expect(u9!.map((line) => line.slice(0, 26))).toEqual([
      "It is on VSYS, which reads",
      "Against: it is on VIO, whi",
      expect.stringMatching(/^Readings: × /),
    ]);
    expect(q4![0]).toBe("The map names no net of it, so that readings tell little.");
    expect(q4).toHaveLength(2);
  });

  it("does not say of a part on one of two nets that read low that it is on none", () => {
    const joined = joinReadings(suspects, 0.1, judge(read("VSYS", 0, 1), read("VIO", 0, 2)));
    expect(joined.nets.map(({ outcome }) => outcome)).toEqual(["short", "short"]);
    const starts = joined.parts.map(({ why }) => why.map((line) => line.slice(0, 29)));
    const rest = expect.stringMatching(/^Readings: × /);
    expect(starts).toEqual([
      ["It is on VIO, which reads sho", rest],
      ["It is on VSYS, which reads sh", rest],
      ["It is on VSYS, which reads sh", "It is on VIO, which reads sho", rest],
    ]);
  });

  it("says nothing of readings where none counts, and nothing against a part where no net is low", () => {
    const none = joinReadings(suspects, 0.1, judge(read("VCAM", 0.4, 1)));
    expect(none.parts.map(({ why }) => why)).toEqual([[], [], []]);
    const nowhere = [{ ref: "Q4", probability: 0.9, nets: [] }];
    expect(joinReadings(nowhere, 0.1, judge(read("VCAM", 0.4, 1))).parts[0]!.why).toEqual([]);
    const healthy = joinReadings(suspects, 0.1, judge(read("VIO", 0.4, 1)));
    expect(healthy.parts.map(({ why }) => why.length)).toEqual([2, 0, 2]);
    expect(healthy.parts[1]!.why).toEqual([]);
  });

  it("leaves probabilities of nothing at nothing", () => {
    const joined = joinReadings(
      [{ ref: "U1", probability: 0, nets: ["VSYS"] }],
      0,
      judge(read("VSYS", 0, 1)),
    );
    expect([joined.parts[0]!.probability, joined.unexplained]).toEqual([0, 0]);
  });

  it("leaves everything as it is when switched off, and shows the odds when on", () => {
    const judged = judge(read("VSYS", 0, 1));
    const off = joinReadings(suspects, 0.1, judged, { use: false });
    expect(off.parts.map(({ probability }) => probability)).toEqual([0.5, 0.3, 0.1]);
    expect(off).toMatchObject({ odds: null, nets: [] });
    expect(joinReadings(suspects, 0.1, judged).odds).toMatchObject({ shortOn: 0.5, shortOff: 0.02 });
    const mild = joinReadings(suspects, 0.1, judged, { shortOn: 0.04 });
    expect(mild.parts[1]!.ratio).toBeCloseTo(2, 9);
  });

  it("makes nothing of nets that no part is on, nor of readings that drift or are open", () => {
    const judged = judge(
      read("VBUS", 0, 1),
      read("VSYS", 0.1, 2),
      read("VSYS", 0.2, 3),
      read("VIO", null, 4),
    );
    const joined = joinReadings(suspects, 0.1, judged);
    expect(joined.nets).toEqual([]);
    expect(joined.parts.every(({ before, probability }) => before === probability)).toBe(true);
  });

  it("makes nothing of ground, to which every probe is held and all parts are tied", () => {
    const ground = classifyReadings([read("GND", 0, 1)], [...good, read("GND", 0.4, 0)]);
    // By itself it reads as a net that is shorted.
    expect(netVerdicts(ground)).toMatchObject([{ net: "GND", outcome: "short" }]);
    const joined = joinReadings(suspects, 0.1, ground);
    expect(joined.nets).toEqual([]);
    expect(joined.parts.map(({ probability }) => probability)).toEqual([0.5, 0.3, 0.1]);
    expect(joined.parts.map(({ why }) => why)).toEqual([[], [], []]);
  });

  it("counts the last state of a net", () => {
    const judged = classifyReadings([read("VSYS", 0, 1), read("VSYS", 0.4, 9)], good, { changes: [5] });
    expect(joinReadings(suspects, 0.1, judged).nets).toMatchObject([{ outcome: "ordinary", state: 1 }]);
    // Also where it was typed in later than a later state: the state counts, not the order of the list.
    const [before, after] = [
      judged.filter(({ state }) => state === 0),
      judged.filter(({ state }) => state === 1),
    ];
    expect(joinReadings(suspects, 0.1, [...after, ...before]).nets).toMatchObject([
      { outcome: "ordinary", state: 1 },
    ]);
  });
});

describe("netVerdicts", () => {
  it("counts several pins of a net once, and none where they disagree", () => {
    expect(netVerdicts(judge(read("VSYS", 0, 1, "1"), read("VSYS", 0.2, 2, "2")))).toMatchObject([
      { net: "VSYS", outcome: "short", seq: 2 },
    ]);
    expect(netVerdicts(judge(read("VSYS", 0, 1, "1"), read("VSYS", 0.4, 2, "2")))).toEqual([]);
  });
});

describe("netLikelihood", () => {
  it("is that of a part elsewhere where no net is known, and ignores ground", () => {
    const low = [{ net: "VSYS", outcome: "low" as const }];
    expect(netLikelihood([], low)).toBe(0.08);
    expect(netLikelihood(["GND"], low)).toBe(0.08);
    expect(netLikelihood(["GND", "vsys"], low)).toBeCloseTo(0.4, 12);
  });
});
