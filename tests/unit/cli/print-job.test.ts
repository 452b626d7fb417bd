import { describe, expect, it } from "vitest";
import { stylesFor } from "../../../src/cli/command-output.js";
import { printJob } from "../../../src/cli/print-job.js";
import { type WeighJobOptions, weighJob } from "../../../src/evidence/weigh-job.js";
import type { Entry } from "../../../src/job/entry-schema.js";
import { makeJob, type Step } from "../evidence/make-job.js";

const look: Step = { attempt: { heat: [{ C7: 0.55, U3: 0.35 }] } };
const good: Step = { reference: { net: "VIO", value: 0.45 } };
const short: Step = { reading: { net: "VIO", value: 0.001 } };

function print(steps: readonly Step[], options: WeighJobOptions = {}): string {
  const job = makeJob(steps);
  return printJob(job, weighJob(job, options), stylesFor(false));
}

describe("printJob", () => {
  it("explains the column of readings where there is one", () => {
    const text = print([look, good, short]);
    expect(text).toMatch(/^Part +At fault +Still +Readings +State$/m);
    expect(text).toMatch(/^Readings: how many times as likely /m);
  });

  it("says of an empty job what comes next, and of another one nothing", () => {
    expect(print([])).toContain("Nothing is in it yet. faultglow job attempt DIR adds frames");
    const remark: Entry = {
      kind: "faultglow/entry",
      version: 1,
      seq: 1,
      previous: "0".repeat(64),
      at: "2026-03-04T05:06:07Z",
      said: { type: "remark", text: "came back wet" },
    };
    const text = printJob({ ...makeJob([]), entries: [remark] }, null, stylesFor(false));
    expect(text).toContain("came back wet");
    expect(text).not.toContain("Nothing is in it yet");
  });

  it("says nothing of it where no reading could be weighed", () => {
    // Without a reference only a short can be told.
    const text = print([look, { reading: { net: "VIO", value: 0.4 } }]);
    expect(text).toMatch(/^VIO +diode +not judged /m);
    expect(text).toMatch(/^Part +At fault +Still +State$/m);
    expect(text).not.toMatch(/^Readings/m);
  });

  it("says that readings were left out, on demand", () => {
    expect(print([look, good, short], { useReadings: false })).toMatch(/^Readings are not counted here /m);
    expect(print([look], { useReadings: false })).not.toMatch(/^Readings/m);
  });
});
