import { chmod, mkdir, mkdtemp, rm, symlink, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { compareNatural } from "../../../src/read/compare-natural.js";
import { FRAME_EXTENSIONS } from "../../../src/read/frame-extensions.js";
import { listFrameFiles } from "../../../src/read/list-frame-files.js";
import { nameMatcher } from "../../../src/read/match-glob.js";
import { caughtAsync } from "../frames/caught.js";

describe("compareNatural", () => {
  it("sorts numbers by value, whatever their length and zeros", () => {
    const sorted = [
      "a",
      "frame",
      "frame-2.csv",
      "frame-02.csv",
      "frame-10.csv",
      "Frame-11.csv",
      "frame-12345678901234567890123.csv",
      "frame-12345678901234567890124.csv",
      "g1",
      "g1/b",
      "g10",
    ];
    for (const shuffled of [[...sorted].reverse(), [...sorted].sort()]) {
      expect(shuffled.sort(compareNatural)).toEqual(sorted);
    }
  });
  it("is an order: 0 only for equal names, and turned round when they are", () => {
    const names = ["", "1", "01", "a1", "A1", "a01", "a/1", "a-1", "a1b2", "a1b10", "1a", "é2"];
    for (const a of names) {
      for (const b of names) {
        expect(Math.sign(compareNatural(a, b)) + Math.sign(compareNatural(b, a))).toBe(0);
        expect(compareNatural(a, b) === 0).toBe(a === b);
      }
    }
  });
});

describe("nameMatcher", () => {
  it.each([
    ["*", "a.csv", true],
    ["*.csv", "a.csv", true],
    ["*.csv", "a.csv.json", false],
    ["f?.png", "f1.png", true],
    ["f?.png", "f12.png", false],
    ["f*1*.png", "f-21-3.png", true],
    ["*.csv", ".csv", false],
    [".*", ".csv", true],
    ["a.c*", "abc", false],
    ["**x", "yyx", true],
    ["on-[0-3].csv", "on-2.csv", true],
    ["on-[0-3].csv", "on-4.csv", false],
    ["[!a]*.csv", "b.csv", true],
    ["[^a]*.csv", "a.csv", false],
    ["f-[ab-d]?.png", "f-c1.png", true],
    ["[]]x", "]x", true],
    ["[*]", "a", false],
    ["a[.csv", "a[.csv", true],
  ])("%s against %s: %s", (pattern, name, expected) => expect(nameMatcher(pattern)(name)).toBe(expected));
});

describe("listFrameFiles", () => {
  let root = "";
  const at = (name: string) => `${root}/${name}`;
  const list = async (...patterns: string[]) =>
    (await listFrameFiles(patterns.map(at))).files.map((file) => file.slice(root.length + 1));

  beforeAll(async () => {
    root = (await mkdtemp(join(tmpdir(), "frames-"))).replaceAll("\\", "/");
    await mkdir(at("run/deep/er"), { recursive: true });
    await mkdir(at("empty"));
    const names = [
      "run/frame-10.csv",
      "run/frame-2.csv",
      "run/frame-1.PNG",
      "run/frame-1.json",
      "run/frame-1.PNG.json",
      "run/notes.md",
      "run/.hidden.csv",
      "run/deep/frame-3.csv",
      "run/deep/er/frame-4.tif",
      "run/odd*.csv",
      "plain",
      "empty/readme.md",
    ];
    for (const name of names) await writeFile(at(name), "x");
  });
  afterAll(() => rm(root, { recursive: true, force: true }));

  it("knows the extensions of frames", () => {
    expect(FRAME_EXTENSIONS).toEqual([".csv", ".txt", ".tsv", ".dat", ".png", ".tif", ".tiff"]);
  });
  it("gives the frames of a folder in natural order, nothing else", async () => {
    const expected = ["run/frame-1.PNG", "run/frame-2.csv", "run/frame-10.csv", "run/odd*.csv"];
    expect(await list("run")).toEqual(expected);
    expect(await list("run/")).toEqual(expected);
  });
  it("looks up patterns, also through folders of any depth", async () => {
    expect(await list("run/frame-*.csv")).toEqual(["run/frame-2.csv", "run/frame-10.csv"]);
    expect(await list("run/frame-?.*")).toEqual(["run/frame-1.PNG", "run/frame-2.csv"]);
    expect(await list("**/frame-*")).toEqual([
      "run/deep/er/frame-4.tif",
      "run/deep/frame-3.csv",
      "run/frame-1.PNG",
      "run/frame-2.csv",
      "run/frame-10.csv",
    ]);
    expect(await list("run/**/er/*")).toEqual(["run/deep/er/frame-4.tif"]);
    expect(await list("r*/d*/*.csv")).toEqual(["run/deep/frame-3.csv"]);
    expect(await list("run/*.md")).toEqual(["run/notes.md"]);
  });
  it("takes a file of the very name before a pattern, whatever it is called", async () => {
    expect(await list("run/odd*.csv")).toEqual(["run/odd*.csv"]);
    expect(await list("plain")).toEqual(["plain"]);
  });
  it("gives every file once, in natural order over all that was named", async () => {
    expect(await list("run/frame-10.csv", "run/frame-2.csv", "run/*.csv", "run/./frame-2.csv")).toEqual([
      "run/frame-2.csv",
      "run/frame-10.csv",
      "run/odd*.csv",
    ]);
  });
  it("notes what was named more than once, by its folder and by itself", async () => {
    const notesOf = async (...patterns: string[]) =>
      (await listFrameFiles(patterns.map(at))).notes.map(({ code, text }) => `${code} ${text}`);
    const path = at("run/frame-2.csv");
    expect(await notesOf("run", "run/frame-2.csv", "run/./frame-2.csv")).toEqual([
      `N_FRAME_TWICE ${path} was named more than once, and counts once.`,
    ]);
    expect(await notesOf("run", "run/*")).toEqual([
      `N_FRAME_TWICE ${at("run/frame-1.PNG")} was named more than once, and counts once. The same goes for 3 more.`,
    ]);
    expect(await notesOf("run")).toEqual([]);
  });
  it("leaves relative names relative", async () => {
    const before = process.cwd();
    process.chdir(root);
    try {
      expect((await listFrameFiles(["run/f*2.csv", "plain"])).files).toEqual(["plain", "run/frame-2.csv"]);
      process.chdir(at("run"));
      expect((await listFrameFiles(["."])).files[0]).toBe("frame-1.PNG");
    } finally {
      process.chdir(before);
    }
  });
  it("is not trapped by a link that leads back", async () => {
    await symlink(at("run"), at("run/deep/back"));
    expect(await list("run/**/*.tif")).toEqual(["run/deep/er/frame-4.tif"]);
    await rm(at("run/deep/back"));
  });
  it("says what was looked for where nothing is found", async () => {
    const folder = await caughtAsync(list("empty"));
    expect(folder.code).toBe("E_FRAME_NONE");
    expect(folder.message).toContain(".csv .txt .tsv .dat .png .tif .tiff");
    expect(folder.message).not.toContain("inside it");
    await mkdir(at("attempt/powered"), { recursive: true });
    await mkdir(at("attempt/baseline"));
    expect((await caughtAsync(list("attempt"))).message).toContain("inside it (baseline, powered)");
    const pattern = await caughtAsync(list("run/*.tsv"));
    expect([pattern.code, pattern.parts.place?.file]).toEqual(["E_FRAME_NONE", at("run/*.tsv")]);
    const others = await caughtAsync(list("empty/*"));
    expect(others.message).toContain("1 of other kinds match");
    expect((await caughtAsync(listFrameFiles([]))).code).toBe("E_FRAME_NONE");
  });
  it("says that a file is missing", async () => {
    const error = await caughtAsync(list("run/frame-3.csv"));
    expect(error.code).toBe("E_FRAME_READ");
    expect(error.message).toContain("there is no such file or folder (");
    expect((await caughtAsync(listFrameFiles([""]))).code).toBe("E_FRAME_READ");
    expect((await caughtAsync(list("plain/x.csv"))).code).toBe("E_FRAME_READ");
    expect((await caughtAsync(list("x".repeat(5000)))).code).toBe("E_FRAME_READ");
  });
  // The superuser may read everything, and Windows knows no such permissions.
  const unlimited = process.platform === "win32" || process.getuid?.() === 0;
  it.skipIf(unlimited)(
    "says that a folder may not be read (skipped for the superuser and on Windows)",
    async () => {
      await mkdir(at("locked"));
      await chmod(at("locked"), 0);
      try {
        expect((await caughtAsync(list("locked"))).message).toContain("no permission");
      } finally {
        await chmod(at("locked"), 0o700);
      }
    },
  );
});
