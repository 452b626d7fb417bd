// Work beside the server: in order, urgent first, stopped, and with a process that dies.
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { decodePictures, layerOf } from "../../../src/api/pictures.js";
import { WorkCancelled, WorkProcess } from "../../../src/serve/work-process.js";

let folder: string;
let work: WorkProcess;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "faultglow-work-"));
  await writeFile(join(folder, "a.csv"), "20,21,22\n23,24,25.5\n");
  work = new WorkProcess("9.9.9");
});
afterAll(async () => {
  await work.close();
  await rm(folder, { recursive: true });
});

const file = () => ({ path: join(folder, "a.csv"), name: "a.csv", beside: null });

describe("a process for work", () => {
  it("gives rasters back as they are", async () => {
    const block = await work.run("droppedFrame", file());
    const pictures = decodePictures(new Uint8Array(block).buffer);
    expect([pictures.width, pictures.height, [...layerOf(pictures, "frame")!]]).toEqual([
      3,
      2,
      [20, 21, 22, 23, 24, 25.5],
    ]);
  });

  it("gives the errors of the work back with their codes", async () => {
    const gone = { path: join(folder, "gone.csv"), name: "gone.csv", beside: null };
    await expect(work.run("droppedFrame", gone)).rejects.toMatchObject({ code: "E_FRAME_READ" });
  });

  it("does what is urgent before what has waited longer", async () => {
    const order: string[] = [];
    const one = (name: string, urgent: boolean): Promise<unknown> =>
      work.run("readDropped", file(), { urgent }).then(() => order.push(name));
    await Promise.all([
      one("first", false),
      one("second", false),
      one("urgent", true),
      one("urgent too", true),
    ]);
    expect(order).toEqual(["first", "urgent", "urgent too", "second"]);
  });

  it("leaves out what was stopped before it began", async () => {
    const stop = new AbortController();
    const first = work.run("readDropped", file());
    const second = work.run("readDropped", file(), { signal: stop.signal });
    stop.abort();
    await expect(second).rejects.toBeInstanceOf(WorkCancelled);
    expect((await first).sort).toBe("frame");
  });

  it("says when its process died, and begins another", async () => {
    const lost = work.run("readDropped", file(), { onStart: () => process.kill(work.pid!, "SIGKILL") });
    await expect(lost).rejects.toMatchObject({ code: "E_BENCH_WORK" });
    expect((await work.run("readDropped", file())).frame).toMatchObject({ width: 3, height: 2, highC: 25.5 });
  });

  it("says so when the system begins no process, goes on when it does again, and can be closed", async () => {
    const refused = new WorkProcess("9.9.9");
    const { execPath } = process;
    try {
      process.execPath = join(folder, "no-such-program");
      const lost = [1, 2].map(() => refused.run("readDropped", file()));
      for (const one of lost)
        await expect(one).rejects.toMatchObject({
          code: "E_BENCH_WORK",
          message: expect.stringContaining("ENOENT"),
        });
    } finally {
      process.execPath = execPath;
    }
    expect((await refused.run("readDropped", file())).sort).toBe("frame");
    await refused.close();
  });

  it("gives its process several pieces at a time, and does anew what was lost beside one that was stopped", async () => {
    const wide = new WorkProcess("9.9.9", 2);
    const stop = new AbortController();
    const begun: string[] = [];
    const begin = (name: string, signal?: AbortSignal) =>
      wide.run("readDropped", file(), { ...(signal ? { signal } : {}), onStart: () => begun.push(name) });
    const [stopped, beside, third] = [begin("stopped", stop.signal), begin("beside"), begin("third")];
    // Two are with the process before any of them is done.
    expect(begun).toEqual(["stopped", "beside"]);
    stop.abort();
    await expect(stopped).rejects.toBeInstanceOf(WorkCancelled);
    expect((await beside).sort).toBe("frame");
    expect((await third).sort).toBe("frame");
    expect(begun).toEqual(["stopped", "beside", "beside", "third"]);
    await wide.close();
  });

  it("takes the process of another that rests and keeps more frames, with all that it knows", async () => {
    const [mine, other] = [new WorkProcess("9.9.9"), new WorkProcess("9.9.9")];
    await Promise.all([mine.run("ready", null), other.run("ready", null)]);
    const [own, others] = [mine.pid, other.pid];
    expect(others).not.toBe(own);
    mine.takeReaderOf(other);
    expect([mine.pid, other.pid]).toEqual([own, others]);
    const running = other.run("readDropped", file());
    mine.takeReaderOf(other);
    expect([mine.pid, other.pid]).toEqual([own, others]);
    await running;
    mine.takeReaderOf(other);
    expect([mine.pid, other.pid]).toEqual([others, own]);
    expect((await mine.run("readDropped", file())).sort).toBe("frame");
    // The other has read less now.
    await other.run("readDropped", file());
    mine.takeReaderOf(other);
    expect([mine.pid, other.pid]).toEqual([others, own]);
    // Whoever has it is told of its end.
    const lost = mine.run("readDropped", file(), { onStart: () => process.kill(mine.pid!, "SIGKILL") });
    await expect(lost).rejects.toMatchObject({ code: "E_BENCH_WORK" });
    expect((await other.run("readDropped", file())).sort).toBe("frame");
    expect(other.pid).toBe(own);
    // What was kept went with the process.
    mine.takeReaderOf(other);
    expect([mine.pid, other.pid]).toEqual([own, null]);
    await Promise.all([mine.close(), other.close()]);
  });

  it("does nothing any more once it is closed", async () => {
    const closed = new WorkProcess("9.9.9");
    await closed.close();
    await expect(closed.run("readDropped", file())).rejects.toBeInstanceOf(WorkCancelled);
  });
});
