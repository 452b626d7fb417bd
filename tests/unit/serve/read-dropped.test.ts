import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { fileStamp } from "../../../src/read/known-hashes.js";
import { readDropped } from "../../../src/serve/read-dropped.js";
import { WORK_HASHES } from "../../../src/serve/work-shelf.js";

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "faultglow-dropped-"));
});
afterAll(() => rm(folder, { recursive: true }));

async function read(name: string, content: string) {
  const path = join(folder, name);
  await writeFile(path, content);
  return readDropped({ path, name, beside: null }, { toolVersion: "1.2.3", say: () => {} });
}

describe("a dropped file", () => {
  it("of JSON is told by its kind", async () => {
    expect(await read("map.json", '{"kind":"faultglow/board"}')).toMatchObject({
      sort: "board",
      error: null,
    });
    expect(await read("VIEW.JSON", '{"kind":"faultglow/view"}')).toMatchObject({ sort: "view", error: null });
  });

  it.each(['{"kind":"something else"}', '{"kind":', "[1,2]"])(
    "of JSON that is none of the tool's is said to be that, and not held for a frame: %s",
    async (content) => {
      const told = await read("notes.json", content);
      expect(told).toMatchObject({ sort: "unreadable", error: { code: "E_FRAME_TYPE" } });
      expect(told.error!.problem).toContain("a board map, a view or a scale was expected");
    },
  );

  it("that is a frame is read", async () => {
    const { sort, frame } = await read("off.csv", "21,22,23\n24,25,26\n");
    expect([sort, frame?.width, frame?.height]).toEqual(["frame", 3, 2]);
  });

  it("that was hashed as it came is hashed again only if it was written to since", async () => {
    const path = join(folder, "on.csv");
    await writeFile(path, "31,32,33\n34,35,36\n");
    // No hash of these bytes: that it is taken shows where it is from.
    const received = { sha256: "0".repeat(64), stamp: (await fileStamp(path))! };
    const look = async () => {
      WORK_HASHES.clear();
      await readDropped(
        { path, name: "on.csv", beside: null, received },
        { toolVersion: "1.2.3", say: () => {} },
      );
      return (await WORK_HASHES.find(path))?.sha256;
    };
    expect(await look()).toBe(received.sha256);
    await writeFile(path, "31,32,33\n34,35,36\n37,38,39\n");
    expect(await look()).toBe(createHash("sha256").update(readFileSync(path)).digest("hex"));
  });

  it("that is large is told by every reading where one alone counts, and by some rows where the middle does", async () => {
    // 153,600 pixels: every second row is looked at. A row is 0.02 K warmer than the one above it.
    const [width, height] = [512, 300];
    const rows = Array.from({ length: height }, (_, y) =>
      new Array<string>(width).fill((20 + 0.02 * y).toFixed(2)),
    );
    rows[17]![3] = "-4.5";
    rows[201]![500] = "88.25";
    rows[5]![7] = "";
    const csv = (of: string[][]): string => of.map((row) => row.join(",")).join("\n");
    const { frame } = await read("large.csv", csv(rows));
    expect(frame).toMatchObject({ lowC: -4.5, highC: 88.25, missing: 1 });
    // Row 149 of 0, 2, … 298 lies in the middle of two of them: 22.96 and 23.00 °C.
    expect(frame!.medianC).toBeCloseTo(22.98, 5);
    // Where none of these rows has a reading, all are looked at: 75 rows up to 149 lack one reading, so that the middle
    // one of all is the lowest of the 75 from 151 on, 23.02 °C.
    const odd = rows.map((row, y) => (y % 2 === 0 ? row.map(() => "") : row));
    expect((await read("odd.csv", csv(odd))).frame!.medianC).toBeCloseTo(23.02, 5);
  });
});
