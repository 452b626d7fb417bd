import { describe, expect, it } from "vitest";
import { shinyByLetters, shinyFromBaseline } from "../../../src/sources/shiny-chance.js";

describe("shinyByLetters", () => {
  it.each([
    ["SH1", 0.6],
    ["can2", 0.6],
    ["MP3", 0.6],
    ["E", 0.6],
    ["J12", 0.3],
    ["USB1", 0.3],
    ["CON4", 0.3],
    ["C12", 0.05],
    ["FB3", 0.05],
    ["q7", 0.05],
  ])("%s is bare metal with a chance of %f", (ref, chance) => {
    expect(shinyByLetters(ref)).toBe(chance);
  });

  it("of other letters, and where they only begin or end with such, little is known", () => {
    for (const ref of ["U1", "", "1C", "SHX1", "XSH1", "JX1", "UJ1", "CX1", "UC1", "U-SH"])
      expect(shinyByLetters(ref), ref).toBe(0.15);
  });
});

describe("shinyFromBaseline", () => {
  it("a face that stands out of the unpowered board is the more probably a mirror; one that does not, the less", () => {
    const chances = [0, 0.2, 0.5, 1, 2, 4].map((k) => shinyFromBaseline(0.15, k));
    for (let k = 1; k < chances.length; k++) expect(chances[k]!).toBeGreaterThan(chances[k - 1]!);
    expect(chances[0]!).toBeLessThan(0.15);
    expect(chances.at(-1)!).toBeGreaterThan(0.5);
    expect(shinyFromBaseline(0.15, -2)).toBe(shinyFromBaseline(0.15, 2));
  });

  it("what was certain stays certain, and where nothing is seen nothing changes", () => {
    expect(shinyFromBaseline(0, 3)).toBe(0);
    expect(shinyFromBaseline(1, 0)).toBe(1);
    expect(shinyFromBaseline(0.15, null)).toBe(0.15);
    expect(shinyFromBaseline(0.15, Number.NaN)).toBe(0.15);
  });

  it("is Bayes with Student's densities of three degrees of freedom, 2 ÷ (π √3 (1 + t²/3)²), of 1.5 and 0.25 K", () => {
    const density = (x: number, scale: number) =>
      2 / (Math.PI * Math.sqrt(3) * (1 + (x / scale) ** 2 / 3) ** 2) / scale;
    for (const contrastK of [0, 0.3, -0.8, 2.4]) {
      const odds = (0.3 / 0.7) * (density(contrastK, 1.5) / density(contrastK, 0.25));
      expect(shinyFromBaseline(0.3, contrastK)).toBeCloseTo(odds / (1 + odds), 10);
    }
    expect(shinyFromBaseline(0.3, Number.POSITIVE_INFINITY)).toBe(0.3);
  });

  it("two pictures tell more than one", () => {
    const once = shinyFromBaseline(0.15, 2);
    expect(shinyFromBaseline(once, 2)).toBeGreaterThan(once);
  });
});
