// Attempts of a job: what is kept of them, which board they are of, and what is refused.
import { mkdir, readdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import sharp from "sharp";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { addAttempt } from "../../../src/store/add-attempt.js";
import { openJob } from "../../../src/store/open-job.js";
import { makeFrame, makeViewBelow, turnOver, writeCsv } from "../../cli/make-frames.js";
import { type Bench, beginJob, CLOCK, makeBench, writeOtherBoard } from "./bench.js";

let bench: Bench;
beforeEach(async () => {
  bench = await makeBench();
});
afterEach(() => bench.remove());

const newJob = (boards?: string[]) => beginJob(bench, boards);

describe("addAttempt", () => {
  it("keeps frames under their hashes, finds the part, and says so in the journal", async () => {
    await newJob();
    const conditions = { volts: 0.9, amps: 0.278, limitA: 0.5, rail: "VSYS", connected: ["cell"] };
    const { attempt, job } = await addAttempt(bench.job, { ...bench.frames, conditions }, CLOCK);
    expect(attempt.attempt).toMatchObject({ number: 1, conditions, board: { name: "test board" } });
    expect(attempt.findings.suspects[0]).toMatchObject({ ref: "U5" });
    expect(attempt.findings.inputs).toMatchObject({ volts: 0.9, board: "board.json", view: "view.json" });
    const [frame] = attempt.attempt.views[0]!.powered;
    expect(frame).toMatchObject({ name: "on.csv", ending: ".csv" });
    const kept = await readFile(join(bench.job, "frames", `${frame!.sha256}.csv`));
    expect(kept).toEqual(await readFile(bench.file("on.csv")));
    expect(job.attempts).toHaveLength(1);
    expect((await openJob(bench.job, CLOCK)).seal).toBe(job.seal);
    expect(await readdir(join(bench.job, "attempts", "001"))).toEqual([
      "attempt.json",
      "findings.json",
      "overlay.png",
      "report.html",
    ]);
    expect((await readdir(bench.job)).filter((name) => /adding|lock/.test(name))).toEqual([]);
  });

  it("tells frames of one name apart by their folders, and no further up", async () => {
    await newJob();
    for (const [folder, seed, peakK] of [
      ["Müller off", 3, 0],
      ["Müller on", 4, 2.4],
    ] as const) {
      await mkdir(bench.file(folder));
      await writeCsv(join(bench.file(folder), "1.csv"), makeFrame(seed, peakK));
    }
    const { attempt } = await addAttempt(
      bench.job,
      { ...bench.frames, baseline: [bench.file("Müller off")], powered: [bench.file("Müller on")] },
      CLOCK,
    );
    const { baseline, powered } = attempt.findings.inputs;
    expect([baseline[0]!.file, powered[0]!.file]).toEqual(["Müller off/1.csv", "Müller on/1.csv"]);
    const text = await readFile(join(bench.job, "attempts/001/report.html"), "utf8");
    expect(text).not.toContain(bench.folder);
  });

  it("needs to be told which of two boards it is, and takes name or file", async () => {
    await writeOtherBoard(bench, "lower board", "lower.json");
    await newJob(["board.json", "lower.json"]);
    await expect(addAttempt(bench.job, bench.frames, CLOCK)).rejects.toThrow(
      /^E_JOB_BOARD: the job has 2 boards.*test board, lower board/,
    );
    const named = await addAttempt(bench.job, { ...bench.frames, board: "lower board" }, CLOCK);
    expect(named.attempt.board!.regions).toHaveLength(3);
    const byFile = await addAttempt(bench.job, { ...bench.frames, board: bench.file("board.json") }, CLOCK);
    expect(byFile.attempt.attempt).toMatchObject({ number: 2, board: { name: "test board" } });
    await expect(addAttempt(bench.job, { ...bench.frames, board: "uper" }, CLOCK)).rejects.toThrow(
      /^E_JOB_BOARD: "uper" is neither/,
    );
  });

  it("takes a corrected map of the same name for what comes, and leaves what was", async () => {
    await newJob();
    await addAttempt(bench.job, bench.frames, CLOCK);
    await writeOtherBoard(bench, "test board", "corrected.json");
    await addAttempt(bench.job, { ...bench.frames, board: bench.file("corrected.json") }, CLOCK);
    const { job } = await addAttempt(bench.job, bench.frames, CLOCK);
    expect(job.attempts.map(({ board }) => board!.regions.length)).toEqual([2, 3, 3]);
    expect(job.entries.map(({ said }) => said.type)).toEqual([
      "board",
      "attempt",
      "board",
      "attempt",
      "attempt",
    ]);
  });

  it("ranks hotspots in pixels without a view, and names no part", async () => {
    await newJob([]);
    const { baseline, powered } = bench.frames;
    const { attempt } = await addAttempt(bench.job, { baseline, powered }, CLOCK);
    expect(attempt).toMatchObject({ board: null, views: [null] });
    expect(attempt.findings.hotspots).toHaveLength(1);
    await expect(addAttempt(bench.job, bench.frames, CLOCK)).rejects.toThrow(/^E_JOB_BOARD: .*no board map/);
  });

  it("keeps the scale that lay beside a picture, though the file is no frame", async () => {
    await newJob();
    for (const [name, seed, peakK] of [
      ["off", 3, 0],
      ["on", 4, 2.4],
    ] as const) {
      const rows = makeFrame(seed, peakK);
      // 16 bits over 15 … 35 °C.
      const levels = Uint16Array.from(rows.flat(), (c) => Math.round(((c - 15) / 20) * 65535));
      const raw = { width: rows[0]!.length, height: rows.length, channels: 1 as const };
      const png = await sharp(levels, { raw }).toColourspace("grey16").png().toBuffer();
      await writeFile(bench.file(`${name}.png`), png);
      const scale = { kind: "faultglow/scale", version: 1, lowC: 15, highC: 35 };
      await writeFile(bench.file(`${name}.png.json`), JSON.stringify(scale));
    }
    const { attempt } = await addAttempt(
      bench.job,
      { ...bench.frames, baseline: [bench.file("off.png")], powered: [bench.file("on.png")] },
      CLOCK,
    );
    expect(attempt.attempt.views[0]!.baseline[0]!.scaleBeside).toEqual({
      from: "off.png.json",
      scale: { lowC: 15, highC: 35 },
    });
    expect(attempt.findings.suspects[0]!.ref).toBe("U5");
  });

  it("leaves nothing behind when frames can't be used", async () => {
    await newJob();
    await writeFile(bench.file("bad.csv"), "22,23\n24,oops\n");
    const before = await readdir(bench.job, { recursive: true });
    await expect(
      addAttempt(bench.job, { ...bench.frames, powered: [bench.file("bad.csv")] }, CLOCK),
    ).rejects.toThrow(/^E_TEXT_CELL: .*bad\.csv/);
    expect(await readdir(bench.job, { recursive: true })).toEqual(before);
  });

  it("takes both sides of a board as one attempt", async () => {
    await newJob();
    await writeCsv(bench.file("off-below.csv"), turnOver(makeFrame(21, 0)));
    await writeCsv(bench.file("on-below.csv"), turnOver(makeFrame(22, 0.3)));
    await writeFile(bench.file("below.json"), JSON.stringify(makeViewBelow()));
    const { attempt, job } = await addAttempt(
      bench.job,
      {
        ...bench.frames,
        otherBaseline: [bench.file("off-below.csv")],
        otherPowered: [bench.file("on-below.csv")],
        otherView: bench.file("below.json"),
      },
      CLOCK,
    );
    expect(attempt.attempt.views.map(({ view }) => view!.side)).toEqual(["top", "bottom"]);
    expect(attempt.findings.otherSide).toMatchObject({ side: "bottom" });
    expect(Object.keys(job.attempts[0]!.attempt.files)).toContain("overlay-other.png");
  });
});
