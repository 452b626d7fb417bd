// cli: this machine → a line for each thing that the work needs of it.
import { existsSync } from "node:fs";
import { createRequire } from "node:module";
import { createServer } from "node:net";
import { homedir, tmpdir, totalmem } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { BENCH_PORT, BENCH_PORTS } from "../serve/bench-ports.js";
import { checkDisk, sizeText } from "./check-disk.js";
import { findBrowser } from "./find-browser.js";
import { fine, type MachineLine } from "./machine-line.js";

/** The oldest Node that runs the tool; package.json says the same (`engines`), and a test holds one against the
 *  other. */
export const OLDEST_NODE = [20, 9] as const;
/** Bursts of any length are analysed within 250 MB (`tests/bench/bench-memory.ts`); the rest is for the system and a
 *  browser. */
const LEAST_MEMORY_BYTES = 1e9;
/** What 12,000 frames of 256×192 take in the temporary folder. */
const LONG_BURST_BYTES = 2.4e9;

/** What is looked at. */
export interface MachineQuestion {
  readonly jobs?: string | undefined;
  readonly port?: number | undefined;
  /** Folder of the tool; its own unless a test gives another. */
  readonly tool?: string;
}

/** Look at everything; a look never throws. */
export async function checkMachine(question: MachineQuestion = {}): Promise<MachineLine[]> {
  const tool = question.tool ?? fileURLToPath(new URL("../../", import.meta.url));
  const jobs = question.jobs ?? join(homedir(), "faultglow-jobs");
  return [
    checkNode(process.versions.node),
    checkFiles(tool),
    await checkPictures(),
    checkReports(),
    await checkDisk(process.cwd(), {
      what: "Working folder",
      refused: "Go to a folder of your own, or give --out and --job folders that you may write to",
      roomBytes: 200e6,
      roomFor: "reports and jobs keep copies of their frames",
      made: false,
    }),
    await checkDisk(jobs, {
      what: "Jobs folder",
      refused: "Give another folder to faultglow bench with --jobs",
      roomBytes: 1e9,
      roomFor: "a job keeps a copy of all its frames",
      made: true,
    }),
    await checkDisk(tmpdir(), {
      what: "Temporary folder",
      refused: "Name another one by TMPDIR (on Windows TEMP); long bursts need it",
      roomBytes: LONG_BURST_BYTES,
      roomFor: `a burst of 12,000 frames of 256×192 takes ${sizeText(LONG_BURST_BYTES)} there while it is analysed`,
      made: false,
    }),
    checkMemory(totalmem()),
    checkBrowser(findBrowser()),
    await checkPort(question.port),
  ];
}

/** Judge Node by its version. @param hasWasm false where Node was started with a flag that takes WebAssembly away */
export function checkNode(version: string, hasWasm = typeof WebAssembly !== "undefined"): MachineLine {
  const [major = 0, minor = 0] = version.split(".").map(Number);
  const [needMajor, needMinor] = OLDEST_NODE;
  if (major > needMajor || (major === needMajor && minor >= needMinor)) {
    if (hasWasm) return fine("Node", version);
    return {
      what: "Node",
      state: "look",
      found: `${version}, without WebAssembly: all is slower, and faultglow bench can't run`,
      fix: "Start Node without --jitless, which may stand in the variable NODE_OPTIONS",
    };
  }
  return {
    what: "Node",
    state: "not ok",
    found: `${version} is too old`,
    fix: `Install Node ${needMajor}.${needMinor} or newer`,
  };
}

/** Files that the tool is made of, one from each part of the build. */
const PARTS = [
  "dist/cli/main.cjs",
  "dist/page/index.html",
  "src/guide/method.md",
  "sample-frames/board.json",
];

/** See whether the tool is whole. */
export function checkFiles(tool: string): MachineLine {
  const missing = PARTS.filter((part) => !existsSync(join(tool, part)));
  if (missing.length === 0) return fine("Its own files", "complete");
  return {
    what: "Its own files",
    state: "not ok",
    found: `missing: ${missing.join(", ")}`,
    fix: "Install the package again; in a clone of the project run npm ci",
  };
}

/** See whether the library for pictures loads, by making a picture and reading it back. */
async function checkPictures(): Promise<MachineLine> {
  const what = "Pictures";
  try {
    const { default: sharp } = await import("sharp");
    const grey = { width: 3, height: 2, channels: 1 } as const;
    const png = await sharp(Buffer.from([0, 50, 100, 150, 200, 250]), { raw: grey })
      .png()
      .toBuffer();
    const { data } = await sharp(png).greyscale().raw().toBuffer({ resolveWithObject: true });
    if (data[4] !== 200) throw new Error("a picture came back changed");
    return fine(what, `are written and read (sharp ${sharp.versions.sharp ?? ""})`.replace(" )", ")"));
  } catch (error) {
    return {
      what,
      state: "not ok",
      found: `the library sharp does not work: ${firstLine(error)}`,
      fix: "Install the package again on this machine, with optional packages; a copy from another kind of machine lacks its library",
    };
  }
}

/** See whether the packages of the PDF are there: a job is kept without them, but gets no report. */
function checkReports(): MachineLine {
  const what = "Reports";
  const require = createRequire(import.meta.url);
  try {
    for (const name of ["pdfkit", "fontkit", "@fontsource-variable/noto-sans/package.json"])
      require.resolve(name);
    return fine(what, "everything for pages and PDF is there");
  } catch (error) {
    return {
      what,
      state: "look",
      found: `no PDF can be made: ${firstLine(error)}`,
      fix: "Install the package again",
    };
  }
}

/** Judge the memory. */
export function checkMemory(bytes: number): MachineLine {
  const found = `${sizeText(bytes)} in all`;
  if (bytes >= LEAST_MEMORY_BYTES) return fine("Memory", found);
  return { what: "Memory", state: "look", found, fix: "Pairs of frames will do; long bursts want 1 GB" };
}

/** Judge what was found of a browser. */
export function checkBrowser(path: string | null): MachineLine {
  if (path !== null) return fine("Browser", `${path}, for the page of faultglow bench`);
  return {
    what: "Browser",
    state: "look",
    found: "none where browsers usually are",
    fix: "For the page of faultglow bench install one of the last three years; the other commands need none",
  };
}

/** See whether the bench could listen. */
export async function checkPort(port?: number): Promise<MachineLine> {
  const what = "Port of the bench";
  const last = BENCH_PORT + BENCH_PORTS - 1;
  const wanted = port === undefined ? Array.from({ length: BENCH_PORTS }, (_, k) => BENCH_PORT + k) : [port];
  const refusals: string[] = [];
  for (const one of wanted) {
    const refusal = await tryPort(one);
    if (refusal === null) {
      const note = refusals.length === 0 ? "" : `; ${wanted[0]} is in use, perhaps by another bench`;
      return fine(what, `${one === 0 ? "any" : one} is free${note}`);
    }
    refusals.push(refusal);
  }
  const names = port === undefined ? `${BENCH_PORT} to ${last} are all` : `${port} is`;
  const inUse = refusals.every((refusal) => refusal === "EADDRINUSE");
  return {
    what,
    state: "look",
    found: inUse ? `${names} in use` : `${port ?? BENCH_PORT} can't be used: the system said ${refusals[0]}`,
    fix: "Close the other bench, or give faultglow bench another port with --port, such as 0 for any that is free",
  };
}

/** The system's word for why a port can't be listened at; null if it can. */
function tryPort(port: number): Promise<string | null> {
  return new Promise((resolve) => {
    const server = createServer();
    server.once("error", (error: NodeJS.ErrnoException) => resolve(error.code ?? error.message));
    server.listen({ port, host: "127.0.0.1", exclusive: true }, () => server.close(() => resolve(null)));
  });
}

function firstLine(error: unknown): string {
  return (error instanceof Error ? error.message : String(error)).trim().split("\n")[0] ?? "";
}
