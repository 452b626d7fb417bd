import { describe, expect, it } from "vitest";
import { bindUnits } from "../../../src/report/bind-units.js";
import { columnWidths } from "../../../src/report/column-widths.js";
import { estimateWidth, fitText } from "../../../src/report/fit-text.js";
import {
  actionText,
  momentText,
  oneLine,
  placeText,
  powerText,
  readingText,
  sureness,
  symptomText,
} from "../../../src/report/job-words.js";
import { MARK_SIZE, markPlot } from "../../../src/report/mark-shapes.js";
import type { MarkShape } from "../../../src/report/report-document.js";
import { reportFonts } from "../../../src/report/report-fonts.js";
import { showable } from "../../../src/report/showable-text.js";
import { textWidth, wrapText } from "../../../src/report/wrap-text.js";
import { makeJobModel } from "./make-job.js";

const letters = (text: string): number => [...text].length;
const one = (): number => 1;

describe("wrapText", () => {
  it.each([
    ["one two three", 7, ["one two", "three"]],
    ["one  two", 3, ["one", "two"]],
    ["abcdefgh ij", 3, ["abc", "def", "gh", "ij"]],
    ["sample/frames-kept", 8, ["sample/", "frames-", "kept"]],
    ["主板短路，更换后好。", 4, ["主板短", "路，更换", "后好。"]],
    ["主板（短）", 3, ["主板", "（短）"]],
    ["a 主板", 3, ["a 主", "板"]],
    ["", 5, [""]],
  ])("breaks %j to %i", (text, width, lines) => {
    expect(wrapText(text, width, one)).toEqual(lines);
  });

  it("keeps numbers with their units together where a no-break space binds them", () => {
    expect(bindUnits("heat of 0.09 (0 to 0.25) W")).toBe("heat of 0.09 (0 to 0.25)\u00a0W");
    expect(wrapText(bindUnits("heat of 0.24 ± 0.03 W here"), 16, one)).toEqual([
      "heat of",
      "0.24\u00a0±\u00a00.03\u00a0W",
      "here",
    ]);
  });
});

describe("bindUnits", () => {
  it.each([
    ["> 99 % of 3 mW", ">\u00a099\u00a0% of 3\u00a0mW"],
    ["0.9 V × 0.25 A", "0.9\u00a0V ×\u00a00.25\u00a0A"],
    ["4 Who", "4 Who"],
    ["attempt 3 shows", "attempt 3 shows"],
    ["12 kΩ, 30 µW, 2 °C", "12\u00a0kΩ, 30\u00a0µW, 2\u00a0°C"],
  ])("binds %j", (text, bound) => {
    expect(bindUnits(text)).toBe(bound);
  });
});

describe("columnWidths", () => {
  const wish = (least: number, most: number, text = most) => ({ least, most, text });

  it("gives everybody what it wants where there is room", () => {
    expect(columnWidths([wish(10, 30), wish(5, 20)], 100)).toEqual([30, 20]);
  });

  it("makes rows about equally high: columns with three times the text are three times as wide", () => {
    const [narrow, wide] = columnWidths([wish(10, 300, 400), wish(10, 300, 1200)], 200);
    expect(narrow).toBeCloseTo(50, 6);
    expect(wide).toBeCloseTo(150, 6);
  });

  it("gives nobody less than its longest word, or more than its longest line", () => {
    const widths = columnWidths([wish(60, 300, 10), wish(5, 20, 900), wish(10, 400, 400)], 200);
    expect(widths.map((width) => Math.round(width))).toEqual([60, 20, 120]);
  });

  it("lets the widest give way where not even the least fits", () => {
    expect(columnWidths([wish(10, 10), wish(90, 90), wish(70, 70)], 100)).toEqual([10, 45, 45]);
  });
});

describe("fitText", () => {
  it("shortens with dots to what fits, and to nothing where nothing fits", () => {
    expect(fitText("U12", 100, 7)).toBe("U12");
    const short = fitText("VERY_LONG_NAME", 40, 7);
    expect(short).toMatch(/^VERY.*…$/);
    expect(estimateWidth(short) * 7).toBeLessThanOrEqual(40);
    expect(fitText("U12", 3, 7)).toBe("");
  });

  it("shortens a name of a million letters as it does a short one", () => {
    expect(fitText("W".repeat(1_000_000), 40, 7)).toBe(fitText("W".repeat(50), 40, 7));
  });

  it("estimates at least what the embedded fonts need, for all printable letters of Europe and for Chinese", () => {
    const all = Array.from({ length: 0x180 - 0x20 }, (_, i) => 0x20 + i).filter(
      (code) => code < 0x7f || code > 0xa0,
    );
    const fonts = reportFonts([...all, 0x4e3b, 0x677f, 0xff0c, 0x2026]);
    const wrong = [...all, 0x4e3b, 0x677f, 0xff0c, 0x2026].filter((code) => {
      if (fonts.missing.includes(code)) return false;
      const letter = String.fromCodePoint(code);
      return (
        fonts.regular.advanceOf(code) > estimateWidth(letter) + 1e-9 ||
        fonts.bold.advanceOf(code) > estimateWidth(letter, true) + 1e-9
      );
    });
    expect(wrong.map((code) => String.fromCodePoint(code)).join("")).toBe("");
  });
});

describe("showable", () => {
  it("composes letters, shows what commands, and numbers what no font has", () => {
    expect(showable("u\u0308", null)).toBe("ü");
    expect(showable("a\u202eb", null)).toBe("a\\u202eb");
    expect(showable("한x", new Set([0xd55c]))).toBe("[U+D55C]x");
    expect(showable("🔥", new Set([0x1f525]))).toBe("[U+1F525]");
  });
});

describe("words of a job", () => {
  it("tells moments with their offset, to the minute", () => {
    expect(momentText("2031-02-03T14:05:30+01:00")).toBe("2031-02-03 14:05 +01:00");
    expect(momentText("2031-02-03T14:05:30.25Z")).toBe("2031-02-03 14:05 UTC");
    expect(momentText("2031-02-03T14:05:30-03:30")).toBe("2031-02-03 14:05 −03:30");
  });

  it("tells actions", () => {
    expect(actionText({ did: "replaced", ref: "C12" })).toBe("C12 replaced");
    expect(actionText({ did: "shield-off", ref: "SH1", board: "upper" })).toBe(
      "SH1 shield taken off (board upper)",
    );
    expect(actionText({ did: "boards-split" })).toBe("Boards split");
    expect(actionText({ did: "other", ref: "J2" })).toBe("J2 worked on");
    expect(actionText({ did: "other" })).toBe("Other work");
  });

  it("tells power as far as it was noted", () => {
    const [attempt] = makeJobModel().job.attempts;
    const told = (conditions: object): string =>
      powerText({
        attempt: { ...attempt!.attempt, conditions: { ...attempt!.attempt.conditions, ...conditions } },
      });
    expect(told({})).toBe("1.20 V × 0.350 A = 0.420 W into VSYS, limited to 1.00 A");
    expect(told({ amps: null, limitA: null })).toBe("1.20 V into VSYS");
    expect(told({ volts: null, limitA: null, rail: null })).toBe("0.350 A");
    expect(told({ volts: null, amps: null, limitA: null })).toBe("Power into VSYS");
    expect(told({ volts: null, amps: null, rail: null })).toBe("Limited to 1.00 A");
    expect(told({ volts: null, amps: null, limitA: null, rail: null })).toBe("");
  });

  it("tells where a meter was held", () => {
    expect(placeText({ net: "VSYS", measure: "diode", value: 0, overRange: false, raw: "" })).toBe("VSYS");
    expect(placeText({ net: "VSYS", ref: "C7", pin: "1", board: "upper\nhalf" })).toBe(
      "VSYS, C7 pin 1 (upper half)",
    );
    expect(placeText({ net: null, ref: "C7", pin: null, board: null })).toBe("C7");
  });

  it("tells readings as a meter shows them", () => {
    expect(readingText("diode", 0.003, false)).toBe("0.003 V");
    expect(readingText("voltage", -3.3, false)).toBe("−3.300 V");
    expect(readingText("voltage", 12.34, false)).toBe("12.3 V");
    expect(readingText("resistance", 4.7, false)).toBe("4.70 Ω");
    expect(readingText("resistance", 46_000, false)).toBe("46.0 kΩ");
    expect(readingText("current", 0.25, false)).toBe("250 mA");
    expect(readingText("diode", null, true)).toBe("OL");
  });

  it("tells symptoms, and how sure", () => {
    expect(
      symptomText({ text: "dark\nscreen", restartsAfterS: 2.5, drawsA: 0.31, connected: ["cell"] }),
    ).toBe("dark screen; restarts 2.5 s after power-on; draws 0.31 A; with cell connected");
    expect(symptomText({})).toBeNull();
    expect([0.97, 0.85, 0.7, 0.3].map(sureness)).toEqual([
      "almost certainly",
      "very probably",
      "probably",
      "possibly",
    ]);
    expect(oneLine(" a\r\n\tb\u2028c ")).toBe("a b c");
  });
});

describe("marks", () => {
  it("are different shapes inside their square", () => {
    const shapes: MarkShape[] = [
      "square",
      "down",
      "up",
      "ring",
      "disc",
      "gap",
      "wave",
      "dash",
      "cross",
      "plus",
    ];
    const drawn = shapes.map((shape) => JSON.stringify(markPlot(shape).items));
    expect(new Set(drawn).size).toBe(shapes.length);
    for (const item of shapes.flatMap((shape) => markPlot(shape).items)) {
      for (const at of item.kind === "path" ? item.rings.flat(2) : []) {
        expect(at).toBeGreaterThanOrEqual(0);
        expect(at).toBeLessThanOrEqual(MARK_SIZE);
      }
    }
  });
});

describe("textWidth", () => {
  it("counts characters, not halves of pairs", () => {
    expect(textWidth("a🔥b", one)).toBe(letters("a🔥b"));
  });
});
