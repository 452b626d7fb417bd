// A view that nobody clicked: found by an earlier attempt of the job.
import { mkdtemp, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { parseView } from "../../../src/board/parse-view.js";
import { placeView } from "../../../src/board/place-view.js";
import { boardPoint } from "../../../src/core/units.js";
import { addAttempt } from "../../../src/store/add-attempt.js";
import { checkJob } from "../../../src/store/check-job.js";
import { createJob } from "../../../src/store/create-job.js";
import { CLOCK } from "./bench.js";

const SAMPLES = fileURLToPath(new URL("../../../sample-frames/", import.meta.url));
const frames = (attempt: number) => ({
  baseline: [join(SAMPLES, `attempt-${attempt}`, "baseline")],
  powered: [join(SAMPLES, `attempt-${attempt}`, "powered")],
});
const clicked = (attempt: number): string => join(SAMPLES, `attempt-${attempt}`, "view-top.json");

let folder: string;
let job: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "faultglow-placed-"));
  job = join(folder, "job");
  await createJob(job, { device: "moisture meter", boards: [join(SAMPLES, "board.json")] }, CLOCK);
  await addAttempt(job, { ...frames(1), view: clicked(1) }, CLOCK);
});
afterAll(() => rm(folder, { recursive: true }));

describe("an attempt placed by an earlier one", () => {
  it("sees the board where its own fiducials would have, and names the part that was made to heat", async () => {
    const { attempt } = await addAttempt(job, { ...frames(2), viewFrom: 1, options: { rateHz: 2 } }, CLOCK);
    const { view, file } = { view: attempt.views[0]!, file: clicked(2) };
    const truth = parseView(JSON.parse(await readFile(file, "utf8")), file).view;
    const [found, given] = [placeView(view), placeView(truth)];
    for (const [x, y] of [
      [5, 3],
      [29, 17],
      [55, 30],
    ] as const) {
      const [a, b] = [found, given].map((placed) => placed.toFrame(boardPoint(x, y)));
      // The fiducials in the file are rounded to 0.1 px, and stand for clicks of a person; two pixels are 1 mm.
      expect(Math.hypot(a![0] - b![0], a![1] - b![1])).toBeLessThan(0.5);
    }
    const { sources } = JSON.parse(await readFile(join(SAMPLES, "attempt-2/truth.json"), "utf8"));
    const fault = sources.find((source: { fault: boolean }) => source.fault).ref;
    expect(attempt.findings.suspects[0]!.ref).toBe(fault);
    expect(attempt.attempt.board!.file).toBe("board.json");
    const kept = attempt.attempt.views[0]!.view!;
    expect(kept).toMatchObject({ file: "placed-by-attempt-1.json", side: "top", placed: { attempt: 1 } });
    expect(kept.placed!.sigmaMm).toBeLessThan(0.1);
    expect((await checkJob(job, CLOCK)).attempts[1]).toMatchObject({ findings: "same" });
  });

  it("is refused where there is no such attempt, or none with a view", async () => {
    await expect(addAttempt(job, { ...frames(2), viewFrom: 7 }, CLOCK)).rejects.toThrow(
      /^E_JOB_BOARD: the job has no attempt 7\. Give one of the attempts with a view \(1/,
    );
    const bare = join(folder, "bare");
    await createJob(bare, { device: "moisture meter" }, CLOCK);
    await addAttempt(bare, frames(1), CLOCK);
    await expect(addAttempt(bare, { ...frames(2), viewFrom: 1 }, CLOCK)).rejects.toThrow(
      /^E_JOB_BOARD: attempt 1 has no view.*with --view/,
    );
  });
});
