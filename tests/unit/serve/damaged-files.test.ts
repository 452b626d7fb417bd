// Files of a job that were damaged on the disk behind the bench's back: none of it is shown as if it were whole.
import { mkdir, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { PROJECT } from "../../structure/project.js";
import { openBench, type TestBench } from "./bench-client.js";

let bench: TestBench;
let job: string;
let folder: string;
beforeAll(async () => {
  bench = await openBench();
  job = (await bench.call("makeJob", { body: { device: "damaged", complaint: "" } })).job;
  folder = join(bench.folder, (await bench.call("jobState", { job })).folder);
});
afterAll(() => bench.stop());

const drop = async (name: string, bytes: Uint8Array<ArrayBuffer>) =>
  (await bench.call("addToInbox", { job, name, bytes })).file;

describe("pictures in a job's cache", () => {
  const csv = (hot: number): Uint8Array<ArrayBuffer> =>
    new TextEncoder().encode(
      Array.from({ length: 18 }, (_, y) =>
        Array.from({ length: 24 }, (_, x) => (25 + (hot * ((x * 7 + y * 11) % 13)) / 13).toFixed(2)).join(
          ",",
        ),
      ).join("\n"),
    );
  let file: string;
  let whole: Buffer;
  let shown: Uint8Array;
  const pictures = async () => new Uint8Array(await bench.call("pictures", { job, number: 1 }));

  beforeAll(async () => {
    const [cold, hot] = [await drop("cold.csv", csv(0.1)), await drop("hot.csv", csv(0.3))];
    await bench.read(job);
    const body = { baseline: [cold.sha256], powered: [hot.sha256] };
    const { task } = await bench.call("makeAttempt", { job, body });
    expect(await bench.ended(task)).toMatchObject({ state: "done", attempt: 1 });
    const kept = (await readdir(join(folder, "cache"))).filter((name) => name.endsWith(".pictures"));
    expect(kept.length).toBe(1);
    file = join(folder, "cache", kept[0]!);
    whole = await readFile(file);
    shown = await pictures();
    expect(shown.length).toBeGreaterThan(5 * 24 * 18 * 4);
  });

  it.each([
    [
      "with one bit of one number changed",
      (bytes: Buffer) => bytes.with(bytes.length >> 1, bytes[bytes.length >> 1]! ^ 64),
    ],
    ["with one bit of its hash changed", (bytes: Buffer) => bytes.with(-1, bytes.at(-1)! ^ 1)],
    ["cut short", (bytes: Buffer) => bytes.subarray(0, -4)],
    ["of zeros", (bytes: Buffer) => new Uint8Array(bytes.length)],
    ["of nothing", () => new Uint8Array()],
  ] as const)("%s are made anew, and kept whole again", async (_, damage) => {
    await writeFile(file, damage(whole));
    expect(await pictures()).toEqual(shown);
    expect(await readFile(file)).toEqual(whole);
  });

  it("are given as they are kept while they are whole", async () => {
    // Were they made anew each time, nothing above would show that the damage was seen.
    await rm(join(folder, "frames"), { recursive: true });
    expect(await pictures()).toEqual(shown);
    await writeFile(file, whole.subarray(0, -4));
    await expect(pictures()).rejects.toThrow(/^the file can't be read: there is no such file/);
  });
});

describe("a scale that was dropped beside a picture, and changed since", () => {
  let picture: Uint8Array<ArrayBuffer>;
  let scale: Uint8Array<ArrayBuffer>;
  let kept: string;
  const told = async () =>
    (await bench.read(job)).files.find(({ sort, names }) => sort !== "scale" && names[0] === "p.png")!;

  beforeAll(async () => {
    job = (await bench.call("makeJob", { body: { device: "scale", complaint: "" } })).job;
    folder = join(bench.folder, (await bench.call("jobState", { job })).folder);
    const sample = join(PROJECT, "sample-frames/attempt-2/baseline");
    picture = new Uint8Array(await readFile(join(sample, "frame-1.png")));
    scale = new Uint8Array(await readFile(join(sample, "frame-1.png.json")));
    const { sha256 } = await drop("p.png.json", scale);
    kept = join(folder, "inbox", `${sha256}.json`);
  });

  it.each([
    ["torn", async () => writeFile(kept, scale.subarray(0, 20)), /was changed on the disk/],
    [
      "another that could be used",
      async () => writeFile(kept, '{"kind":"faultglow/scale","version":1,"lowC":1,"highC":2}'),
      /was changed on the disk/,
    ],
    [
      "a folder in its place",
      async () => {
        await rm(kept);
        await mkdir(kept);
      },
      /can't be read any more/,
    ],
  ] as const)(
    "%s: the picture says so, is not taken, and is read once the scale comes again",
    async (_, damage, words) => {
      await damage();
      const { sha256 } = await drop("p.png", picture);
      expect(await told()).toMatchObject({
        sort: "unreadable",
        error: { code: "E_JOB_HASH", fix: "Drop it again", place: { file: "p.png.json" } },
      });
      expect((await told()).error!.problem).toMatch(words);
      const taken = bench
        .call("makeAttempt", { job, body: { baseline: [sha256], powered: [sha256] } })
        .then(({ task }) => bench.ended(task));
      await expect(taken).rejects.toThrow(words);
      await rm(kept, { recursive: true });
      await drop("p.png.json", scale);
      expect(await told()).toMatchObject({ sort: "frame", error: null, frame: { scaleFrom: "p.png.json" } });
      await bench.call("removeFromInbox", { job, sha256 });
    },
  );
});
