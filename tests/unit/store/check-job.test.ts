// What a check of a job sees: damage by its kind and place, and whether findings come out the same.
import { cp, mkdir, readFile, rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { attemptSchema } from "../../../src/job/attempt-schema.js";
import { addAttempt } from "../../../src/store/add-attempt.js";
import { appendSaid } from "../../../src/store/append-said.js";
import { checkJob } from "../../../src/store/check-job.js";
import { createJob } from "../../../src/store/create-job.js";
import { sha256Of } from "../../../src/store/job-paths.js";
import { type Bench, CLOCK, change, DEVICE, makeBench } from "./bench.js";

let bench: Bench;
let job: string;
let copies = 0;
beforeAll(async () => {
  bench = await makeBench();
  await createJob(bench.job, { ...DEVICE, boards: [bench.file("board.json")] }, CLOCK);
  await addAttempt(bench.job, { ...bench.frames, conditions: { volts: 0.9, amps: 0.278 } }, CLOCK);
  const { baseline, powered } = bench.frames;
  await addAttempt(bench.job, { baseline, powered }, CLOCK);
});
afterAll(() => bench.remove());
beforeEach(async () => {
  job = bench.file(`copy-${++copies}`);
  await cp(bench.job, job, { recursive: true });
});

const HASHES = { ...CLOCK, recompute: false };

async function attemptOf(number: number) {
  return attemptSchema.parse(
    JSON.parse(await readFile(join(job, `attempts/00${number}/attempt.json`), "utf8")),
  );
}

describe("checkJob", () => {
  it("finds a whole job sound, and its findings the same to the byte", async () => {
    expect(await checkJob(job, CLOCK)).toMatchObject({
      sound: true,
      problems: [],
      attempts: [
        { number: 1, findings: "same" },
        { number: 2, findings: "same" },
      ],
    });
  });

  it("names the view that was changed, and checks the other attempt all the same", async () => {
    const attempt = await attemptOf(1);
    const view = attempt.views[0]!.view!;
    await change(join(job, `views/${view.sha256}.json`), (text) => text.replace("top", "pot"));
    const check = await checkJob(job, CLOCK);
    expect(check.sound).toBe(false);
    expect(check.problems).toMatchObject([
      { severity: "error", code: "E_JOB_HASH", attempt: 1, text: expect.stringContaining(view.sha256) },
    ]);
    expect(check.attempts).toMatchObject([{ findings: "not-checked" }, { findings: "same" }]);
  });

  it("names a frame and a map that were changed, for each attempt that uses them", async () => {
    const { views, board } = await attemptOf(1);
    for (const [path, attempts] of [
      [`frames/${views[0]!.baseline[0]!.sha256}.csv`, [1, 2]],
      [`boards/${board!.sha256}.json`, [1]],
    ] as const) {
      const bytes = await readFile(join(job, path));
      await writeFile(join(job, path), Buffer.concat([bytes, Buffer.from("\n")]));
      const { sound, problems } = await checkJob(job, HASHES);
      expect(sound).toBe(false);
      expect(problems.map(({ code, attempt }) => [code, attempt])).toEqual(
        attempts.map((attempt) => ["E_JOB_HASH", attempt]),
      );
      expect(problems[0]!.text).toContain(path);
      await writeFile(join(job, path), bytes);
    }
  });

  it("names a frame that is missing, for both attempts that use it", async () => {
    const [frame] = (await attemptOf(2)).views[0]!.powered;
    await rm(join(job, `frames/${frame!.sha256}.csv`));
    const { problems } = await checkJob(job, HASHES);
    expect(problems.map(({ code, attempt }) => [code, attempt])).toEqual([
      ["E_JOB_HASH", 1],
      ["E_JOB_HASH", 2],
    ]);
    expect(problems[0]!.text).toMatch(/but it is missing/);
  });

  it("sees a picture, a report, findings and attempt.json that were changed", async () => {
    for (const name of ["overlay.png", "report.html", "findings.json", "attempt.json"]) {
      const path = join(job, "attempts/001", name);
      const bytes = await readFile(path);
      await writeFile(path, Buffer.concat([bytes, Buffer.from(" ")]));
      const { problems } = await checkJob(job, HASHES);
      expect(problems).toMatchObject([{ code: "E_JOB_HASH", attempt: 1 }]);
      expect(problems[0]!.text).toContain(name);
      await writeFile(path, bytes);
    }
  });

  it("says that the journal is damaged, and can say no more", async () => {
    await change(join(job, "journal.jsonl"), (text) => text.replace('"seq":2', '"seq":7'));
    expect(await checkJob(job, CLOCK)).toMatchObject({
      sound: false,
      seal: null,
      problems: [{ code: "E_JOB_JOURNAL", text: expect.stringMatching(/number 2, found number 7/) }],
    });
  });

  it("names the attempt that was being added when the plug was pulled, and is sound", async () => {
    const whole = await readFile(join(job, "journal.jsonl"), "utf8");
    const lines = whole.split("\n").slice(0, -2);
    await writeFile(join(job, "journal.jsonl"), `${lines.join("\n")}\n`);
    const check = await checkJob(job, HASHES);
    expect(check).toMatchObject({ sound: true, problems: [{ code: "N_JOB_UNFINISHED", attempt: 2 }] });
    // The next attempt does not write over it.
    const { baseline, powered } = bench.frames;
    const { attempt } = await addAttempt(job, { baseline, powered }, CLOCK);
    expect(attempt.attempt.number).toBe(2);
    expect(await checkJob(job, HASHES)).toMatchObject({ sound: true, problems: [] });
  });

  it("tells of files that are no part of the job", async () => {
    await writeFile(join(job, "invoice.txt"), "12 hours");
    await mkdir(join(job, "report"));
    await writeFile(join(job, "report", "job-report.html"), "");
    const { sound, problems } = await checkJob(job, HASHES);
    expect(sound).toBe(true);
    expect(problems).toMatchObject([
      { severity: "info", code: "N_JOB_STRAY", text: "No part of the job: invoice.txt." },
    ]);
  });

  it("tells of names that no map has", async () => {
    const reading = { ref: "U55", measure: "diode", value: 0.3, overRange: false, raw: "0.3" } as const;
    const action = { did: "lifted", ref: "C2", board: "tset board" } as const;
    await appendSaid(
      job,
      [
        { type: "reading", reading },
        { type: "action", action },
      ],
      CLOCK,
    );
    const { problems } = await checkJob(job, HASHES);
    expect(problems.map(({ code }) => code)).toEqual(["N_JOB_NAME", "N_JOB_NAME"]);
    expect(problems.map(({ text }) => text).join(" ")).toMatch(/part "U55".*board "tset board"/);
  });

  it("says what another version would find, and that this is no error", async () => {
    const check = await checkJob(job, { ...CLOCK, toolVersion: "0.0.2" });
    expect(check.sound).toBe(true);
    expect(check.attempts.map(({ findings }) => findings)).toEqual(["same-answer", "same-answer"]);
    expect(check.problems).toMatchObject(
      [
        {
          code: "N_JOB_VERSION",
          attempt: 1,
          text: /by version 0\.0\.1, this is 0\.0\.2: the answer is the same/,
        },
        { code: "N_JOB_VERSION", attempt: 2 },
      ].map(({ text, ...rest }) =>
        text === undefined ? rest : { ...rest, text: expect.stringMatching(text) },
      ),
    );
  });

  it("says so when findings come out otherwise: an error of the same version, none of another", async () => {
    // Someone who rewrites findings, attempt and journal with all hashes right can't rewrite what the frames say.
    await forge(job, (findings) => findings.replace('"ref": "U5"', '"ref": "C2"'));
    const same = await checkJob(job, CLOCK);
    expect(same.sound).toBe(false);
    expect(same.problems).toMatchObject([{ code: "E_JOB_FINDINGS", attempt: 1 }]);
    expect(same.problems[0]!.text).toMatch(/then "C2", now "U5"/);
    expect(same.attempts.map(({ findings }) => findings)).toEqual(["changed", "same"]);
    const other = await checkJob(job, { ...CLOCK, toolVersion: "0.0.2" });
    expect(other.sound).toBe(true);
    expect(other.problems[0]).toMatchObject({ code: "N_JOB_VERSION", text: expect.stringMatching(/differ/) });
  });

  it.each([
    ["is of another kind", '"kind": "faultglow/findings"', '"kind": "faultglow/finds"', /E_JOB_KIND/],
    ["says what it can't", '"trusted": true', '"trusted": "yes"', /E_JOB_VALUE/],
  ])("refuses a file that %s, though every hash is right", async (_, genuine, forged, code) => {
    await forge(job, (findings) => findings.replace(genuine, forged));
    const { sound, problems } = await checkJob(job, HASHES);
    expect(sound).toBe(false);
    expect(problems.map((problem) => problem.code).join(" ")).toMatch(code);
    expect(problems[0]!.text).toContain("findings.json");
  });

  it("tells last digits from another answer", async () => {
    await forge(job, (findings) =>
      findings.replace(
        /"peakRiseK": (\d\.\d+)/,
        (_, digits) => `"peakRiseK": ${Number(digits) * (1 + 1e-12)}`,
      ),
    );
    const check = await checkJob(job, CLOCK);
    expect(check).toMatchObject({ sound: true, problems: [{ code: "N_JOB_DIGITS", attempt: 1 }] });
    expect(check.attempts[0]!.findings).toBe("nearly");
  });

  it("refuses a folder without a job", async () => {
    await expect(checkJob(bench.folder, CLOCK)).rejects.toThrow(/^E_JOB_NONE/);
  });

  it("sees a withdrawal of what was not said before", async () => {
    const path = join(job, "journal.jsonl");
    const whole = await readFile(path, "utf8");
    const last = whole.split("\n").at(-2)!;
    const entry = { ...JSON.parse(last), seq: 4, previous: sha256Of(last) };
    const said = { type: "withdrawal", seq: 6, reason: "forged" };
    await writeFile(path, `${whole}${JSON.stringify({ ...entry, said })}\n`);
    const { problems } = await checkJob(job, HASHES);
    expect(problems).toMatchObject([
      { code: "E_JOB_JOURNAL", text: expect.stringMatching(/withdraws line 6/) },
    ]);
  });
});

/** Change the findings of attempt 1, and every hash that rests on them. */
async function forge(folder: string, edit: (findings: string) => string): Promise<void> {
  const [findings, file] = ["findings.json", "attempt.json"].map((name) =>
    join(folder, "attempts/001", name),
  );
  await change(findings!, edit);
  const genuine = await readFile(file!, "utf8");
  const attempt = attemptSchema.parse(JSON.parse(genuine));
  const files = { ...attempt.files, "findings.json": sha256Of(await readFile(findings!)) };
  const forged = JSON.stringify({ ...attempt, files });
  await writeFile(file!, forged);
  await change(join(folder, "journal.jsonl"), (text) => {
    const lines = text.split("\n").slice(0, -1);
    let previous = JSON.parse(lines[0]!).previous as string;
    for (const [i, line] of lines.entries()) {
      const entry = JSON.parse(line.replace(sha256Of(genuine), sha256Of(forged)));
      lines[i] = JSON.stringify({ ...entry, previous });
      previous = sha256Of(lines[i]!);
    }
    return `${lines.join("\n")}\n`;
  });
}
