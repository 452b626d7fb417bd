import { mkdtemp, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { runCli } from "./run-cli.js";

let root = "";
let job = "";

beforeAll(async () => {
  root = await mkdtemp(join(tmpdir(), "faultglow-job-report-"));
  job = join(root, "job");
  const made = await runCli([
    "job",
    "new",
    job,
    "--device",
    "invented <meter>",
    "--board",
    "sample-frames/board.json",
  ]);
  expect(made.status, made.err).toBe(0);
  const folder = "sample-frames/attempt-1";
  const frames = [
    "--baseline",
    `${folder}/baseline`,
    "--powered",
    `${folder}/powered`,
    "--view",
    `${folder}/view-top.json`,
  ];
  const added = await runCli(["job", "attempt", job, ...frames, "--volts", "0.9", "--amps", "0.278"]);
  expect(added.status, added.err).toBe(0);
});

afterAll(async () => {
  await rm(root, { recursive: true, force: true });
});

describe("faultglow job report", () => {
  it("writes HTML and PDF into the job, and says where", async () => {
    const run = await runCli(["job", "report", job]);
    expect(run).toMatchObject({ status: 0, err: "" });
    expect(run.out).toBe(
      `Report: ${join(job, "report/job-report.html")}\nPDF:    ${join(job, "report/job-report.pdf")}\n`,
    );
    const html = await readFile(join(job, "report/job-report.html"), "utf8");
    expect(html).toContain("C6 ");
    expect(html).toContain("invented &lt;meter&gt;");
    const pdf = await readFile(join(job, "report/job-report.pdf"), "latin1");
    expect(pdf.startsWith("%PDF-1.7")).toBe(true);
    // Its fonts are found from the packed command, too.
    expect(pdf).toContain("+ReportSans-Bold");
  });

  it("writes the customer's report into a folder of one's choice, and tells of it in JSON", async () => {
    const out = join(root, "for the customer");
    const run = await runCli(["job", "report", job, "--for", "customer", "--out", out, "--json"]);
    expect(run.status).toBe(0);
    expect(JSON.parse(run.out)).toEqual({
      folder: job,
      for: "customer",
      html: join(out, "customer-report.html"),
      pdf: join(out, "customer-report.pdf"),
    });
  });

  it("refuses anybody else", async () => {
    const run = await runCli(["job", "report", job, "--for", "neighbour"]);
    expect(run.status).toBe(2);
    expect(run.err).toContain("E_USAGE");
    expect(run.err).toContain("'neighbour' is invalid. Allowed choices are repairer, customer.");
  });
});
