import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { marginOf } from "../../evaluate/varied/choose-scene.js";
import { compareSeen } from "../../evaluate/varied/compare-seen.js";
import { printVaried, readVaried, type Varied } from "../../evaluate/varied/print-varied.js";
import { constantNumbers, replaceConstant } from "../../evaluate/varied/replace-constant.js";
import type { SeenScene } from "../../evaluate/varied/seen-scene.js";
import { changesOf } from "../../evaluate/varied/vary.js";
import { varyValue } from "../../evaluate/varied/vary-value.js";
import { PROJECT } from "../../structure/project.js";

describe("varyValue", () => {
  it("halves and doubles a size, and all of a list", () => {
    expect(varyValue([3], "size")).toEqual([[1.5], [6]]);
    expect(varyValue([0.5, -8], "size")).toEqual([
      [0.25, -4],
      [1, -16],
    ]);
  });

  it("halves and doubles the odds of a chance, which stays one", () => {
    // Odds of 4 to 1 become 2 to 1 and 8 to 1.
    expect(varyValue([0.8], "chance")).toEqual([[0.667], [0.889]]);
    expect(varyValue([0.002], "chance")).toEqual([[0.001], [0.00399]]);
  });

  it("moves a logarithm of odds by ln 2, whatever its sign", () => {
    expect(varyValue([1], "odds")).toEqual([[0.307], [1.69]]);
    expect(varyValue([-3], "odds")).toEqual([[-3.69], [-2.31]]);
  });

  it("keeps a count whole", () => {
    expect(varyValue([5], "count")).toEqual([[3], [10]]);
  });

  it("says where a rule is none for a value, or changes nothing", () => {
    expect(() => varyValue([1], "chance")).toThrow(/outside 0 to 1/);
    expect(() => varyValue([0], "size")).toThrow(/nothing changes/);
    expect(() => varyValue([1], "count")).toThrow(/nothing changes/);
  });
});

const FILE = `// 0.25 stands here too, and LEAST = 7.
/** As far as 0.25. */
const REACH = 0.25;
export const OTHER_REACH = REACH * 0.25;
const STEPS = [1_000, -0.25] as const;
export const SOME_DEFAULTS = Object.freeze({
  /** Of 0.25. */
  reach: 0.25,
  deep: { reach: -1.5e-3 },
});
function local() { const REACH = 0.25; return REACH; }
`;

describe("replaceConstant", () => {
  it("changes the constant and nothing else, wherever it stands", () => {
    const changed = (name: string, values: readonly number[]): string[] => {
      const lines = replaceConstant(FILE, name, values).split("\n");
      return lines.filter((line, k) => line !== FILE.split("\n")[k]);
    };
    expect(changed("REACH", [0.5])).toEqual(["const REACH = 0.5;"]);
    expect(changed("STEPS", [2, 3])).toEqual(["const STEPS = [2, 3] as const;"]);
    expect(changed("SOME_DEFAULTS.reach", [-1])).toEqual(["  reach: -1,"]);
    expect(changed("SOME_DEFAULTS.deep.reach", [1e-7])).toEqual(["  deep: { reach: 1e-7 },"]);
    expect(replaceConstant(`\n\n${FILE}`, "REACH", [0.5])).toBe(
      `\n\n${replaceConstant(FILE, "REACH", [0.5])}`,
    );
  });

  it("reads the numbers that it would replace", () => {
    expect(constantNumbers(FILE, "STEPS")).toEqual([1000, -0.25]);
    expect(constantNumbers(FILE, "SOME_DEFAULTS.deep.reach")).toEqual([-0.0015]);
  });

  it("says what it can't replace", () => {
    expect(() => replaceConstant(FILE, "LEAST", [1])).toThrow(/LEAST stands 0 times/);
    expect(() => replaceConstant(FILE, "STEPS", [1])).toThrow(/2 numbers, and 1/);
    expect(() => replaceConstant("const A_PART = 2 * 3;", "A_PART", [1])).toThrow(/no number/);
    expect(() => replaceConstant("const A_B = 2;\nconst A_B = 3;", "A_B", [1])).toThrow(/2 times/);
  });

  it("holds for every constant that is varied", () => {
    const changes = changesOf(null);
    expect(changes.length).toBeGreaterThan(200);
    for (const { path, name, to } of changes) {
      const text = readFileSync(join(PROJECT, path), "utf8");
      expect(constantNumbers(replaceConstant(text, name, to), name), `${path} ${name}`).toEqual(to);
    }
  });
});

const seen = (scene: string, more: Partial<SeenScene> = {}): SeenScene => ({
  scene,
  error: null,
  hash: "a",
  first: "U1 top",
  right: true,
  falseAlarms: 0,
  wattsError: null,
  calls: [],
  chances: {},
  ...more,
});

describe("compareSeen", () => {
  const before = [
    seen("still 1", { wattsError: 0.1, chances: { "U1 top": 0.9, none: 0.05 }, calls: [[0.9, true]] }),
    seen("still 2", { right: false, first: "C4 top", wattsError: 0.5 }),
    seen("unpowered 1", { right: null, first: null }),
  ];

  it("finds nothing between equal answers", () => {
    expect(compareSeen(before, before)).toEqual({
      scenes: 3,
      changed: 0,
      forRight: 0,
      forWrong: 0,
      otherFirst: 0,
      falseHotspots: 0,
      wattsError: 0,
      chance: 0,
      squaredError: 0,
      failures: 0,
    });
  });

  it("counts what became right, wrong and another, and what more is said", () => {
    const after = [
      seen("unpowered 1", {
        hash: "b",
        right: null,
        first: "U7 top",
        falseAlarms: 2,
        chances: { "U7 top": 0.3, none: 0.7 },
      }),
      seen("still 1", {
        hash: "b",
        right: false,
        first: "C9 top",
        wattsError: 0.16,
        chances: { "C9 top": 0.5 },
        calls: [
          [0.5, false],
          [0, true],
        ],
      }),
      seen("still 2", { hash: "b", error: "no such thing" }),
    ];
    const found = compareSeen(before, after);
    expect(found).toMatchObject({
      scenes: 3,
      changed: 3,
      forRight: 1,
      forWrong: 1,
      otherFirst: 1,
      falseHotspots: 2,
      failures: 1,
    });
    // Of the first scene alone both state watts; U1, from 0.9, is named no more; 0.25 + 1 for 0.01, over three scenes.
    expect(found.wattsError).toBeCloseTo(0.06, 12);
    expect(found.chance).toBeCloseTo(0.9, 12);
    expect(found.squaredError).toBeCloseTo(1.24 / 3, 12);
  });

  it("takes it that with nothing named all is left to none", () => {
    const after = [seen("unpowered 1", { right: null, first: null, chances: { "U7 top": 0.2, none: 0.8 } })];
    expect(compareSeen(before, after).chance).toBeCloseTo(0.2, 12);
  });

  it("wants the tool as it is asked about the same scenes", () => {
    expect(() => compareSeen(before, [seen("still 3")])).toThrow(/still 3/);
  });
});

describe("printVaried", () => {
  const nothing = compareSeen([seen("still 1")], [seen("still 1")]);
  const row = (name: string, to: readonly number[], difference: Varied["difference"]): Varied => ({
    path: "src/sources/weigh-face.ts",
    name,
    value: [0.25, 7],
    to,
    difference,
  });

  it("prints what can be read again", () => {
    const moved = {
      ...nothing,
      scenes: 26,
      changed: 9,
      forRight: 1,
      forWrong: 2,
      otherFirst: 4,
      falseHotspots: -3,
      wattsError: null,
      chance: 0.1234,
    };
    const text = printVaried([
      row("SHARES", [0.1, 3], moved),
      row("SOME_DEFAULTS.share", [0.5, 14], nothing),
      {
        ...row("SHARES", [1], { ...nothing, failures: 1, changed: 1 }),
        path: "src/suspects/verdict.ts",
        value: [2],
      },
      row("NOT_ASKED", [1, 2], { ...nothing, scenes: 0 }),
    ]);
    expect(readVaried(`words before\n${text}\n`)).toEqual([
      {
        path: "src/sources/weigh-face.ts",
        name: "SHARES",
        value: [0.25, 7],
        to: [0.1, 3],
        scenes: 26,
        changed: 9,
        firsts: 7,
        falseHotspots: -3,
        chance: 0.123,
      },
      {
        path: "src/sources/weigh-face.ts",
        name: "SOME_DEFAULTS.share",
        value: [0.25, 7],
        to: [0.5, 14],
        scenes: 1,
        changed: 0,
        firsts: 0,
        falseHotspots: 0,
        chance: 0,
      },
      {
        path: "src/suspects/verdict.ts",
        name: "SHARES",
        value: [2],
        to: [1],
        scenes: 1,
        changed: 1,
        firsts: 0,
        falseHotspots: 0,
        chance: 0,
      },
    ]);
    expect(text).toContain(
      "Nothing in any finding changes, either way: sources/weigh-face SOME_DEFAULTS.share.",
    );
    expect(text).toContain("The tool fails with SHARES 1: 1.");
  });

  it("takes no other table for its own", () => {
    expect(readVaried("nothing of the kind")).toEqual([]);
    expect(() => readVaried("src/a.ts\n  A_B  1  2")).toThrow(/no line of a table/);
  });
});

describe("marginOf", () => {
  it("is how far the first is ahead, be it a part or none of them", () => {
    expect(marginOf({ chances: { "U1 top": 0.5, "C4 top": 0.25, none: 0.25 } })).toBe(0.25);
    expect(marginOf({ chances: { "U1 top": 0.125, none: 0.875 } })).toBe(0.75);
    expect(marginOf({ chances: { "U1 top": 0.75 } })).toBe(0.75);
    // Nothing found: surely none of them.
    expect(marginOf({ chances: {} })).toBe(1);
  });
});
