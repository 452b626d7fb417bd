// Reference: csv-spectrum 2.0.0 (M. Ogden, BSD-2-Clause, the package of that name), twelve files of CSV with the rows
// that they hold. The splitter of tables is held against all of them, by itself and where it finds the separator.
import { readdirSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { describe, expect, it } from "vitest";
import { ToolError } from "../../src/core/errors.js";
import { splitTable } from "../../src/import/split-table.js";
import { splitReferences } from "../../src/readings/split-references.js";

const folder = dirname(createRequire(import.meta.url).resolve("csv-spectrum"));
const names = readdirSync(join(folder, "csvs")).map((name) => name.replace(/\.csv$/, ""));

/** Rows with the first one as names of the columns. Blanks around a field are no part of it to us. */
function asObjects(rows: readonly (readonly string[])[]): Record<string, string>[] {
  const [heads, ...rest] = rows;
  return rest.map((row) => Object.fromEntries(heads!.map((head, i) => [head, row[i] ?? ""])));
}

const RULES = { unclosed: () => new ToolError("E_TEXT_QUOTE", { problem: "never closes", fix: "close it" }) };

it("is there whole", () => {
  expect(names).toHaveLength(12);
});

describe.each(names)("%s", (name) => {
  const text = readFileSync(join(folder, "csvs", `${name}.csv`), "utf8");
  const published = JSON.parse(readFileSync(join(folder, "json", `${name}.json`), "utf8"));
  // As published, the rows of this one are no list, and its telephone number is not that of its CSV.
  const expected =
    name === "location_coordinates" ? [{ ...published, "Contact Phone Number": "2095257564" }] : published;

  it("is split for parts", () => {
    const rows = splitTable(text, ",", RULES).map(({ cells }) => cells.map((cell) => cell.text));
    expect(asObjects(rows)).toEqual(expected);
  });

  it("is split for readings", () => {
    expect(asObjects(splitReferences(text).map(({ fields }) => fields))).toEqual(expected);
  });
});
