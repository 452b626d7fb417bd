// `faultglow job …` as a user's shell runs it, from new to unpack.
import { readdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { jobSchema } from "../../src/job/job-schema.js";
import { makeBoard, makeFolder, makeFrame, makeView, writeCsv } from "./make-frames.js";
import { type CliRun, runCli } from "./run-cli.js";

let folder: string;
let remove: () => Promise<void>;
beforeAll(async () => {
  ({ folder, remove } = await makeFolder());
  await writeCsv(join(folder, "off.csv"), makeFrame(11, 0));
  await writeCsv(join(folder, "on.csv"), makeFrame(12, 2.4));
  await writeFile(join(folder, "board.json"), JSON.stringify(makeBoard()));
  await writeFile(join(folder, "view.json"), JSON.stringify(makeView()));
});
afterAll(() => remove());

const job = (...words: string[]): Promise<CliRun> => runCli(["job", ...words], { cwd: folder });

async function good(...words: string[]): Promise<string> {
  const run = await job(...words);
  expect([run.err, run.status]).toEqual(["", 0]);
  return run.out;
}

/** A name that would like to be a path, markup, a command of the terminal, or read backwards. */
const NASTY = "../x <b>Müller</b> 测量\u202eevil\u001b[31m";
const SHOWN = "../x <b>Müller</b> 测量\\u202eevil\\x1b[31m";
const FRAMES = ["--baseline", "off.csv", "--powered", "on.csv"];

describe("a job from beginning to end", () => {
  it("begins with what is known of the device", async () => {
    const out = await good(
      ...["new", "j", "--device", NASTY, "--complaint", "restarts", "--board", "board.json"],
      ...["--restarts-after", "2.5", "--connected", "cell", "display", "--at", "2031-03-01T09:00:00+01:00"],
    );
    expect(out).toMatch(/^Job [0-9a-f]{16} begun in j: /);
    expect(out).toContain(`${SHOWN}, board map: test board.`);
    const header = jobSchema.parse(JSON.parse(await readFile(join(folder, "j/job.json"), "utf8")));
    expect(header).toMatchObject({
      device: NASTY,
      symptom: { restartsAfterS: 2.5, connected: ["cell", "display"] },
      createdAt: "2031-03-01T09:00:00+01:00",
    });
  });

  it("takes an attempt, and prints the findings that find prints", async () => {
    const words = [...FRAMES, "--view", "view.json", "--volts", "0.9", "--amps", "0.278", "--json"];
    const out = await good("attempt", "j", ...words, "--rail", "VSYS", "--limit", "0.5", "--remark", NASTY);
    const found = await runCli(["find", ...words, "--board", "board.json"], { cwd: folder });
    expect(out).toBe(found.out);
    const attempt = JSON.parse(await readFile(join(folder, "j/attempts/001/attempt.json"), "utf8"));
    expect(attempt.conditions).toEqual({
      ...{ volts: 0.9, amps: 0.278, limitA: 0.5, rail: "VSYS", connected: [], remark: NASTY, healthy: false },
    });
  });

  it("takes volts alone, the time since power-on, and a good board", async () => {
    const told = ["--view", "view.json", "--volts", "0.9", "--healthy", "--after", "20"];
    // The frames are those of attempt 1, and what was fed in is half told: both are taken, and said.
    const { status, out, err } = await job("attempt", "j", ...FRAMES, ...told);
    expect([status, err.match(/^N_JOB_\w+: Attempt 2 has/gm)]).toEqual([
      0,
      ["N_JOB_REPEAT: Attempt 2 has", "N_JOB_POWER: Attempt 2 has"],
    ]);
    expect(out).toMatch(/^Attempt 2 of .*attempts\/002\/report\.html\n\n.*U5/);
    const kept = async (file: string) =>
      JSON.parse(await readFile(join(folder, "j", "attempts", "002", file), "utf8"));
    expect((await kept("attempt.json")).options).toMatchObject({ rateHz: null, afterS: 20 });
    expect((await kept("findings.json")).inputs).toMatchObject({ rateHz: null, afterS: 20 });
  });

  it("keeps readings and references as they were typed", async () => {
    expect(await good("reading", "j", "--ref", "U5", "--pin", "3", "--diode", "0.22")).toBe(
      'Line 4: diode at U5 pin 3: 0.22 V ("0.22")\n',
    );
    const reference = [
      "reading",
      "j",
      "--ref",
      "U5",
      "--pin",
      "3",
      "--diode",
      "0.27",
      "--reference",
      "--json",
    ];
    const { added } = JSON.parse(await good(...reference));
    expect(added).toMatchObject([
      { seq: 5, said: { type: "reference", reference: { ref: "U5", pin: "3", value: 0.27 } } },
    ]);
    await writeFile(join(folder, "good.csv"), "net,diode\nVSYS,0.41\nVBUS,OL\n");
    expect(await good("reading", "j", "--table", "good.csv", "--source", "good board")).toMatch(
      /^Line 6: reference, diode at VSYS.*\nLine 7: reference, diode at VBUS: over range/,
    );
  });

  it("keeps what was done, a line a part", async () => {
    const out = await good("action", "j", "--replaced", "C2", "U5", "--cleaned", "--remark", "hot air");
    expect(out).toBe(
      "Line 8: C2 replaced. hot air\nLine 9: U5 replaced. hot air\nLine 10: Cleaned. hot air\n",
    );
  });

  it("warns of a part that no map has, and takes it all the same", async () => {
    const run = await job("action", "j", "--lifted", "C22");
    expect(run.status).toBe(0);
    expect(run.err).toBe(
      'N_JOB_NAME: Line 11 of the journal names the part "C22", which no map has. If it is a slip, withdraw line 11 and say it again.\n',
    );
    expect(await good("withdraw", "j", "11", "--reason", "slip")).toBe(
      "Line 12: line 11 withdrawn: C22 lifted. Reason: slip\n",
    );
  });

  it("tells it all in its order", async () => {
    await good("remark", "j", NASTY);
    const out = await good("show", "j");
    expect(out).toContain(SHOWN);
    expect(out).not.toContain("\u001b");
    expect(out).toMatch(
      /2 {2}\d{4}-\d\d-\d\d \d\d:\d\d {2}attempt 1 \(test board; top; VSYS; 0\.9 V; 0\.278 A; limit 0\.5 A\): U5 /,
    );
    expect(out).toMatch(/C22 lifted \(withdrawn\)/);
    expect(out).toMatch(/line 11 withdrawn: C22 lifted\. Reason: slip$/m);
    const shown = JSON.parse(await good("show", "j", "--json"));
    expect(shown.readings).toMatchObject([{ ref: "U5", value: 0.22 }]);
    expect(shown.withdrawn).toEqual([11]);
    expect(await good("show", "j", "--quiet")).toContain("U5");
  });

  it("is sound, and is found again", async () => {
    const out = await good("check", "j");
    expect(out).toMatch(
      /^Attempt 1: .*same to the byte\.\nAttempt 2: .*\nj is sound\. Seal: [0-9a-f]{64}\n$/,
    );
    await writeFile(join(folder, "other.txt"), "no job");
    expect(await good("index", ".", "--ref", "C2", "--quiet")).toBe("j\n");
    expect(await good("index", ".", "--device", "müller")).toContain(SHOWN);
    expect(await good("index", ".", "--since", "2999-01-01")).toBe("No job in . fits; jobs looked at: 1.\n");
    expect(JSON.parse(await good("index", ".", "--net", "VSYS", "--json")).jobs).toHaveLength(1);
  });

  it("is packed, opened elsewhere, and checks to the same words and reports to the same bytes", async () => {
    const packed = JSON.parse(await good("pack", "j", "--json"));
    // What is there already may be somebody's work.
    const again = await job("pack", "j", "--out", packed.file);
    expect(again.err).toMatch(/^E_OUTPUT: the file is there already .* add --replace/);
    expect(JSON.parse(await good("pack", "j", "--replace", "--json"))).toEqual(packed);
    expect(packed.file).toBe("j.zip");
    await good("unpack", "j.zip", "elsewhere/二");
    const [here, there] = [await good("check", "j", "--json"), await good("check", "elsewhere/二", "--json")];
    expect(there.replace('"elsewhere/二"', '"j"')).toBe(here);
    expect(await good("pack", "elsewhere/二", "--out", "again.zip")).toContain(packed.sha256);
    await good("report", "j", "--quiet", "--out", "report-here");
    await good("report", "elsewhere/二", "--quiet", "--out", "report-there");
    const names = await readdir(join(folder, "report-here"));
    expect(names).toContain("job-report.pdf");
    for (const name of names) {
      const [a, b] = await Promise.all(
        ["report-here", "report-there"].map((one) => readFile(join(folder, one, name))),
      );
      expect(a!.equals(b!), name).toBe(true);
    }
  });

  it("says what is wrong when it is not sound, with exit status 2", async () => {
    await writeFile(join(folder, "elsewhere/二/attempts/001/overlay.png"), "no picture");
    const run = await job("check", "elsewhere/二", "--no-recompute");
    expect(run.status).toBe(2);
    expect(run.out).toMatch(/^error: E_JOB_HASH: the file was changed.*overlay\.png/);
    expect(run.err).toMatch(/^E_JOB_HASH: the job is not sound: 1 error/);
    expect((await job("pack", "elsewhere/二", "--out", "never.zip")).err).toMatch(/^E_JOB_PACK/);
    expect(await readdir(folder)).not.toContain("never.zip");
  });
});

describe("an attempt", () => {
  it("prints with --quiet the verdict alone, and what it stands on beside it", async () => {
    await good("new", "quiet", "--device", "meter", "--quiet");
    const same = ["--baseline", "off.csv", "--powered", "off.csv"];
    const { out, err, status } = await job("attempt", "quiet", ...same, "--quiet");
    expect(status).toBe(0);
    expect(out).toMatch(/^[^\n]+\n$/);
    expect(err).toMatch(/^Warning: off\.csv is given as baseline and as powered frame/);
  });
});

describe("words that can't be used", () => {
  it.each([
    [["job"], /job needs a command after it/],
    [["job", "shw"], /job has no command "shw"/],
    [["job", "new", "x"], /--device/],
    [["job", "new", "x", "--device", " "], /--device is blank/],
    [["job", "new", "x", "--device", "d", "--at", "yesterday"], /--at needs a moment/],
    [["job", "reading", "j", "--net", "VSYS"], /nothing says what the meter showed/],
    [["job", "reading", "j", "--diode", "0.3"], /nothing says where it was measured/],
    [["job", "reading", "j", "--net", "A", "--pin", "3", "--diode", "0.3"], /--pin came without --ref/],
    [["job", "reading", "j", "--net", "A", "--diode", "0.3", "--low-by-nature"], /Add --reference/],
    [["job", "reading", "j", "--table", "none.csv"], /can't be read: there is no such file/],
    [["job", "reading", "j", "--table", "none.csv", "--net", "A"], /--table came with a reading/],
    [["job", "action", "j"], /nothing says what was done/],
    [["job", "action", "j", "--other"], /--other came without --remark/],
    [["job", "remark", "j", " "], /job remark TEXT is blank/],
    [["job", "action", "j", "--replaced", ""], /--replaced is blank/],
    [["job", "reading", "j", "--net", " ", "--diode", "0.3"], /--net is blank/],
    [["job", "show", ""], /job show DIR is blank/],
    [["job", "withdraw", "j", "one", "--reason", "x"], /expected the number of a line/],
    [["job", "index", ".", "--since", "2031-13-01"], /--since needs a date or a moment/],
    [
      ["job", "attempt", "j", ...FRAMES, "--view", "v.json", "--view-from", "1"],
      /--view and --view-from came together/,
    ],
    [["job", "attempt", "j", ...FRAMES, "--cycle", "2"], /--cycle came without --rate/],
    [["job", "attempt", "j", ...FRAMES, "--other-view", "v.json"], /--other-view came without/],
  ])("%j", async (words, message) => {
    const run = await runCli(words as string[], { cwd: folder });
    expect([run.out, run.status]).toEqual(["", 2]);
    expect(run.err).toMatch(/^E_USAGE: /);
    expect(run.err).toMatch(message as RegExp);
  });
});
