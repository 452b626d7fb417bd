import { describe, expect, it } from "vitest";
import { type EnergyInput, energyBooks } from "../../../src/findings/energy-books.js";

/** 0.9 V × 0.5 A = 0.45 W fed; one source of 0.3 W; a board that comes to rest in 5 min. */
const PLAIN: EnergyInput = {
  volts: 0.9,
  amps: 0.5,
  sources: [{ powerW: 0.3, powerSigmaW: 0.02 }],
  boardLoss: null,
  limits: [],
  smallestW: 0.006,
  smallestFarW: 0.009,
  farSide: "bottom",
  secondsOn: null,
  timeConstantS: 100,
  takenAtRest: true,
  thicknessKnown: false,
  lossWPerM2K: 20,
  plateKnown: true,
  exclusive: false,
};
const books = (change: Partial<EnergyInput>) => energyBooks({ ...PLAIN, ...change });

describe("energyBooks", () => {
  it("fed, seen and missing, each with its uncertainty", () => {
    const { fedW, seenW, seenSigmaW, missingW, missingSigmaW } = books({});
    expect(fedW).toBeCloseTo(0.45, 12);
    expect(seenW).toBe(0.3);
    expect(seenSigmaW).toBeCloseTo(0.02, 12);
    expect(missingW).toBeCloseTo(0.15, 12);
    // The meters' 2 % of 0.45 W are 9 mW: √(20² + 9²) = 21.93 mW.
    expect(missingSigmaW).toBeCloseTo(0.02193, 5);
  });

  it("errors that all sources share add up as they are, the rest in squares", () => {
    // Both 10 %: shared in full, 0.03 W. 10 % and 30 %: 10 % of 0.3 W shared, and √(0.03² − 0.01²) W of the second.
    const both = [
      { powerW: 0.2, powerSigmaW: 0.02 },
      { powerW: 0.1, powerSigmaW: 0.01 },
    ];
    expect(books({ sources: both }).seenSigmaW).toBeCloseTo(0.03, 12);
    const one = [both[0]!, { powerW: 0.1, powerSigmaW: 0.03 }];
    expect(books({ sources: one }).seenSigmaW).toBeCloseTo(Math.hypot(0.03, Math.sqrt(0.0008)), 12);
  });

  it("a missing part that leads can take: the resistance it needs, beside what is usual", () => {
    // 0.15 W ÷ (0.5 A)² = 0.60 Ω; less its uncertainty of 22 mW still 0.51 Ω: more than leads have.
    expect(books({}).meaning).toContain("0.60 Ω where 20 to 300 mΩ are usual");
    // 2 A, 0.225 V: the same watts need 0.15 W ÷ (2 A)² = 37.5 mΩ.
    expect(books({ volts: 0.225, amps: 2 }).meaning).toMatch(/can mean: 38 mΩ of leads, clips and tracks/);
    expect(books({ volts: 0.225, amps: 2 }).meaning).toContain("measured at the board's pads");
  });

  it("a shiny face that can hide as much, and one that can't", () => {
    const limits = [{ ref: "SH1", side: "top" as const, riseK: 4.1, powerW: 0.4 }];
    expect(books({ limits }).meaning).toContain("up to 0.40 W could lie unseen under the shiny face of SH1");
    expect(books({ limits: [{ ...limits[0]!, powerW: 0.05 }] }).meaning).not.toContain("SH1");
  });

  it("the other side, only where it could take as much without showing through", () => {
    expect(books({ smallestFarW: 0.2 }).meaning).toContain(
      "a part on the bottom side could take up to 0.20 W",
    );
    expect(books({}).meaning).not.toContain("bottom side");
  });

  it("with a clock: what parts still hold in the first seconds, and not the board, whose warming is in the watts", () => {
    // 0.45 W × 4.5 s ÷ 12 s = 0.17 W, which the missing 0.15 W may be.
    const { meaning } = books({ secondsOn: 12 });
    expect(meaning).toContain("12 s after power-on up to 0.17 W");
    expect(meaning).not.toContain("warming the board");
    // After 20 s it is 0.10 W, less than 0.15 − 0.022 W; before 4.5 s it is no more than all.
    expect(books({ secondsOn: 20 }).meaning).not.toContain("power-on");
    expect(books({ secondsOn: 2 }).meaning).toContain("up to 0.45 W");
  });

  it("without a clock: a board that looks at rest may still warm; of one that warms the watts count it", () => {
    expect(books({}).meaning).toContain("if the power had been on for less than some 5 min");
    expect(books({ takenAtRest: false }).meaning).not.toContain("power had been on");
  });

  it("watts too uncertain: what would tighten them, the time first where it was not told", () => {
    const sources = [{ powerW: 0.3, powerSigmaW: 0.29 }];
    const loose = (change: Partial<EnergyInput>) => books({ sources, plateKnown: false, ...change }).meaning;
    expect(loose({})).toMatch(/tighten them: the seconds from power-on to the powered frames; the board's/);
    expect(loose({ secondsOn: 20 })).toMatch(
      /tighten them: the board's thickness, conductance and loss in the map/,
    );
    expect(loose({ secondsOn: 20, thicknessKnown: true })).toMatch(
      /tighten them: the board's conductance and/,
    );
    expect(loose({ plateKnown: true })).toMatch(/tighten them: frames of a board that has come to rest/);
  });

  it("a board warmer than its sources make it: heat that is not found yet", () => {
    const { meaning } = books({ boardLoss: { powerW: 0.43, sigmaW: 0.03 } });
    expect(meaning).toContain("none of the sources found explains");
    expect(meaning).toContain("0.430 ± 0.030 W");
  });

  it("none of the usual places: said so", () => {
    expect(books({ secondsOn: 400 }).meaning).toContain("None of the usual places holds as much");
  });

  it("too little to be found: said so, with what would have been", () => {
    const { meaning } = books({ amps: 0.005, sources: [] });
    expect(meaning).toBe("So little would not have been found: half of the parts must take 6.0 mW to be.");
    expect(books({ amps: 0.05, sources: [] }).meaning).not.toContain("So little");
  });

  it("more seen than fed: the factor, and the loss that would balance the books", () => {
    // 0.675 W of 0.45 W: 1.5 times; 20 ÷ 1.5 = 13.3 W/m²K is a loss that boards have.
    const { meaning } = books({ sources: [{ powerW: 0.675, powerSigmaW: 0.05 }] });
    expect(meaning).toContain("1.5 times too high");
    expect(meaning).toContain("13 W/m²K in place of 20");
    // Five times: 4 W/m²K is none.
    const far = books({ sources: [{ powerW: 2.25, powerSigmaW: 0.2 }] }).meaning;
    expect(far).toContain("5.0 times too high");
    expect(far).toContain("another supply");
  });

  it("frames and feed that can't both be right: said so however wide the watts are, with what to check", () => {
    // 7 W of 0.45 W fed: 16 times; 20 ÷ 16 = 1.3 W/m²K is a loss that no board has.
    const sources = [{ powerW: 7, powerSigmaW: 6.5 }];
    expect(books({ sources }).exclusive).toBe(false);
    const { exclusive, meaning } = books({ sources, exclusive: true, secondsOn: 4, plateKnown: false });
    expect(exclusive).toBe(true);
    expect(meaning).toContain("can't both be right, and the watts told of parts do not stand");
    expect(meaning).toContain("16 times too high");
    for (const what of [
      "meter",
      "another supply",
      "scale",
      "emissivity",
      "lens",
      "power-on",
      "map of this board",
    ]) {
      expect(meaning, what).toContain(what);
    }
    expect(books({ sources, exclusive: true }).meaning).not.toContain("power-on");
    // A factor that a wrong loss makes may be its, or another's.
    const near = [{ powerW: 0.675, powerSigmaW: 0.05 }];
    const laid = books({ sources: near, exclusive: true }).meaning;
    expect(laid).toMatch(
      /may be off by that factor: a loss of 13 W\/m²K in place of 20 .* Check volts, amps/,
    );
  });

  it("… and where the whole board agrees with what was fed, it is the conductance", () => {
    const sources = [{ powerW: 0.675, powerSigmaW: 0.05 }];
    const { meaning } = books({ sources, boardLoss: { powerW: 0.44, sigmaW: 0.05 } });
    expect(meaning).toContain("the plate's conductance may be off rather than its loss. Check conductance");
    const excluded = books({ sources, boardLoss: { powerW: 0.44, sigmaW: 0.05 }, exclusive: true }).meaning;
    expect(excluded).toContain("the watts told of parts do not stand");
    expect(excluded).not.toContain("can't both be right");
  });

  it("agreement: what may still be missing", () => {
    // 0.45 − 0.42 = 0.03 ± √(0.04² + 0.009²) = 0.041 W; 95 % below 0.03 + 1.645 × 0.041 = 0.0974 W.
    const { meaning } = books({ sources: [{ powerW: 0.42, powerSigmaW: 0.04 }] });
    expect(meaning).toBe("Fed and seen agree within the uncertainty; up to 97 mW may still be missing.");
  });

  it("too loose to say: what would tighten it; the whole board speaks where it can", () => {
    const sources = [{ powerW: 0.4, powerSigmaW: 0.3 }];
    expect(books({ sources, plateKnown: false }).meaning).toContain("conductance and loss in the map");
    const { meaning } = books({ sources, boardLoss: { powerW: 0.44, sigmaW: 0.05 } });
    expect(meaning).toContain("by the balance of the whole board fed and seen agree");
  });

  it("nothing found: all is missing, by what would have been found", () => {
    const { seenW, seenSigmaW, missingW } = books({ sources: [] });
    expect([seenW, missingW]).toEqual([0, 0.45]);
    // What would have been found 95 times in 100 is 1.645 standard uncertainties.
    expect(seenSigmaW).toBeCloseTo(0.006 / 1.645, 12);
  });

  it("no power, no riddle", () => {
    const none = books({ amps: 0, sources: [] });
    expect(none.meaning).toBe("No power was fed in: nothing can have warmed by it.");
    for (const value of Object.values(none)) expect(value).not.toBeNaN();
  });

  it("every meaning is whole sentences without a number that is none", () => {
    for (const amps of [0.01, 0.5, 6]) {
      for (const powerW of [0.001, 0.2, 3]) {
        for (const loss of [null, 0.001, 0.3, 4]) {
          const boardLoss = loss === null ? null : { powerW: loss, sigmaW: 0.2 * loss };
          const sources = [{ powerW, powerSigmaW: 0.2 * powerW }];
          const { meaning } = books({ amps, sources, boardLoss, secondsOn: loss === null ? 3 : null });
          expect(meaning).toMatch(/^[A-Z].*\.$/);
          expect(meaning).not.toMatch(/NaN|undefined|null|Infinity|e[+-]\d/);
        }
      }
    }
  });
});
