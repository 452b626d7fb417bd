// The package as a user gets it: packed, installed into an empty folder, run, and imported with its types.
import { execFile } from "node:child_process";
import { mkdir, mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { preProcessFile } from "typescript";
import { afterAll, beforeAll, describe, expect, it, type TestContext } from "vitest";
import { brokenLinks } from "../structure/broken-links.js";
import { FRAME, makeFrame, SPOT } from "./make-frames.js";
import { PROJECT } from "./run-cli.js";

interface Run {
  readonly status: number;
  readonly out: string;
  readonly err: string;
}

/** What npm says when it can't reach a registry and has not kept what it needs. */
const OFFLINE = /\b(?:ENOTFOUND|EAI_AGAIN|ECONNREFUSED|ECONNRESET|ETIMEDOUT|ENETUNREACH|ENOTCACHED)\b/;

/** Quiet, and quick to give up: by npm's own settings it takes minutes to say that there is no network. */
const NPM_SETTINGS = {
  npm_config_audit: "false",
  npm_config_fund: "false",
  npm_config_fetch_retry_mintimeout: "500",
  npm_config_fetch_retry_maxtimeout: "2000",
};

let folder: string;
let packed: { filename: string; files: { path: string; mode: number }[] };
/** Why the package could not be installed; null if it was. */
let offline: string | null = null;

function run(command: string, words: readonly string[], cwd: string): Promise<Run> {
  return new Promise((resolve) => {
    const env = { ...process.env, ...NPM_SETTINGS };
    execFile(command, words, { cwd, env, maxBuffer: 1 << 26 }, (error, out, err) => {
      const status = error === null ? 0 : typeof error.code === "number" ? error.code : 1;
      resolve({ status, out, err });
    });
  });
}

/** Skip with a word where the dependencies can't be had. */
function needsInstall(context: TestContext): void {
  context.skip(offline !== null, `npm can't reach a registry: ${offline}`);
}

beforeAll(async () => {
  const parent = await mkdtemp(join(tmpdir(), "faultglow-pack-"));
  folder = join(parent, "empty");
  await mkdir(folder);
  // Without scripts: they would build anew under the feet of the other tests of the command.
  const pack = await run(
    "npm",
    ["pack", "--json", "--ignore-scripts", "--pack-destination", parent],
    PROJECT,
  );
  expect(pack.err, pack.err).not.toContain("npm error");
  [packed] = JSON.parse(pack.out) as [typeof packed];
  await writeFile(join(folder, "package.json"), '{ "name": "empty", "private": true, "type": "module" }\n');
  const install = await run("npm", ["install", "--prefer-offline", join(parent, packed.filename)], folder);
  if (install.status !== 0) {
    const reason = OFFLINE.exec(install.err)?.[0];
    if (reason === undefined) throw new Error(`npm install failed:\n${install.err}`);
    offline = reason;
  }
}, 240_000);
afterAll(() => rm(join(folder, ".."), { recursive: true, force: true }));

describe("the package", () => {
  it("holds what runs and what explains it, and nothing else", () => {
    const paths = packed.files.map((file) => file.path);
    const allowed =
      /^(?:dist\/.+\.(?:js|cjs|d\.ts|json)|dist\/page\/(?:index\.html|assets\/.+\.css)|src\/guide\/.+\.(?:md|svg)|src\/schemas\/.+\.json|bin\/(?:faultglow\.js|package\.json)|sample-frames\/.+\.(?:json|csv|png|md)|(?:README|DEVELOPERS)\.md|LICENSE|package\.json)$/;
    expect(paths.filter((path) => !allowed.test(path))).toEqual([]);
    for (const needed of [
      "bin/faultglow.js",
      "dist/cli/main.cjs",
      "dist/index.d.ts",
      "src/schemas/findings.json",
      "src/guide/taking-frames.md",
      "sample-frames/board.json",
      "sample-frames/attempt-1/truth.json",
      "LICENSE",
    ]) {
      expect(paths).toContain(needed);
    }
  });

  it("holds no module that neither the library nor its types lead to", async () => {
    const inPack = packed.files.map(({ path }) => path).filter((path) => path.startsWith("dist/"));
    // The command and the page are bundled: each of their files is written because something loads it.
    const library = inPack.filter((path) => !/^dist\/(?:cli|page)\//.test(path));
    const reached = new Set(["dist/index.js", "dist/index.d.ts"]);
    for (const path of reached) {
      const { importedFiles } = preProcessFile(await readFile(join(PROJECT, path), "utf8"), true, true);
      for (const { fileName } of importedFiles.filter(({ fileName: name }) => name.startsWith("."))) {
        const file = join(path, "..", fileName);
        reached.add(path.endsWith(".d.ts") ? file.replace(/\.js$/, ".d.ts") : file);
      }
    }
    expect(library.sort()).toEqual([...reached].sort());
  });

  it("has documents whose links lead to what the package holds", async () => {
    const paths = packed.files.map((file) => file.path);
    const documents = new Map<string, string>();
    for (const path of paths.filter((each) => each.endsWith(".md")))
      documents.set(path, await readFile(join(PROJECT, path), "utf8"));
    expect([...documents.keys()]).toEqual(expect.arrayContaining(["README.md", "src/guide/method.md"]));
    const read = (path: string): string | null =>
      documents.get(path) ?? (paths.some((each) => each === path || each.startsWith(`${path}/`)) ? "" : null);
    const broken = [...documents].flatMap(([path, text]) => brokenLinks(path, text, read));
    expect(broken).toEqual([]);
  });

  it("tells its version", async (context) => {
    needsInstall(context);
    const { version } = JSON.parse(await readFile(join(PROJECT, "package.json"), "utf8"));
    expect((await run("npx", ["faultglow", "--version"], folder)).out).toBe(`${version}\n`);
  });

  it("is whole, by its own doctor, and brings its guide", async (context) => {
    needsInstall(context);
    const { out } = await run("npx", ["faultglow", "doctor", "--json"], folder);
    const { lines } = JSON.parse(out) as { lines: { what: string; state: string }[] };
    const found = lines.filter(({ what }) => ["Its own files", "Pictures", "Reports"].includes(what));
    expect(found.map(({ state }) => state)).toEqual(["ok", "ok", "ok"]);
    expect((await run("npx", ["faultglow", "guide", "method"], folder)).out).toMatch(/^# Method\n/);
  });

  it("finds the fault in the frames that it brings along", async (context) => {
    needsInstall(context);
    const samples = "node_modules/faultglow/sample-frames";
    const words = [
      ...["faultglow", "find", "--json", "--board", `${samples}/board.json`],
      ...["--view", `${samples}/attempt-1/view-top.json`, "--out", "report"],
      ...["--baseline", `${samples}/attempt-1/baseline`, "--powered", `${samples}/attempt-1/powered`],
    ];
    const { status, out, err } = await run("npx", words, folder);
    expect([status, err]).toEqual([0, "Report: report/report.html\n"]);
    const truth = JSON.parse(await readFile(join(folder, samples, "attempt-1/truth.json"), "utf8"));
    const [fault] = truth.sources.filter((source: { fault: boolean }) => source.fault);
    expect(JSON.parse(out).suspects[0].ref).toBe(fault.ref);
    expect(await readFile(join(folder, "report/findings.json"), "utf8")).toBe(out);
  });

  it("is a library", async (context) => {
    needsInstall(context);
    const frames = { off: makeFrame(5, 0).flat(), on: makeFrame(6, SPOT.peakK).flat() };
    await writeFile(join(folder, "frames.json"), JSON.stringify(frames));
    await writeFile(join(folder, "use.mjs"), USE_LIBRARY);
    const { status, out, err } = await run(process.execPath, ["use.mjs"], folder);
    expect([status, err]).toEqual([0, ""]);
    const [x, y] = JSON.parse(out) as [number, number];
    // The spot's peak is 80 times the noise: half a pixel is far more than its place may be off.
    expect(Math.hypot(x - SPOT.x, y - SPOT.y)).toBeLessThan(0.5);
  });

  it("has types that compile by themselves, and refuse what does not fit", async (context) => {
    needsInstall(context);
    await writeFile(join(folder, "use.ts"), USE_LIBRARY);
    await writeFile(join(folder, "wrong.ts"), USE_LIBRARY.replace('"degC"', '"K"'));
    const { out } = await run(
      process.execPath,
      [
        ...[join(PROJECT, "node_modules/typescript/bin/tsc"), "--noEmit", "--strict", "--target", "es2022"],
        ...["--module", "nodenext", "--types", "node", "--typeRoots", join(PROJECT, "node_modules/@types")],
        ...["use.ts", "wrong.ts"],
      ],
      folder,
    );
    // Rises are handed over as if they were temperatures, once; the packages' own types are checked as well.
    expect(out).toMatch(/^wrong\.ts\(5,\d+\): error TS2345: .*Raster<"K">.*Raster<"degC">/);
    expect(out.match(/error TS/g)).toHaveLength(1);
  });

  it("has types that want none of Node's, also where the types of packages are checked", async (context) => {
    needsInstall(context);
    await writeFile(
      join(folder, "bare.ts"),
      'import * as library from "faultglow";\nexport const { analyse } = library;\n',
    );
    const tsc = join(PROJECT, "node_modules/typescript/bin/tsc");
    const compilerOptions = {
      noEmit: true,
      strict: true,
      target: "es2022",
      module: "nodenext",
      types: [],
    };
    const bare = join(folder, "bare.json");
    await writeFile(bare, JSON.stringify({ compilerOptions, files: ["bare.ts"] }));
    const { status, out } = await run(process.execPath, [tsc, "-p", bare], folder);
    expect([status, out]).toEqual([0, ""]);
  });

  it("brings its JSON Schemas", async (context) => {
    needsInstall(context);
    const script = 'console.log(require("faultglow/schemas/board.json").title)';
    expect((await run(process.execPath, ["--input-type=commonjs", "-e", script], folder)).out).toBe(
      "faultglow/board\n",
    );
  });
});

/** A program that uses the library; it is JavaScript and TypeScript alike. */
const USE_LIBRARY = `
import { readFileSync } from "node:fs";
import { createRaster, findHotspots, frameFromRaster } from "faultglow";
const { off, on } = JSON.parse(readFileSync("frames.json", "utf8"));
const baseline = frameFromRaster(createRaster("degC", ${FRAME.width}, ${FRAME.height}, Float32Array.from(off)));
const powered = frameFromRaster(createRaster("degC", ${FRAME.width}, ${FRAME.height}, Float32Array.from(on)));
const findings = findHotspots({ baseline: [baseline], powered: [powered] });
console.log(JSON.stringify(findings.hotspots[0]?.sourcePx ?? null));
`;
