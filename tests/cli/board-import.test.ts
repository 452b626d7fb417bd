import { readdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { makeFolder } from "./make-frames.js";
import { runCli } from "./run-cli.js";

let cwd: string;
let remove: () => Promise<void>;
beforeAll(async () => {
  ({ folder: cwd, remove } = await makeFolder());
  await writeFile(
    join(cwd, "parts.csv"),
    "Designator;Mid X (mm);Mid Y (mm);Layer;Rotation;Footprint\nC1;12,5;7,0;T;90;0402\nU7;21;11,5;B;0;ODD-9\n",
  );
  await writeFile(
    join(cwd, "board.svg"),
    '<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="26mm" viewBox="0 0 40 26">\n' +
      '<rect id="edge" width="40" height="26"/>\n<g id="top"><circle id="U3" cx="9" cy="12" r="2"/></g>\n</svg>\n',
  );
});
afterAll(() => remove());

const board = (...words: string[]) => runCli(["board", ...words], { cwd });

describe("faultglow board import", () => {
  it("makes a map of a table, which passes the check", async () => {
    const made = await board(
      "import",
      "parts.csv",
      "--outline",
      "40x26",
      "--size",
      "ODD-9=3x4",
      "--out",
      "map.json",
    );
    expect(made).toMatchObject({ status: 0, err: "" });
    // 40 × 26 mm are 1040 mm².
    expect(made.out).toBe(
      "map.json holds 2 parts (1 top, 1 bottom) from the table parts.csv, outline 40.0 × 26.0 mm, 1040 mm².\n",
    );
    expect((await board("check", "map.json")).out).toMatch(/^map\.json can be used: 2 regions/);
    const map = JSON.parse(await readFile(join(cwd, "map.json"), "utf8"));
    expect(map.regions[1]).toMatchObject({ ref: "U7", side: "bottom", kind: "ic" });
  });

  it("does not overwrite a map unless told so", async () => {
    await writeFile(join(cwd, "old.json"), "a day's work");
    const words = ["import", "board.svg", "--out", "old.json"];
    const refused = await board(...words);
    expect(refused.status).toBe(2);
    expect(refused.err).toMatch(/^E_OUTPUT: the file is there already \(old\.json\)\. .*--replace/m);
    expect(await readFile(join(cwd, "old.json"), "utf8")).toBe("a day's work");
    expect((await board(...words, "--replace")).status).toBe(0);
    expect(JSON.parse(await readFile(join(cwd, "old.json"), "utf8"))).toMatchObject({
      kind: "faultglow/board",
    });
    expect((await readdir(cwd)).filter((name) => name.endsWith(".tmp"))).toEqual([]);
  });

  it("prints the map alone with --json", async () => {
    const { status, out, err } = await board("import", "board.svg", "--outline", "edge", "--json");
    expect([status, err]).toEqual([0, ""]);
    expect(JSON.parse(out).regions).toMatchObject([{ ref: "U3", side: "top" }]);
  });

  it("takes an outline from a map or a drawing", async () => {
    for (const outline of ["board.svg", "outline.json"]) {
      const map = await board("import", "board.svg", "--json");
      await writeFile(join(cwd, "outline.json"), map.out);
      const made = await board(
        "import",
        "parts.csv",
        "--outline",
        outline,
        "--default-size",
        "3x4",
        "--json",
      );
      expect(JSON.parse(made.out).outline[2], outline).toEqual([40, 26]);
      expect(made.err).toMatch(/^N_IMPORT_ASSUMED: .*"ODD-9" \(U7\)/);
    }
  });

  it("lists the packages that it does not know", async () => {
    const { status, out, err } = await board("import", "parts.csv");
    expect([status, out]).toEqual([2, ""]);
    expect(err).toMatch(/^E_IMPORT_PACKAGE: .*"ODD-9" \(U7\) \(parts\.csv, line 3\)/);
  });

  it.each([
    [["gone.csv"], /^E_IMPORT_READ: .*no such file.*gone\.csv/],
    [["."], /^E_IMPORT_READ: .*folder/],
    [["parts.csv", "--outline", "edge"], /^E_USAGE: --outline needs a size/],
    [["parts.csv", "--origin", "3"], /^E_USAGE: --origin/],
    [["parts.csv", "--size", "3x4"], /^E_USAGE: --size/],
    [["parts.csv", "--default-size", "0x4"], /^E_USAGE: --default-size/],
    [["parts.csv", "--unit", "furlong"], /^E_USAGE: .*--unit/],
    [["board.svg", "--turn", "clockwise"], /^E_USAGE: --turn is for centroid tables/],
    [["board.svg", "--out", "no/such/folder.json"], /^E_OUTPUT: /],
  ])("refuses %j", async (words, message) => {
    const { status, out, err } = await board("import", ...words);
    expect([status, out]).toEqual([2, ""]);
    expect(err).toMatch(message);
  });
});

describe("faultglow board export", () => {
  it("draws a map that comes back the same", async () => {
    const map = await board("import", "board.svg", "--json");
    await writeFile(join(cwd, "first.json"), map.out);
    const made = await board("export", "first.json", "--out", "first.svg");
    expect(made).toMatchObject({ status: 0, out: "first.svg shows 1 part.\n", err: "" });
    expect((await board("export", "first.json")).out).toBe(await readFile(join(cwd, "first.svg"), "utf8"));
    expect((await board("import", "first.svg", "--json")).out).toBe(map.out);
  });

  it("refuses what is no map", async () => {
    expect((await board("export", "board.svg")).err).toMatch(/^E_JSON_SYNTAX/);
  });
});
