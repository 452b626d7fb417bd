import { describe, expect, it } from "vitest";
import { entropyBits } from "../../../src/suspects/expected-gain.js";
import { chooseMeasurement } from "../../../src/suspects/next-measurement.js";
import type { OpenQuestion } from "../../../src/suspects/open-question.js";
import { alikeAfter } from "../../../src/suspects/separation.js";
import { NEAR, part, rest } from "./open-question.js";

const choose = (change: Partial<OpenQuestion>) => chooseMeasurement({ ...NEAR, ...change })!;
const doubt = ({ hypotheses }: Pick<OpenQuestion, "hypotheses">) =>
  entropyBits(hypotheses.map((h) => h.probability));

/** What is open, and what the advice must name. */
const CASES: readonly (readonly [string, Partial<OpenQuestion>, readonly RegExp[]])[] = [
  [
    "two on different sides",
    {
      hypotheses: [
        part("U7", 0.5, [20, 11]),
        part("U30", 0.4, [20.3, 11.2], { side: "bottom" }),
        rest("doubt", 0.1),
      ],
    },
    [/^Capture the bottom side: U7 and U30 lie on different sides/],
  ],
  [
    "the same, seen from below",
    {
      viewSide: "bottom",
      hypotheses: [
        part("U7", 0.5, [20, 11]),
        part("U30", 0.4, [20.3, 11.2], { side: "bottom" }),
        rest("doubt", 0.1),
      ],
    },
    [/^Capture the top side/],
  ],
  [
    "two behind the board",
    {
      hypotheses: [
        part("U30", 0.5, [20, 11], { side: "bottom" }),
        part("U31", 0.4, [22.1, 12.4], { side: "bottom" }),
        rest("doubt", 0.1),
      ],
    },
    [/^Capture the bottom side: U30 and U31 both lie there/],
  ],
  ["two near ones, seen strongly", {}, [/short burst from power-on: U7 and C12 lie 1\.5 mm apart/]],
  [
    "two near ones on one net: a reading can't tell them apart",
    {
      hypotheses: [
        part("U7", 0.5, [20, 11], { nets: ["VSYS", "GND"] }),
        part("C12", 0.4, [21.2, 11.9], { nets: ["GND", "VSYS"] }),
        rest("doubt", 0.1),
      ],
    },
    [/burst/],
  ],
  [
    "two near ones on different nets: the reading can",
    {
      hypotheses: [
        part("U7", 0.5, [20, 11], { nets: ["VSYS", "V3", "GND"] }),
        part("C12", 0.4, [21.2, 11.9], { nets: ["GND", "VSYS"] }),
        rest("doubt", 0.1),
      ],
    },
    [/supply off, read V3 to ground/, /U7 is on that net and C12 is not\.$/],
  ],
  [
    "two near ones, coarse pixels, already a burst: closer",
    { isBurst: true, mmPerPx: 1.3, widthMm: 1.7, significance: 60 },
    [/^Capture again from closer: U7 and C12 lie 1\.5 mm apart, which is 1\.2 pixels/],
  ],
  [
    "faint: the rhythm of the supply",
    { significance: 6.2, hypotheses: [part("U7", 0.55, [20, 11]), rest("doubt", 0.45)] },
    [/--cycle/, /only 6\.2 times above the noise/, /below the rail's nominal voltage/],
  ],
  [
    "faint, and cycled already: more frames or current",
    {
      significance: 6.2,
      isCycled: true,
      isBurst: true,
      bothSides: true,
      hypotheses: [part("U7", 0.55, [20, 11]), rest("doubt", 0.45)],
    },
    [
      /^Average more frames, or raise the current in small steps below the rail's nominal voltage/,
      /6\.2 times/,
    ],
  ],
  [
    "part or reflection: tape",
    { hypotheses: [part("U7", 0.55, [20, 11]), rest("mirror", 0.45)] },
    [/^Put matte tape on U7/, /no reflection\.$/],
  ],
  [
    "one part and a doubt that noise has no share in: the other side",
    { isBurst: true, hypotheses: [part("U7", 0.5, [20, 11]), rest("doubt", 0.5)] },
    [/^Capture the bottom side: the named parts on this side explain the heat poorly/],
  ],
];

describe("chooseMeasurement", () => {
  it.each(CASES)("%s", (_, change, wanted) => {
    const { sentence, gainBits } = choose(change);
    for (const words of wanted) expect(sentence).toMatch(words);
    expect(sentence).toMatch(/^[A-Z].*\.$/);
    expect(sentence.slice(0, -1)).not.toMatch(/\.\s|NaN|undefined|null|Infinity/);
    expect(gainBits).toBeGreaterThan(0.02);
    expect(gainBits).toBeLessThanOrEqual(doubt({ ...NEAR, ...change }));
  });

  it("two parts on one place and one net: neither picture nor reading of nets tells them apart", () => {
    const nets = ["VSYS", "GND"];
    const stacked = [part("U7", 0.5, [20, 11], { nets }), part("SH1", 0.5, [20, 11], { nets })];
    expect(chooseMeasurement({ ...NEAR, hypotheses: stacked })).toBeNull();
  });

  it("from closer is no advice for what lies many pixels apart already", () => {
    // A burst, both sides and a strong rise are there: what is open is no matter of pixels.
    const known = { isBurst: true, bothSides: true, significance: 60, widthMm: 0.9 };
    const apart = (mm: number, mmPerPx: number) =>
      chooseMeasurement({
        ...NEAR,
        ...known,
        mmPerPx,
        hypotheses: [part("U7", 0.5, [20, 11]), part("C12", 0.5, [20 + mm, 11])],
      })?.sentence ?? "";
    // 1.5 mm: three pixels, then fifteen.
    expect(apart(1.5, 0.5)).toMatch(
      /^Capture again from closer: U7 and C12 lie 1\.5 mm apart, .* 3\.0 pixels/,
    );
    expect(apart(1.5, 0.1)).not.toMatch(/closer/);
    expect(apart(15, 0.5)).not.toMatch(/closer/);
  });

  it("what is settled leaves nothing to gain", () => {
    expect(chooseMeasurement({ ...NEAR, hypotheses: [part("U7", 1, [20, 11])] })).toBeNull();
    expect(
      chooseMeasurement({ ...NEAR, hypotheses: [part("U7", 0.999, [20, 11]), rest("doubt", 0.001)] }),
    ).toBeNull();
  });

  it("the more even the two, the more there is to gain", () => {
    const gain = (p: number) =>
      choose({
        hypotheses: [part("U7", p, [20, 11]), part("U30", 1 - p, [20.3, 11.2], { side: "bottom" })],
      }).gainBits!;
    expect(gain(0.5)).toBeGreaterThan(gain(0.7));
    expect(gain(0.7)).toBeGreaterThan(gain(0.9));
  });

  it("a reading that is as good goes before a capture, for it is less trouble", () => {
    const both = choose({
      bothSides: true,
      isBurst: true,
      hypotheses: [
        part("U7", 0.5, [20, 11], { nets: ["V3"] }),
        part("C12", 0.5, [21.2, 11.9], { nets: ["V5"] }),
      ],
    });
    expect(both.sentence).toContain("With the supply off, read V3 to ground");
  });

  it("ground is not read to ground, whatever it is called", () => {
    for (const ground of ["GND", "AGND", "PGND", "VSS", "gnd", "GND1"]) {
      const { sentence } = choose({
        hypotheses: [
          part("U7", 0.5, [20, 11], { nets: [ground] }),
          part("C12", 0.5, [21.2, 11.9], { nets: ["V3"] }),
        ],
      });
      expect(sentence).not.toContain(`read ${ground} `);
    }
  });
});

describe("alikeAfter", () => {
  const [a, b] = [part("U7", 0.45, [20, 11]), part("C12", 0.45, [21.2, 11.9])];
  const alike = (change: object) => alikeAfter(NEAR, a, b, { ...NEAR, ...change });

  /** By hand: overlap c of two Gaussians means d = √(−8 ln c) σ apart; the nearer one is wrong with the tail beyond
   *  d/2. */
  it("a capture like the one at hand leaves even odds nearly even", () => {
    // c = 0.95: d/2σ = 0.3203, tail 0.3744 (table of the normal distribution, linear between 0.32 and 0.33).
    expect(alike({})).toBeCloseTo(0.3744 / (1 - 0.3744), 3);
  });

  it("odds of 16 to 1: an overlap of 1/4, less alike", () => {
    // d/2σ = √(−2 ln ¼) = 1.6651, tail 0.0479.
    const odds = alikeAfter(NEAR, { ...a, probability: 0.8 }, { ...b, probability: 0.05 }, NEAR);
    expect(odds).toBeCloseTo(0.0479 / (1 - 0.0479), 3);
  });

  it("half the width: twice as far apart", () => {
    // 2 × 0.3203 = 0.6406, tail 0.2609.
    expect(alike({ widthMm: 3.1 / 2 })).toBeCloseTo(0.2609 / (1 - 0.2609), 3);
  });

  it("a wider or a fainter spot leaves them more alike, a sharper or a stronger one less", () => {
    expect(alike({ widthMm: 4 })).toBeGreaterThan(alike({}));
    expect(alike({ significance: 9 })).toBeGreaterThan(alike({}));
    expect(alike({ significance: 900 })).toBeLessThan(alike({}));
  });

  it("one over the other: alike for ever", () => {
    expect(alikeAfter(NEAR, a, { ...b, at: a.at }, { ...NEAR, widthMm: 0.01 })).toBe(1);
  });
});
