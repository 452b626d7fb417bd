import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { readDropped } from "../../../src/serve/read-dropped.js";

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
});
