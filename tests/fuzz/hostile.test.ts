// Files made to do harm, one by one: each is refused with a clear word, or what is harmful in it has no effect.
import { mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { deflateSync } from "node:zlib";
import { unzipSync, zipSync } from "fflate";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { ToolError } from "../../src/core/errors.js";
import { parseTextFrames } from "../../src/frames/parse-text-frames.js";
import { importBoard } from "../../src/import/import-board.js";
import { decodePng } from "../../src/read/decode-png.js";
import { decodeTiff } from "../../src/read/decode-tiff.js";
import { readFrames } from "../../src/read/read-frames.js";
import { parseReadingTable } from "../../src/readings/parse-reading-table.js";
import { createJob } from "../../src/store/create-job.js";
import { packJob } from "../../src/store/pack-job.js";
import { unpackJob } from "../../src/store/unpack-job.js";
import { chunk, header, SIGNATURE } from "../unit/read/build-png.js";
import { buildTiff } from "../unit/read/build-tiff.js";
import { CLOCK, DEVICE } from "../unit/store/bench.js";
import { readersOfJson } from "./targets/json-files.js";
import { memoryStorage } from "./targets/memory-storage.js";

const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);
const png = (...parts: Buffer[]): Buffer => Buffer.concat([SIGNATURE, ...parts, chunk("IEND")]);

/** What a file is refused with. A value, or an error that is not the tool's own, fails the test. */
async function refusal(work: () => unknown): Promise<string> {
  try {
    await work();
  } catch (error) {
    if (error instanceof ToolError) return error.message;
    throw error;
  }
  throw new Error("it was not refused");
}

describe("pictures", () => {
  it("a picture that inflates to far more than its size needs", async () => {
    const bomb = png(header(8, 6, 16, 0), chunk("IDAT", deflateSync(new Uint8Array(64 * 1024 * 1024))));
    expect(bomb.length).toBeLessThan(100_000);
    expect(await refusal(() => decodePng(bomb, "f.png"))).toMatch(
      /^E_PNG_CORRUPT: the picture inflates to more than the 102 bytes/,
    );
  });

  it("a few bytes that claim 16 megapixels of four channels: seen before memory is taken for them", async () => {
    const claim = png(header(4096, 4096, 16, 6), chunk("IDAT", deflateSync(new Uint8Array(100))));
    expect(await refusal(() => decodePng(claim, "f.png"))).toMatch(
      /^E_PNG_CORRUPT: the picture inflates to at most \d+ bytes where its size needs 134221824/,
    );
    // Whatever packs as closely as can be is still read.
    const zeros = png(header(4096, 4096, 8, 0), chunk("IDAT", deflateSync(new Uint8Array(4097 * 4096))));
    expect(decodePng(zeros, "f.png").image.levels).toHaveLength(4096 * 4096);
  });

  it("a text in a picture that inflates to 64 MB", async () => {
    const text = Buffer.concat([
      Buffer.from("faultglow-scale\u0000\u0000"),
      deflateSync(new Uint8Array(64 * 1024 * 1024)),
    ]);
    const bomb = png(
      header(1, 1, 8, 0),
      chunk("zTXt", text),
      chunk("IDAT", deflateSync(Uint8Array.of(0, 7))),
    );
    expect(await refusal(() => decodePng(bomb, "f.png"))).toMatch(
      /^E_PNG_CORRUPT: the text faultglow-scale can't be inflated/,
    );
  });

  it.each([
    [40_000, 30_000],
    [0x7fffffff, 0x7fffffff],
    [5000, 4000],
  ])("a PNG that claims %i×%i pixels", async (width, height) => {
    const claim = png(header(width, height, 16, 0), chunk("IDAT", deflateSync(new Uint8Array(9))));
    expect(await refusal(() => decodePng(claim, "f.png"))).toMatch(/^E_FRAME_LARGE/);
  });

  it.each([
    [40_000, 30_000],
    [65_535, 65_535],
    [5000, 4000],
  ])("a TIFF that claims %i×%i pixels", async (width, height) => {
    const claim = buildTiff([{ width, height, bits: 16, format: 1, photometric: 1, samples: [1, 2] }], true);
    expect(await refusal(() => decodeTiff(claim, "f.tif"))).toMatch(/^E_FRAME_LARGE/);
  });

  it("a TIFF whose pages are one and the same, again and again", async () => {
    const page = { width: 3000, height: 2000, bits: 8, format: 1, photometric: 1 } as const;
    const claim = buildTiff(
      Array.from({ length: 40 }, () => ({ ...page, samples: [1] })),
      false,
    );
    expect(await refusal(() => decodeTiff(claim, "f.tif"))).toMatch(
      /^E_FRAME_LARGE: the file states 40 × 3000×2000/,
    );
  });
});

it("a TIFF of ten thousand small pages is read in one go, not from its start for each page", async () => {
  const page = { width: 4, height: 2, bits: 16, format: 1, photometric: 1 } as const;
  const pages = Array.from({ length: 10_000 }, (_, k) => ({
    ...page,
    samples: Array.from({ length: 8 }, (_, i) => k + i),
  }));
  // Page by page it is a quarter of an hour.
  const read = await decodeTiff(buildTiff(pages, true), "f.tif");
  expect(read.pages).toHaveLength(10_000);
  const last = read.pages[9_999] as { levels: Uint16Array };
  expect([...last.levels]).toEqual(pages[9_999]!.samples);
});

describe("texts", () => {
  it("a row of ten million columns", async () => {
    const wide = bytesOf(`${"1.5,".repeat(10_000_000)}\n${"1.5,".repeat(10)}\n`);
    expect(await refusal(() => parseTextFrames(wide, { file: "f.csv" }))).toMatch(
      /^E_FRAME_LARGE: a line of 40000000 bytes.*\(f\.csv, line 1\)/,
    );
    expect(await refusal(() => importBoard(bytesOf(`Ref,X,Y${",a".repeat(10_000_000)}\n`), "f.csv"))).toMatch(
      /^E_IMPORT_LARGE/,
    );
    expect(await refusal(() => parseReadingTable(wide, "f.csv"))).toMatch(
      /^E_REFERENCE_TABLE: .*at most 4194304 bytes/,
    );
  });

  it("six hundred thousand frames of four numbers", async () => {
    const text = bytesOf("1.5,2.5\n3.5,4.5\n\n".repeat(600_000));
    expect(await refusal(() => parseTextFrames(text, { file: "f.csv" }))).toMatch(
      /^E_FRAME_LARGE: the file holds more than 65536 frames/,
    );
  });

  it("ten million lines", async () => {
    expect(await refusal(() => parseTextFrames(bytesOf("1,2\n".repeat(10_000_000))))).toMatch(
      /^E_FRAME_LARGE: the text has more than 2097152 lines/,
    );
    expect(
      await refusal(() => importBoard(bytesOf(`Ref,X,Y\n${"C1,2,3\n".repeat(100_000)}`), "f.csv")),
    ).toMatch(/^E_IMPORT_LARGE/);
  });

  it("one word of a million letters, and a quote that never closes before ten million letters", async () => {
    expect(await refusal(() => parseTextFrames(bytesOf(`1,2\n3,${"x".repeat(1_000_000)}\n`)))).toMatch(
      /^E_TEXT_CELL/,
    );
    expect(await refusal(() => parseTextFrames(bytesOf(`"${"x".repeat(10_000_000)}`)))).toMatch(
      /^E_TEXT_QUOTE/,
    );
  });

  it("a zero byte, in the first bytes and far behind them", async () => {
    expect(await refusal(() => parseTextFrames(bytesOf("1,2\n3,\u00004\n")))).toMatch(
      /^E_TEXT_ENCODING: .*zero byte/,
    );
    expect(await refusal(() => parseTextFrames(bytesOf(`${"1.5,2.5\n".repeat(1000)}3,\u00004\n`)))).toMatch(
      /^E_TEXT_CELL/,
    );
  });
});

describe("drawings", () => {
  const svg = (body: string): Uint8Array =>
    bytesOf(
      `<svg width="40mm" height="26mm" viewBox="0 0 40 26"><rect id="outline" width="40" height="26"/>${body}</svg>`,
    );

  it("entities that grow, and one that reads a file", async () => {
    const grow = Array.from({ length: 9 }, (_, i) => `<!ENTITY a${i + 1} "${`&a${i};`.repeat(10)}">`).join(
      "",
    );
    const laughs = `<!DOCTYPE svg [<!ENTITY a0 "ha">${grow}]><svg id="&a9;"/>`;
    expect(await refusal(() => importBoard(bytesOf(laughs), "f.svg"))).toMatch(/^E_SVG_SYNTAX/);
    const outside = '<!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/passwd">]><svg id="&x;"/>';
    expect(await refusal(() => importBoard(bytesOf(outside), "f.svg"))).toMatch(/^E_SVG_SYNTAX/);
  });

  it("a hundred thousand groups inside each other, and a million corners", async () => {
    expect(await refusal(() => importBoard(svg("<g>".repeat(100_000)), "f.svg"))).toMatch(/^E_IMPORT_LARGE/);
    expect(
      await refusal(() => importBoard(svg(`<path id="C1" d="M0 0${"h1v1h-1".repeat(350_000)}z"/>`), "f.svg")),
    ).toMatch(/^E_IMPORT_LARGE/);
  });
});

/** What the targets say of a file that is passed over, and not refused. */
const LEFT_OUT = /: it is left out\./;

describe.each([...readersOfJson])("JSON: %s", (name, { sample, read }) => {
  const refused = (json: string): Promise<string> => refusal(() => read(bytesOf(json)));
  // A lock that can't be read says nothing of who holds it, and is no error.
  const isLock = name === "lock";
  // Beside a job the bench leaves files out that are none of its own.
  const isOfBench = ["dropped", "drawing", "draft", "settings"].includes(name);

  it("a million lists or objects inside each other", async () => {
    for (const deep of [
      "[".repeat(1e6) + "]".repeat(1e6),
      '{"a":'.repeat(1e6),
      `${JSON.stringify(sample).slice(0, -1)},"x":${"[".repeat(5000)}${"]".repeat(5000)}}`,
    ]) {
      if (isLock) expect(() => read(bytesOf(deep))).not.toThrow();
      else if (
        ["job", "attempt", "entry", "dropped", "draft", "settings"].includes(name) &&
        deep.startsWith('{"k')
      )
        expect(read(bytesOf(deep))).toBeTruthy();
      else expect(await refused(deep)).toMatch(/^E_/);
    }
  });

  it("keys that stand for the prototype change nothing", () => {
    const json = JSON.stringify(sample).slice(0, -1);
    const evil = `${json},"__proto__":{"polluted":1},"constructor":{"prototype":{"polluted":1}}}`;
    const [plain, other] = [read(bytesOf(JSON.stringify(sample))), read(bytesOf(evil))];
    expect(JSON.stringify(other)).toBe(JSON.stringify(plain));
    expect((other as Record<string, unknown>)["polluted"]).toBeUndefined();
    expect(({} as Record<string, unknown>)["polluted"]).toBeUndefined();
  });

  it("a kind of another file, and a newer version", async () => {
    if (isLock) return void expect(read(bytesOf('{"kind":"faultglow/other","version":1}'))).toBeNull();
    const foreign = name === "scale" ? null : await refused('{"kind":"faultglow/other","version":1}');
    if (foreign !== null) expect(foreign).toMatch(isOfBench ? LEFT_OUT : /_KIND: .*faultglow\/other/);
    const newer = await refused(JSON.stringify({ ...(sample as object), version: 2 }));
    if (name === "scale") expect(newer).toMatch(/^E_SCALE_VALUE/);
    // A draft comes to the page in a file of its own, whose version the server looks at.
    else expect(newer).toMatch(name === "drawing" ? LEFT_OUT : /_KIND: .*version 2/);
  });
});

describe("packs of jobs", () => {
  let folder: string;
  let entries: Record<string, Uint8Array>;
  const file = (name: string): string => join(folder, name);
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), "faultglow-hostile-"));
    await createJob(file("job"), DEVICE, CLOCK);
    await packJob(file("job"), file("job.zip"), CLOCK);
    entries = unzipSync(await readFile(file("job.zip")));
  });
  afterAll(() => rm(folder, { recursive: true }));
  const opening = async (more: Record<string, Uint8Array>, to: string) => {
    await writeFile(file("given.zip"), zipSync({ ...entries, ...more }));
    return unpackJob(file("given.zip"), file(to), CLOCK);
  };

  it.each([
    ["of 300 letters", `faultglow-job/${"n".repeat(300)}`],
    ["that turns the reading direction", "faultglow-job/frames/\u202egnp.exe"],
    ["of a device", "faultglow-job/con"],
    ["of a lock", "lock"],
    ["of a frame with a long ending", `frames/${"a".repeat(64)}.${"x".repeat(200)}`],
  ])("a name %s is left out, told, and never written", async (_, name) => {
    const to = `out-${Buffer.from(name).toString("hex").slice(-12)}`;
    const { leftOut } = await opening({ [name]: bytesOf("x") }, to);
    expect(leftOut).toEqual([name]);
    const written = await readdir(file(to), { recursive: true });
    expect(written.sort()).toEqual(["job.json", "journal.jsonl"]);
  });

  it("a file that unzips to a thousand times its size", async () => {
    const bomb = {
      [`${Object.keys(entries)[0]!.split("/")[0]}/frames/${"a".repeat(64)}.csv`]: new Uint8Array(
        80 * 1024 * 1024,
      ),
    };
    expect(await refusal(() => opening(bomb, "bomb"))).toMatch(
      /^E_JOB_PACK: unzipped, it would be larger than a job is/,
    );
    expect((await readdir(folder)).filter((name) => name.startsWith("bomb"))).toEqual([]);
  });

  it("a changed bit in any fifth byte gives the same job or none", async () => {
    // Without the report and the list of its files, which no job has and nobody reads back.
    const own = Object.entries(entries).filter(([name]) => !/(?:contents\.txt|job-report\.html)$/.test(name));
    const zip = Buffer.from(zipSync(Object.fromEntries(own)));
    let same = 0;
    for (let at = 0; at < zip.length; at += 5) {
      const bytes = Buffer.from(zip);
      bytes[at]! ^= 1 << (at % 8);
      await writeFile(file("given.zip"), bytes);
      const disk = memoryStorage();
      try {
        await unpackJob(file("given.zip"), "/there/job", { ...CLOCK, storage: disk.storage });
      } catch (error) {
        expect(error).toBeInstanceOf(ToolError);
        continue;
      }
      same++;
      for (const [name, content] of own) {
        const inJob = `/there/job/${name.slice(name.indexOf("/") + 1)}`;
        expect(Buffer.from(disk.read(inJob)), `byte ${at}`).toEqual(Buffer.from(content));
      }
    }
    // Dates and the like may change without harm; most bytes may not.
    expect(same).toBeGreaterThan(0);
    expect(same).toBeLessThan(zip.length / 5 / 2);
  });
});

describe("names of frames", () => {
  it.each([
    ["with a zero byte", "a\u0000b.csv"],
    ["of 300 letters", `${"n".repeat(300)}.csv`],
    ["of nothing", ""],
    ["of a folder above that is not there", "../../no/such/frame.csv"],
  ])("%s", async (_, name) => {
    expect(await refusal(() => readFrames([name]))).toMatch(/^E_FRAME_READ/);
  });
});
