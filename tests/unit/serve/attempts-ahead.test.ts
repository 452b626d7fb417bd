// Attempts that are analysed before they are asked for: one at a time, given up where something else is wanted.
import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { MakeAttempt } from "../../../src/api/attempts-schema.js";
import { AttemptsAhead } from "../../../src/serve/attempts-ahead.js";
import type { InboxFolder } from "../../../src/serve/inbox-folder.js";
import type { WorkOptions, WorkProcess } from "../../../src/serve/work-process.js";
import { analyseKept } from "../../../src/store/analyse-kept.js";
import { PROJECT } from "../../structure/project.js";
import { openBench, type TestBench } from "./bench-client.js";

let bench: TestBench;
beforeAll(async () => {
  bench = await openBench();
});
afterAll(() => bench.stop());

const hash = (digit: string): string => digit.repeat(64);

describe("AttemptsAhead", () => {
  /** A process that notes what it is given, and begins and ends it when the test says so. */
  function begin() {
    const pieces: { options: WorkOptions; end: () => void }[] = [];
    const long = {
      takeReaderOf: () => {},
      run: (_: string, __: unknown, options: WorkOptions) =>
        new Promise<null>((resolve) => pieces.push({ options, end: () => resolve(null) })),
    } as unknown as WorkProcess;
    const asked: (readonly string[])[] = [];
    const inbox = {
      droppedAll: async (_: string, files: readonly string[]) => {
        asked.push(files);
        return [];
      },
    } as unknown as InboxFolder;
    const ahead = new AttemptsAhead({ quick: long, long, inbox });
    const given = async (count: number): Promise<void> => {
      while (pieces.length < count) await new Promise((done) => setTimeout(done, 2));
    };
    return { ahead, pieces, given, asked };
  }
  const wanted = (more: Partial<MakeAttempt> = {}): MakeAttempt => ({
    baseline: [hash("a")],
    powered: [hash("b")],
    ...more,
  });

  it("begins once with the same things, and anew with others", async () => {
    const { ahead, pieces, given } = begin();
    const folder = bench.folder;
    ahead.begin(folder, wanted());
    ahead.begin(folder, wanted({ conditions: { remark: "later" } }));
    await given(1);
    pieces[0]!.options.onStart?.();
    ahead.begin(folder, wanted({ conditions: { volts: 1, amps: 2 } }));
    await given(2);
    // To end what is being worked on would end its process, with the frames that it keeps; what waits is left out.
    expect(pieces[0]!.options.signal!.aborted).toBe(false);
    ahead.begin(folder, wanted({ conditions: { volts: 1, amps: 3 } }));
    await given(3);
    expect(pieces.map(({ options }) => options.signal!.aborted)).toEqual([false, true, false]);
    for (const { end } of pieces) end();
  });

  it("says whether an attempt is being analysed already, and makes way for any other", async () => {
    const { ahead, pieces, given } = begin();
    const folder = bench.folder;
    expect(ahead.giveWay(folder, wanted())).toBe(false);
    ahead.begin(folder, wanted());
    await given(1);
    // It waits for other work, and so would the attempt behind it.
    expect(ahead.giveWay(folder, wanted())).toBe(false);
    expect(pieces[0]!.options.signal!.aborted).toBe(true);
    for (const [k, powered] of [hash("b"), hash("c")].entries()) {
      ahead.begin(folder, wanted());
      await given(2 + k);
      pieces[1 + k]!.options.onStart?.();
      expect(ahead.giveWay(folder, wanted({ powered: [powered] }))).toBe(k === 0);
      expect(pieces[1 + k]!.options.signal!.aborted).toBe(false);
    }
    for (const { end } of pieces) end();
  });

  it("leaves long bursts until they are asked for", async () => {
    const { ahead, pieces, given, asked } = begin();
    ahead.begin(bench.folder, wanted({ powered: new Array(400).fill(hash("b")) }));
    // By the time that this one is given to the process, the burst would have asked for its frames.
    ahead.begin(bench.folder, wanted({ powered: [hash("c")] }));
    await given(1);
    expect(asked).toEqual([[hash("a")], [hash("c")]]);
    for (const { end } of pieces) end();
  });
});

describe("an attempt that was analysed ahead", () => {
  it("is none until it is made, and then says what the frames alone say", async () => {
    const samples = join(PROJECT, "sample-frames");
    const map = JSON.parse(await readFile(join(samples, "board.json"), "utf8"));
    const view = JSON.parse(await readFile(join(samples, "attempt-1/view-top.json"), "utf8"));
    const { job } = await bench.call("makeJob", { body: { device: "ahead", boards: [map] } });
    for (const role of ["baseline", "powered"]) await bench.drop(job, `attempt-1/${role}`);
    const { files } = await bench.read(job);
    const of = (role: string): string[] => files.flatMap((one) => (one.role === role ? [one.sha256] : []));
    const body: MakeAttempt = { baseline: of("baseline"), powered: of("powered"), view };
    await expect(
      bench.call("analyseAhead", { job, body: { ...body, board: "elsewhere" } }),
    ).rejects.toMatchObject({ words: { code: "E_JOB_BOARD" } });
    expect(await bench.call("analyseAhead", { job, body })).toEqual({ done: true });
    expect((await bench.call("jobState", { job })).attempts).toEqual([]);
    // Asked for while it goes on; and once more with other watts than were analysed ahead.
    const folder = join(bench.folder, (await bench.call("jobState", { job })).folder);
    const first = await bench.ended((await bench.call("makeAttempt", { job, body })).task);
    await bench.drop(job, "attempt-1/powered");
    await bench.read(job);
    await bench.call("analyseAhead", { job, body });
    const other = { ...body, conditions: { volts: 0.9, amps: 0.278 } };
    const second = await bench.ended((await bench.call("makeAttempt", { job, body: other })).task);
    expect([first, second]).toMatchObject([
      { state: "done", attempt: 1 },
      { state: "done", attempt: 2 },
    ]);
    const { attempts } = await bench.call("jobState", { job });
    expect(attempts.map(({ findings }) => findings.inputs.volts)).toEqual([null, 0.9]);
    for (const { attempt, findings } of attempts) {
      const again = await analyseKept(folder, attempt, { toolVersion: "9.9.9" });
      expect(findings).toEqual(JSON.parse(JSON.stringify(again.findings)));
    }
    // Nothing of it is left.
    const left = (await readdir(folder, { recursive: true })).filter((name) => /adding|taking/.test(name));
    expect(left).toEqual([]);
  });
});
