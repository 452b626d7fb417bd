import { describe, expect, it } from "vitest";
import { describeEntry } from "../../../src/cli/describe-entry.js";
import type { Entry } from "../../../src/job/entry-schema.js";

const line = (said: Entry["said"], lines: readonly Entry[] = []): string =>
  describeEntry(
    {
      kind: "faultglow/entry",
      version: 1,
      seq: 7,
      previous: "0".repeat(64),
      at: "2031-03-01T09:00:00+01:00",
      said,
    },
    lines,
  );
const usual = { net: "VSYS", measure: "diode", value: 0.4, overRange: false } as const;

describe("describeEntry", () => {
  it("a reading: where, its value with its unit, and what was typed", () => {
    const reading = { ...usual, raw: "400 mV" };
    expect(line({ type: "reading", reading })).toBe('diode at VSYS: 0.4 V ("400 mV")');
    const over = { ...usual, value: null, overRange: true, raw: "OL", ref: "U7", pin: "3", remark: "hot" };
    expect(line({ type: "reading", reading: over })).toBe('diode at U7 pin 3 (VSYS): over range ("OL"). hot');
  });

  it("a reference that is a range: both ends, then their unit", () => {
    const reference = { ...usual, upTo: 0.45, raw: "0.4-0.45" };
    expect(line({ type: "reference", reference })).toBe(
      'reference, diode at VSYS: 0.4 to 0.45 V ("0.4-0.45")',
    );
  });

  it("an action on a part of a board, and a line withdrawn with its reason", () => {
    const action = { did: "replaced", ref: "C4", board: "main" } as const;
    expect(line({ type: "action", action })).toBe("C4 replaced (board main)");
    const onOther = { did: "boards-split", board: "radio board", remark: "hot air" } as const;
    expect(line({ type: "action", action: onOther })).toBe("Boards split (radio board). hot air");
    const slip = { type: "withdrawal", seq: 3, reason: "mistyped" } as const;
    expect(line(slip)).toBe("line 3 withdrawn. Reason: mistyped");
    const taken = { seq: 3, said: { type: "action", action } } as unknown as Entry;
    expect(line(slip, [taken])).toBe("line 3 withdrawn: C4 replaced (board main). Reason: mistyped");
  });
});
