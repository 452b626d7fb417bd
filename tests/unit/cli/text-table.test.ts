import { describe, expect, it } from "vitest";
import { textTable, textWidth } from "../../../src/cli/text-table.js";

describe("textTable", () => {
  it("lines columns up, right where asked, and leaves empty columns out", () => {
    const columns = [
      { title: "No.", right: true },
      { title: "Part" },
      { title: "Empty" },
      { title: "W", right: true },
    ];
    expect(
      textTable(columns, [
        ["1", "U12", "", "0.24"],
        ["10", "C3", "", "0.1"],
      ]),
    ).toEqual(["No.  Part     W", "  1  U12   0.24", " 10  C3     0.1"]);
  });

  it("counts wide characters as two columns and marks as none", () => {
    expect(textWidth("充電IC")).toBe(6);
    expect(textWidth("e\u0301")).toBe(1);
    expect(
      textTable(
        [{ title: "a" }, { title: "b" }],
        [
          ["充電", "x"],
          ["abcd", "y"],
        ],
      ).slice(1),
    ).toEqual(["充電  x", "abcd  y"]);
  });
});
