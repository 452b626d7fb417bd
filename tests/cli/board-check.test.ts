import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { makeBoard, makeFolder } from "./make-frames.js";
import { runCli } from "./run-cli.js";

let cwd: string;
let remove: () => Promise<void>;
beforeAll(async () => {
  ({ folder: cwd, remove } = await makeFolder());
  const board = makeBoard() as { regions: { ref: string; side: string; polygon: number[][] }[] };
  await writeFile(join(cwd, "good.json"), JSON.stringify(board));
  await writeFile(join(cwd, "doubtful.json"), JSON.stringify({ ...board, thicknessMm: 80 }));
  const twice = structuredClone(board);
  twice.regions[1]!.ref = "U5";
  twice.regions.push({
    ref: "U9",
    side: "top",
    polygon: [
      [40, 40],
      [44, 40],
      [44, 43],
    ],
  });
  await writeFile(join(cwd, "bad.json"), JSON.stringify(twice));
});
afterAll(() => remove());

const check = (...words: string[]) => runCli(["board", "check", ...words], { cwd });

describe("faultglow board check", () => {
  it("says in a line what a sound map holds", async () => {
    const { status, out, err } = await check("good.json");
    expect([status, err]).toEqual([0, ""]);
    // 26 × 18.5 mm are 481 mm².
    expect(out).toBe(
      "good.json can be used: 2 regions (2 top, 0 bottom), outline 26.0 × 18.5 mm, 481 mm².\n",
    );
  });

  it("lists what is doubtful and ends with 0", async () => {
    const { status, out } = await check("doubtful.json");
    expect(status).toBe(0);
    expect(out).toMatch(/^mind at thicknessMm: a board 80 mm thick is unusual\. .*\n.* can be used/);
  });

  it("lists every error and ends with 2", async () => {
    const { status, out, err } = await check("bad.json");
    expect(status).toBe(2);
    expect(out).toMatch(/error at regions\[1\]\.ref: the ref U5/);
    expect(out).toMatch(/error at regions\[2\].*U9/);
    expect(out).not.toContain("can be used");
    expect(err).toMatch(/^E_BOARD_\w+: the map can't be used: 2 errors/);
  });

  it("gives the list as JSON, alone on stdout", async () => {
    const good = JSON.parse((await check("good.json", "--json")).out);
    expect(good).toMatchObject({ usable: true, problems: [], summary: { regions: 2, areaMm2: 481 } });
    const bad = await check("bad.json", "--json");
    expect(JSON.parse(bad.out)).toMatchObject({ usable: false, summary: null });
    expect(
      JSON.parse(bad.out)
        .problems.map((problem: { code: string }) => problem.code)
        .sort(),
    ).toEqual(["E_BOARD_OUTSIDE", "E_BOARD_REF"]);
  });

  it("is silent about a sound map with --quiet", async () => {
    expect(await check("good.json", "--quiet")).toMatchObject({ status: 0, out: "", err: "" });
  });

  it("refuses a file that is not there", async () => {
    const { status, out, err } = await check("gone.json");
    expect([status, out]).toEqual([2, ""]);
    expect(err).toMatch(/^E_JSON_READ: .*gone\.json/);
  });
});
