// The table of varied constants on the page of constants: it names constants that there are, with the values that they
// have.
import { describe, expect, it } from "vitest";
import { JUDGEMENTS } from "../evaluate/varied/judgements.js";
import { constantNumbers } from "../evaluate/varied/replace-constant.js";
import { constantsPage } from "./constants.js";
import { readText } from "./project.js";
import { constantsOf } from "./read-constants.js";
import { addVaried, variedBlock, variedRows, variedSentence } from "./varied.js";

/** Reasons with what was counted or measured for the constant itself. */
const MEASURED = /\b\d+ (?:pairs|scenes|boards|watts)\b|simulated boards/;
/** Judged constants that no run has varied yet: what was varied goes from here to the page. Bodies in the rhythm of a
 *  supply show in cycled scenes alone, of which the last run had none. */
const WAITING = ["BODY.likeliest"];

describe("the table of varied constants", () => {
  it("has the values of the code (else vary the constant anew, or take its lines out of the page)", () => {
    const rows = variedRows();
    expect(rows.length).toBeGreaterThan(100);
    const stale = rows.filter(
      ({ path, name, value }) => String(constantNumbers(readText(path), name)) !== String(value),
    );
    expect(stale.map(({ path, name }) => `${path} ${name}`)).toEqual([]);
  });

  it("changes each constant down and up, on scenes that there are", () => {
    for (const { name, value, to, scenes } of variedRows()) {
      expect(to, name).toHaveLength(value.length);
      expect(to, name).not.toEqual(value);
      expect(scenes, name).toBeGreaterThan(0);
    }
  });

  it("holds every judged constant, but those that a test derives, that have figures of their own, or that wait", () => {
    const varied = new Set(variedRows().map(({ path, name }) => `${path} ${name}`));
    const derived = readText("tests/structure/derived-constants.test.ts");
    const open = JUDGEMENTS.flatMap(({ path, names }) =>
      Object.keys(names).filter((name) => {
        const { reason } = constantsOf(path).find((one) => one.name === name)!;
        const isMeasured = MEASURED.test(reason);
        return !varied.has(`${path} ${name}`) && !derived.includes(name) && !isMeasured;
      }),
    );
    expect(open.filter((name) => !WAITING.includes(name))).toEqual([]);
    const known = JUDGEMENTS.flatMap(({ names }) => Object.keys(names));
    expect(WAITING.filter((name) => !known.includes(name))).toEqual([]);
  });

  it("is told in the rows", () => {
    const page = constantsPage();
    const row = variedRows()[0]!;
    const line = page.split("\n").find((one) => one.startsWith(`| \`${row.name}\``));
    expect(line).toContain(`Changed to ${row.to.join(", ")} or `);
    expect(page).toContain(variedBlock()!);
    expect(constantsPage(null)).not.toContain("Changed to");
  });
});

describe("addVaried", () => {
  const printed = (path: string) => `\`\`\`text
constant  value  to  scenes  changed  right  wrong  other  false  watts %  chance  sq. error
${path}
  A_B         2   1      26        ·      ·      ·      ·      ·        ·       ·          ·
\`\`\``;

  it("puts a table in the place of those before, or after them", () => {
    const first = addVaried(printed("src/a.ts"), false, null);
    expect(first).toBe(`<!-- varied -->\n${printed("src/a.ts")}\n<!-- /varied -->`);
    expect(addVaried(printed("src/b.ts"), false, first)).toBe(first.replace("src/a.ts", "src/b.ts"));
    expect(addVaried(printed("src/b.ts"), true, first)).toBe(
      `<!-- varied -->\n${printed("src/a.ts")}\n\n${printed("src/b.ts")}\n<!-- /varied -->`,
    );
  });

  it("takes no constant twice", () => {
    const first = addVaried(printed("src/a.ts"), true, null);
    expect(() => addVaried(printed("src/a.ts"), true, first)).toThrow(/src\/a\.ts A_B was varied before/);
  });
});

describe("the sentence of a varied constant", () => {
  const row = {
    path: "src/a.ts",
    name: "A_B",
    value: [2],
    to: [1],
    scenes: 26,
    changed: 0,
    firsts: 0,
    falseHotspots: 0,
    chance: 0,
  };

  it("says what changed, or that nothing did", () => {
    const both = (down: object, up: object) =>
      variedSentence([
        { ...row, ...down },
        { ...row, to: [4], ...up },
      ]);
    expect(variedSentence([])).toBe("");
    expect(both({}, {})).toBe("Changed to 1 or 4: nothing in 26 scenes.");
    expect(both({ changed: 3 }, { changed: 2, chance: 0.012 })).toBe(
      "Changed to 1 or 4: the same first part in 26 scenes, a probability moves by up to 0.000 and 0.012.",
    );
    expect(both({ changed: 3, firsts: 1, falseHotspots: -1, chance: 0.3 }, { chance: 0.3 })).toBe(
      "Changed to 1 or 4: another first part in 1 and 0 of 26 scenes, -1 and 0 false hotspots, a probability moves by up to 0.300.",
    );
  });
});
