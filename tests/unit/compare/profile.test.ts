import { describe, expect, it } from "vitest";
import { compareFindings } from "../../../src/compare/compare-findings.js";
import { exceedProfile } from "../../../src/compare/exceed-profile.js";
import { excessSchema } from "../../../src/compare/excess-schema.js";
import { makeProfile } from "../../../src/compare/make-profile.js";
import { parseProfile } from "../../../src/compare/parse-profile.js";
import { profileSchema } from "../../../src/compare/profile-schema.js";
import { makeFindings, withoutBoard } from "./make-findings.js";

const boot = (scale: number, extra: { ref: string; powerW: number }[] = []) =>
  makeFindings({
    heat: [{ ref: "U1", powerW: 0.12 * scale }, { ref: "U2", powerW: 0.05 / scale }, ...extra],
  });
const GOOD = [boot(1), boot(1.1), boot(0.93), boot(1.04)];

describe("makeProfile", () => {
  it("says what each part shows for each watt fed in, and in how many attempts it heats", () => {
    const profile = makeProfile(GOOD);
    expect(profileSchema.parse(JSON.parse(JSON.stringify(profile)))).toEqual(profile);
    expect(profile).toMatchObject({ per: "fed", attempts: 4, notes: [] });
    const u1 = profile.parts.find(({ ref }) => ref === "U1")!;
    expect([u1.attempts, u1.found]).toEqual([4, 4]);
    // Ten kelvins a watt, 0.74 W fed: mean of 1, 1.1, 0.93 and 1.04 is 1.0175.
    expect(u1.contrastK!.mean).toBeCloseTo((1.2 * 1.0175) / 0.74, 9);
    expect(profile.parts.find(({ ref }) => ref === "C6")).toMatchObject({
      attempts: 4,
      found: 0,
      logPower: null,
    });
    expect(profile.parts.find(({ ref }) => ref === "Q3")).toMatchObject({ attempts: 0, contrastK: null });
  });

  it("trusts its own scatter the more the more attempts there are", () => {
    const sigma = (profile: ReturnType<typeof makeProfile>) =>
      profile.parts.find(({ ref }) => ref === "U1")!.logPower!.sigma;
    const even = (count: number) => makeProfile(Array.from({ length: count }, () => boot(1)));
    // One attempt: the usual scatter, once for it and once for the next one.
    expect(sigma(even(1))).toBeCloseTo(0.5 * Math.SQRT2, 9);
    // Four that agree, beside four that the usual scatter is worth: its variance counts for 4 of 7.
    expect(sigma(even(4))).toBeCloseTo(Math.sqrt(((0.25 * 4) / 7) * 1.25), 9);
    expect(sigma(even(40))).toBeLessThan(0.2);
  });

  it("is for an attempt as it is where volts or amps are missing, and warns of few attempts", () => {
    const profile = makeProfile([boot(1), makeFindings({ volts: null })]);
    expect(profile.per).toBe("attempt");
    expect(profile.notes.map(({ code }) => code)).toEqual(["N_PROFILE_FEW"]);
  });

  it("refuses findings without parts, and of another board", () => {
    expect(() => makeProfile([boot(1), withoutBoard(boot(1))], ["a.json", "b.json"])).toThrow(
      /E_FINDINGS_PARTS.*b\.json/,
    );
    expect(() => makeProfile([boot(1), makeFindings({ board: { outline: "zz" } })])).toThrow(
      /E_COMPARE_BOARD/,
    );
  });
});

describe("exceedProfile", () => {
  it("subtracts what is healthy and names what is not", () => {
    const excess = exceedProfile(boot(1.02, [{ ref: "C6", powerW: 0.2 }]), makeProfile(GOOD));
    expect(excessSchema.parse(JSON.parse(JSON.stringify(excess)))).toEqual(excess);
    expect(excess.parts.filter(({ exceeds }) => exceeds).map(({ ref }) => ref)).toEqual(["C6"]);
    expect(excess.verdict).toBe("Warmer than in 4 healthy attempts: C6.");
    expect(Math.abs(excess.parts.find(({ ref }) => ref === "U1")!.z)).toBeLessThan(1);
  });

  it("finds a part that is warm anyway and warmer than it should be", () => {
    const excess = exceedProfile(boot(6), makeProfile(Array.from({ length: 8 }, () => boot(1))));
    expect(excess.parts[0]).toMatchObject({ ref: "U1", exceeds: true });
  });

  it("finds nothing in a healthy attempt, and says when nothing can be said", () => {
    expect(exceedProfile(boot(1), makeProfile(GOOD)).verdict).toBe(
      "No part is warmer than in 4 healthy attempts.",
    );
    const unfed = exceedProfile(makeFindings({ volts: null }), makeProfile(GOOD));
    expect(unfed.parts).toEqual([]);
    expect(unfed.verdict).toContain("states no volts and amps");
  });

  it("refuses another board", () => {
    expect(() => exceedProfile(makeFindings({ board: { outline: "zz" } }), makeProfile(GOOD))).toThrow(
      /E_COMPARE_BOARD/,
    );
    expect(() => exceedProfile(withoutBoard(boot(1)), makeProfile(GOOD), { file: "x.json" })).toThrow(
      /E_FINDINGS_PARTS.*x\.json/,
    );
  });
});

describe("compareFindings with a profile", () => {
  it("takes what healthy boards show for no fault, and what exceeds it for one", () => {
    // R4 is not marked as warm on the map, but heats on every good board.
    const good = (powerW: number) => makeFindings({ heat: [{ ref: "R4", powerW }] });
    const healthy = makeProfile([good(0.1), good(0.11), good(0.1), good(0.09)]);
    const found = compareFindings(good(0.1), good(0.1), { healthy });
    expect(found.parts[0]!.healthyZ!.every((z) => Math.abs(z!) < 2)).toBe(true);
    expect(found.verdict).toContain("no fault shows");
    const bad = compareFindings(good(0.9), good(0.9), { healthy });
    expect(bad.verdict).toBe("The heat at R4 is still there.");
  });
});

describe("parseProfile", () => {
  const profile = JSON.parse(JSON.stringify(makeProfile(GOOD)));

  it("takes what makeProfile gives", () => {
    expect(parseProfile(profile, "p.json")).toEqual({ profile, notes: [] });
  });

  it("refuses other files and wrong values with the place", () => {
    expect(() => parseProfile({ kind: "faultglow/board", version: 1 }, "p.json")).toThrow(
      /E_PROFILE_KIND.*p\.json/,
    );
    const wrong = structuredClone(profile);
    wrong.parts[1].contrastK.mean = "warm";
    expect(() => parseProfile(wrong, "p.json")).toThrow(/E_PROFILE_VALUE.*parts\[1\]\.contrastK/);
  });
});
