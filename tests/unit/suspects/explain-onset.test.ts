import { describe, expect, it } from "vitest";
import { explainSuspect, type SuspectEvidence } from "../../../src/suspects/explain-suspect.js";
import { PLAIN } from "./plain-evidence.js";

const say = (change: Partial<SuspectEvidence>) => explainSuspect({ ...PLAIN, ...change }).join(" ");

describe("when a part began to warm, among its reasons", () => {
  const times = { onsetS: 0.42, onsetSigmaS: 0.11 };

  it("surely the first: said with its uncertainty and the next part's time", () => {
    const text = say({ ...times, othersOnsetS: 1.83, onsetLeadSigma: 9.4 });
    expect(text).toMatch(/heated first: it began to warm 0\.42\s±\s0\.11\ss after power-on/);
    expect(text).toContain("before the next part (1.8 s)");
    expect(text).not.toContain("Against: it began");
  });

  it("surely not the first: speaks against it", () => {
    const text = say({ ...times, othersOnsetS: 0.02, onsetLeadSigma: -3.1 });
    expect(text).toMatch(
      /Against: it began to warm 0\.42\s±\s0\.11\ss after power-on, another part before it/,
    );
    expect(text).not.toContain("first");
  });

  it.each([1.4, -1.4])("too near to tell (%f σ): neither for nor against", (onsetLeadSigma) => {
    const text = say({ ...times, othersOnsetS: 0.5, onsetLeadSigma });
    expect(text).toContain("no other part was surely before it");
    expect(text).not.toMatch(/first|Against: it began/);
  });

  it("two that began in the same moment, of whose errors nothing is known: neither was first", () => {
    const text = say({ onsetS: 0.42, othersOnsetS: 0.42 });
    expect(text).toContain("no other part was surely before it");
    expect(text).not.toMatch(/first|Against: it began/);
  });

  it("the only part whose beginning is known; and none known", () => {
    expect(say({ ...times, othersOnsetS: null, onsetLeadSigma: null })).toMatch(
      /It began to warm 0\.42\s±\s0\.11\ss after power-on\./,
    );
    expect(say({ onsetS: null, othersOnsetS: 0.3 })).not.toContain("power-on");
  });
});
