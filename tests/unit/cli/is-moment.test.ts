import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { isMoment } from "../../../src/cli/is-moment.js";
import { momentSchema } from "../../../src/job/job-schema.js";

const twoDigits = (most: number) => fc.integer({ min: 0, max: most }).map((n) => String(n).padStart(2, "0"));

describe("isMoment says what momentSchema says", () => {
  it.each([
    ["2031-03-01T14:30:00+01:00", true],
    ["2031-03-01T14:30:00.125Z", true],
    ["2031-03-01T14:30Z", false],
    ["2028-02-29T00:00:00Z", true],
    ["2031-02-29T00:00:00Z", false],
    ["2100-02-29T00:00:00Z", false],
    ["2000-02-29T00:00:00Z", true],
    ["2031-03-01T14:30:00", false],
    ["2031-03-01", false],
    ["2031-03-01T24:00:00Z", false],
    ["2031-03-01 14:30:00Z", false],
    ["2031-03-01T14:30:00+1:00", false],
    ["2031-03-01T14:30:00Z\n", false],
    ["", false],
  ])("%s", (word, is) => {
    expect(isMoment(word)).toBe(is);
    expect(momentSchema.safeParse(word).success).toBe(is);
  });

  it("for moments that are right or nearly so", () => {
    const word = fc
      .tuple(
        fc.integer({ min: 0, max: 9999 }).map((year) => String(year).padStart(4, "0")),
        twoDigits(13),
        fc.oneof(twoDigits(32), fc.constantFrom("28", "29", "30", "31")),
        twoDigits(25),
        twoDigits(61),
        fc.constantFrom("", ":00", ":59", ":60", ":07.5", ":07."),
        fc.constantFrom("", "Z", "z", "+00:00", "-23:59", "+24:00", "+0100"),
      )
      .map(([y, m, d, h, min, s, offset]) => `${y}-${m}-${d}T${h}:${min}${s}${offset}`);
    fc.assert(
      fc.property(word, (one) => {
        expect(isMoment(one)).toBe(momentSchema.safeParse(one).success);
      }),
      { numRuns: 3000 },
    );
  });
});
