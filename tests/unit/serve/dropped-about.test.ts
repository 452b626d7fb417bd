import { mkdir, mkdtemp, readdir, readFile, rm, stat, utimes, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { readBenchSettings, writeLastScale } from "../../../src/serve/bench-settings.js";
import { readDraft, writeDraft } from "../../../src/serve/draft-files.js";
import {
  type About,
  placeDropped,
  readAbouts,
  removeDropped,
  sweepInbox,
  writeAbouts,
} from "../../../src/serve/dropped-about.js";

let folder: string;
const inbox = (...names: string[]): string => join(folder, "inbox", ...names);
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "faultglow-about-"));
  await mkdir(inbox(".receiving"), { recursive: true });
});
afterEach(() => rm(folder, { recursive: true }));

function about(digit: string, name: string): About {
  return {
    kind: "faultglow/dropped",
    version: 1,
    sha256: digit.repeat(64),
    names: [name],
    bytes: 3,
    at: "2026-03-09T14:05:00+01:00",
    said: null,
    scale: null,
    ending: ".csv",
    read: null,
  };
}

async function drop(one: About): Promise<void> {
  const received = inbox(".receiving", one.sha256.slice(0, 8));
  await writeFile(received, "1,2");
  await placeDropped(folder, [{ about: one, path: received }]);
}

const names = async (): Promise<string[]> =>
  [...(await readAbouts(folder)).values()].map(({ names: [name] }) => name!);

describe("what is known of an inbox", () => {
  it("follows what this process puts there, changes and removes", async () => {
    await drop(about("a", "cold.csv"));
    await drop(about("b", "hot.csv"));
    expect(await names()).toEqual(["cold.csv", "hot.csv"]);
    expect(await readdir(inbox(".receiving"))).toEqual([]);
    await writeAbouts(folder, [{ ...about("b", "hot.csv"), said: "powered" }]);
    expect((await readAbouts(folder)).get("b".repeat(64))?.said).toBe("powered");
    await removeDropped(folder, [about("a", "cold.csv"), about("c", "never there.csv")]);
    expect(await names()).toEqual(["hot.csv"]);
    expect((await readdir(inbox())).filter((name) => name.startsWith("a"))).toEqual([]);
  });

  it("sees what another process put there, changed or removed", async () => {
    await drop(about("a", "cold.csv"));
    expect(await names()).toEqual(["cold.csv"]);
    // Another bench on the same folder.
    const other = about("b", "hot.csv");
    await writeFile(inbox(`${other.sha256}.csv`), "1,2");
    await writeFile(inbox(`${other.sha256}.about.json`), JSON.stringify(other));
    await tick();
    expect((await names()).sort()).toEqual(["cold.csv", "hot.csv"]);
    await rm(inbox(`${"a".repeat(64)}.csv`));
    await tick();
    expect(await names()).toEqual(["hot.csv"]);
  });

  it("sees within two seconds what changed within one tick of the disk's clock, also where the system's is set back", async () => {
    const clock = vi.spyOn(performance, "now").mockReturnValue(5000);
    const system = vi.spyOn(Date, "now").mockReturnValue(Date.UTC(2026, 9, 25, 3));
    try {
      await drop(about("a", "cold.csv"));
      expect(await names()).toEqual(["cold.csv"]);
      const { mtime } = await stat(inbox());
      const at = new Date(Math.floor(mtime.getTime() / 1000) * 1000);
      await utimes(inbox(), at, at);
      expect(await names()).toEqual(["cold.csv"]);
      await rm(inbox(`${"a".repeat(64)}.csv`));
      await utimes(inbox(), at, at);
      system.mockReturnValue(Date.UTC(2026, 9, 25, 2));
      clock.mockReturnValue(6999);
      // Nothing tells it yet: that its stamp is the same is what this test is about.
      expect(await names()).toEqual(["cold.csv"]);
      clock.mockReturnValue(7000);
      expect(await names()).toEqual([]);
    } finally {
      vi.restoreAllMocks();
    }
  });

  it("leaves out what has no bytes, and what is none of its files", async () => {
    const half = about("d", "half.csv");
    await writeFile(inbox(`${half.sha256}.about.json`), JSON.stringify(half));
    await writeFile(inbox("notes.txt"), "of somebody else");
    await writeFile(inbox(`${"e".repeat(64)}.about.json`), "{ torn");
    expect(await names()).toEqual([]);
    expect(await readFile(inbox("notes.txt"), "utf8")).toBe("of somebody else");
  });
});

describe("what a newer version of the tool has written", () => {
  const newer = (value: object): string => JSON.stringify({ ...value, version: 2 });
  const NEWER = /^E_JOB_KIND: .*version 2, made by a newer faultglow/;

  it("is refused, and stays as it is: a dropped file", async () => {
    await drop(about("a", "cold.csv"));
    const path = inbox(`${"b".repeat(64)}.about.json`);
    await writeFile(inbox(`${"b".repeat(64)}.csv`), "1,2");
    await writeFile(path, newer(about("b", "hot.csv")));
    await tick();
    await expect(readAbouts(folder)).rejects.toThrow(NEWER);
    expect(await readFile(path, "utf8")).toBe(newer(about("b", "hot.csv")));
  });

  it("is refused, and stays as it is: a draft", async () => {
    const kept = newer({ kind: "faultglow/draft", draft: { points: [1, 2] } });
    await writeFile(inbox("board.draft.json"), kept);
    await expect(readDraft(folder, "board")).rejects.toThrow(NEWER);
    await expect(writeDraft(folder, "board", { points: [] })).rejects.toThrow(NEWER);
    expect(await readFile(inbox("board.draft.json"), "utf8")).toBe(kept);
  });

  it("is left as it is: the bench's settings", async () => {
    const kept = newer({ kind: "faultglow/bench", lastScale: null, lastBoard: "main" });
    const path = join(folder, ".faultglow-bench.json");
    await writeFile(path, kept);
    await writeLastScale(folder, { lowC: 1, highC: 2 });
    expect(await readFile(path, "utf8")).toBe(kept);
    expect((await readBenchSettings(folder)).lastScale).toBeNull();
    // Those of this version are written over.
    await rm(path);
    await writeLastScale(folder, { lowC: 1, highC: 2 });
    expect((await readBenchSettings(folder)).lastScale).toEqual({ lowC: 1, highC: 2 });
  });
});

describe("sweepInbox", () => {
  it("removes what a killed run left half received or half taken, once it is old", async () => {
    const old = new Date(Date.now() - 7_200_000);
    const halves = [".receiving/1", ".taking-2", ".3.about.json.4.tmp"];
    for (const name of [...halves, ".receiving/young", "kept.csv"]) {
      await writeFile(inbox(name), "x");
      if (name !== ".receiving/young") await utimes(inbox(name), old, old);
    }
    await sweepInbox(folder);
    expect((await readdir(inbox(), { recursive: true })).sort()).toEqual([
      ".receiving",
      ".receiving/young",
      "kept.csv",
    ]);
  });
});

let ticks = 0;
/** Let the folder's clock go on: two changes within one tick of it look like one. */
async function tick(): Promise<void> {
  const { mtimeMs } = await stat(inbox());
  const later = new Date(mtimeMs + 1000 * ++ticks);
  await utimes(inbox(), later, later);
}
