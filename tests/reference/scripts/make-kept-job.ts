// A job of every sort of line → job-<version>.zip, as the version that runs this keeps it. Run once for each version
// that changes a form on the disk: npx tsx tests/reference/scripts/make-kept-job.ts FILE. Files of earlier versions
// stay as they are.
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { makeBoard, makeFrame, makeView, writeCsv } from "../../cli/make-frames.js";
import { runCli } from "../../cli/run-cli.js";

const target = resolve(process.argv[2] ?? "job.zip");
const folder = await mkdtemp(join(tmpdir(), "faultglow-kept-"));
const path = (name: string): string => join(folder, name);
await writeCsv(path("off.csv"), makeFrame(11, 0));
await writeCsv(path("on.csv"), makeFrame(12, 2.4));
await writeCsv(path("on-later.csv"), makeFrame(13, 0.05));
await writeFile(path("board.json"), JSON.stringify(makeBoard()));
await writeFile(path("view.json"), JSON.stringify(makeView()));

const at = (minute: number): string[] => [
  "--at",
  `2031-03-01T09:${String(minute).padStart(2, "0")}:00+01:00`,
];
const frames = (powered: string): string[] => [
  "--baseline",
  "off.csv",
  "--powered",
  powered,
  "--view",
  "view.json",
];
const lines: string[][] = [
  [
    "new",
    "job",
    "--device",
    "sluice gauge K3",
    "--complaint",
    "does not start",
    "--board",
    "board.json",
    ...at(0),
  ],
  ["attempt", "job", ...frames("on.csv"), "--volts", "0.9", "--amps", "0.3", ...at(5)],
  ["reading", "job", "--net", "VSYS", "--diode", "0.2", ...at(6)],
  [
    "reading",
    "job",
    "--net",
    "VSYS",
    "--diode",
    "0.40-0.45",
    "--reference",
    "--source",
    "a good board",
    ...at(7),
  ],
  ["action", "job", "--replaced", "U5", "--remark", "with hot air", ...at(8)],
  ["remark", "job", "a slip", ...at(9)],
  ["withdraw", "job", "6", "--reason", "said by mistake"],
  ["attempt", "job", ...frames("on-later.csv"), "--volts", "0.9", "--amps", "0.05", ...at(12)],
  ["pack", "job", "--out", target],
];
for (const words of lines) {
  const { status, err } = await runCli(["job", ...words], { cwd: folder });
  if (status !== 0) throw new Error(`${words.join(" ")}: ${err}`);
}
await rm(folder, { recursive: true });
