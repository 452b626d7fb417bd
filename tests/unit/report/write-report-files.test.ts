import { mkdir, mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { findingsSchema } from "../../../src/findings/findings-schema.js";
import { makeFolders } from "../../../src/report/make-folders.js";
import { serialiseFindings } from "../../../src/report/serialise-findings.js";
import { writeFileAtomic } from "../../../src/report/write-file-atomic.js";
import { writeReportFiles } from "../../../src/report/write-report-files.js";
import { makeAnalysis } from "./make-analysis.js";

let folder: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "faultglow-"));
});
afterEach(async () => {
  await rm(folder, { recursive: true });
});

describe("serialiseFindings", () => {
  const { findings } = makeAnalysis();

  it("reads back as the same findings and ends with a line end", () => {
    const text = serialiseFindings(findings);
    expect(findingsSchema.parse(JSON.parse(text))).toEqual(findings);
    expect(text.endsWith("}\n")).toBe(true);
  });

  it("gives the same bytes whatever the order of keys", () => {
    const turned = Object.fromEntries(Object.entries(findings).reverse()) as typeof findings;
    turned.options = { falseAlarmsPerFrame: 0.01, smoothSigmaPx: 1.5 };
    expect(serialiseFindings(turned)).toBe(serialiseFindings(findings));
  });

  it("refuses numbers that JSON can't say, with their place", () => {
    const bad = makeAnalysis().findings;
    bad.hotspots[1]!.peakRiseK = Number.NaN;
    expect(() => serialiseFindings(bad)).toThrow(/hotspots\.1\.peakRiseK/);
    expect(() =>
      serialiseFindings({ ...findings, options: { a: { b: [1, Number.POSITIVE_INFINITY] } } }),
    ).toThrow(/options\.a\.b\.1/);
  });
});

describe("writeFileAtomic", () => {
  it("replaces a file whole and leaves nothing else behind", async () => {
    const file = join(folder, "a.json");
    await writeFile(file, "old and longer");
    await writeFileAtomic(file, "new");
    expect(await readFile(file, "utf8")).toBe("new");
    expect(await readdir(folder)).toEqual(["a.json"]);
  });

  it("leaves nothing behind when the rename fails", async () => {
    await mkdir(join(folder, "taken", "inside"), { recursive: true });
    await expect(writeFileAtomic(join(folder, "taken"), "new")).rejects.toThrow();
    expect(await readdir(folder)).toEqual(["taken"]);
  });
});

describe("makeFolders", () => {
  it("makes what is missing and says where it began; several at once don't disturb each other", async () => {
    const deep = join(folder, "a", "b", "c");
    expect(await makeFolders(deep)).toBe(join(folder, "a"));
    expect(await makeFolders(deep)).toBeUndefined();
    await Promise.all(Array.from({ length: 9 }, () => makeFolders(join(folder, "x", "y", "z"))));
    expect(await readdir(join(folder, "x", "y"))).toEqual(["z"]);
    await writeFile(join(folder, "file"), "");
    await expect(makeFolders(join(folder, "file"))).rejects.toMatchObject({ code: "EEXIST" });
  });
});

describe("writeReportFiles", () => {
  it("makes the folder and writes the three files", async () => {
    const target = join(folder, "deep", "out");
    const files = await writeReportFiles(makeAnalysis(), target);
    expect((await readdir(target)).sort()).toEqual(["findings.json", "overlay.png", "report.html"]);
    const overlay = await readFile(files.overlay);
    expect(await readFile(files.report, "utf8")).toContain(overlay.toString("base64"));
    expect(JSON.parse(await readFile(files.findings, "utf8"))).toMatchObject({ kind: "faultglow/findings" });
  });

  it("removes the picture of a second view that an earlier run has left", async () => {
    await writeFile(join(folder, "overlay-other.png"), "old");
    await writeFile(join(folder, "mine.txt"), "mine");
    await writeReportFiles(makeAnalysis(), folder);
    expect((await readdir(folder)).sort()).toEqual([
      "findings.json",
      "mine.txt",
      "overlay.png",
      "report.html",
    ]);
  });

  it.skipIf(process.platform !== "linux")(
    "says E_OUTPUT under /proc, where nothing can be made (of Linux alone)",
    async () => {
      await expect(writeReportFiles(makeAnalysis(), "/proc/faultglow/deep/out")).rejects.toMatchObject({
        code: "E_OUTPUT",
      });
    },
  );

  it("says E_OUTPUT where the folder can't be made", async () => {
    await writeFile(join(folder, "file"), "");
    await expect(writeReportFiles(makeAnalysis(), join(folder, "file", "out"))).rejects.toMatchObject({
      code: "E_OUTPUT",
      message: expect.stringContaining("a part of its path is a file"),
    });
    await expect(writeReportFiles(makeAnalysis(), join(folder, "file"))).rejects.toMatchObject({
      message: expect.stringContaining("there is a file of that name"),
    });
  });
});
