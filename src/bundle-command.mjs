// build: the command's sources → dist/cli: a few files that hold all of it, beside each what the engine made of it, and
// two that begin it. A process that opens two hundred files, or forty, takes twice as long to start as one that opens
// four; and half of what a short run does is the engine's work on the code, which it need not do again.
import { spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import { mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join, relative } from "node:path";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";

const WARM_UP = fileURLToPath(new URL("warm-up.mjs", import.meta.url));
const START = fileURLToPath(new URL("start-command.cjs", import.meta.url));

/** Modules with which each part begins. A part holds what these import, and what of that an earlier part holds is taken
 *  from there. Nothing but the first is needed for a command's help; `find` needs the first three, and with a board the
 *  fourth.
 */
const PARTS = {
  command: ["src/cli/main.ts"],
  // Compiled while the rest is read.
  kernels: ["src/numeric/kernels.ts"],
  find: ["src/cli/run-find.ts", "src/report/serialise-findings.ts"],
  // What wants schemas, which take a third of the rest's time to load and make.
  schemas: ["src/board/parse-board-map.ts", "src/board/parse-view.ts", "src/frames/scale-schema.ts"],
  rest: ["src/serve/bench-worker.ts"],
};

/** Begins a process that works beside the bench; it sets no flags. */
const BENCH_WORKER = `// Written by src/bundle-command.mjs.
"use strict";
const { flags, moduleOf } = require("./main.cjs");
flags.splice(0);
moduleOf("rest", "src/serve/bench-worker.ts");
`;

/** The part of which no command needs all: a module of it is run when it is first asked for. For that each lies in a
 *  function of its own, which costs a short run some milliseconds; modules of the other parts lie in one scope, and all
 *  are run when the part is read.
 */
const LAST_PART = Object.keys(PARTS).at(-1);

/** Of this package a part holds what it needs and no more, which is less than a third. Schemas of one copy work in
 *  those of another. */
const TAKEN_IN_PART = /^node_modules\/zod\//;

/** @returns esbuild's notes of what is in the files. */
export async function bundleCommand(project) {
  const folder = join(project, "dist/cli");
  rmSync(folder, { recursive: true, force: true });
  mkdirSync(folder, { recursive: true });
  const common = {
    absWorkingDir: project,
    bundle: true,
    platform: "node",
    target: "node20",
    // Blanks, and letters beyond ASCII, for which the engine reads a file with two bytes a letter, cost a tenth of the
    // loading. Names stay, so that a stack says where.
    charset: "ascii",
    minifyWhitespace: true,
    minifySyntax: true,
    // A library in machine code, found by its own loader; and two that only the report of a job needs.
    external: ["sharp", "pdfkit", "fontkit"],
    metafile: true,
    logLevel: "warning",
  };
  const { inputs, files } = await bundleParts(folder, common);
  const start = readFileSync(START, "utf8").replace("PARTS_BY_NAME", JSON.stringify(files));
  writeFileSync(join(folder, "main.cjs"), `// Written by src/bundle-command.mjs.\n${start}`);
  writeFileSync(join(folder, "bench-worker.cjs"), BENCH_WORKER);
  keepCode(folder);
  return { inputs };
}

/** Write the parts. @returns esbuild's notes of their inputs, and the parts' files by their names. */
async function bundleParts(folder, common) {
  const project = common.absWorkingDir;
  const parts = new Map(
    Object.entries(PARTS).map(([name, entries]) => [name, { entries: new Set(entries), inputs: {} }]),
  );
  const files = {};
  // What a part is asked for by the later ones, and what is imported only when asked for, is known once those are made.
  const bundle = async (name, write) => {
    const part = parts.get(name);
    const { outputFiles, metafile } = await build({
      ...common,
      stdin: {
        contents: beginning([...part.entries].sort(), name === LAST_PART),
        resolveDir: project,
      },
      write: false,
      format: "cjs",
      supported: { "dynamic-import": false },
      define: { "import.meta.url": "fileUrl" },
      banner: { js: "(function (require, module, fileUrl) { const exports = module.exports;" },
      footer: { js: "})" },
      plugins: [takeFromOthers(project, parts, name)],
    });
    part.inputs = metafile.inputs;
    if (!write) return;
    const contents = inAscii(outputFiles[0].text);
    // By its content, so that what the engine made of another one is never taken for it.
    files[name] = `${name}-${createHash("sha256").update(contents).digest("hex").slice(0, 16)}`;
    writeFileSync(join(folder, `${files[name]}.cjs`), contents);
  };
  for (const name of parts.keys()) await bundle(name, false);
  for (const name of parts.keys()) await bundle(name, true);
  return { inputs: Object.assign({}, ...[...parts.values()].map((part) => part.inputs)), files };
}

/** Hands out the modules that a part is asked for. @param byModule whether they are run no sooner. */
function beginning(paths, byModule) {
  const module = (path, k) => (byModule ? `require("./${path}")` : `module${k}`);
  return [
    ...(byModule ? [] : paths.map((path, k) => `import * as module${k} from "./${path}";`)),
    "export const modules = {",
    ...paths.map((path, k) => `${JSON.stringify(path)}: () => ${module(path, k)},`),
    "};",
  ].join("\n");
}

/** What another part holds is asked for by the part's name. What is imported only when it is asked for is in the last
 *  one, unless it is where a part begins.
 */
function takeFromOthers(project, parts, own) {
  const names = [...parts.keys()];
  return {
    name: "parts",
    setup({ onResolve, resolve }) {
      onResolve({ filter: /.*/ }, async ({ path, pluginData, ...from }) => {
        if (pluginData === "resolved" || from.kind === "entry-point") return undefined;
        const found = await resolve(path, { ...from, pluginData: "resolved" });
        if (found.external || found.errors.length > 0) return found;
        const file = relative(project, found.path);
        if (TAKEN_IN_PART.test(file)) return found;
        let owner = names.slice(0, names.indexOf(own)).find((name) => file in parts.get(name).inputs);
        if (owner === undefined && from.kind === "dynamic-import") {
          owner = names.find((name) => PARTS[name].includes(file)) ?? LAST_PART;
        }
        // Of its own part what is imported only when asked for is asked for by name too, else it would not be in that
        // one scope.
        if (owner === undefined || (owner === own && own === LAST_PART)) return found;
        parts.get(owner).entries.add(file);
        return { path: `${owner}:${file}`, external: true };
      });
    },
  };
}

/** What is read with one byte a letter has no other letters: esbuild writes those beyond ASCII as they are where they
 *  stand in regular expressions, which mean the same with the number of the letter.
 */
function inAscii(code) {
  return code.replace(/[\u0080-\uffff]/g, (unit) => `\\u${unit.charCodeAt(0).toString(16).padStart(4, "0")}`);
}

/** Let processes use the command, with a board and without one, and keep what the engine made of it. Without that the
 *  command does the same, later.
 */
function keepCode(folder) {
  for (const words of [[], ["few"]]) {
    const { status, stderr } = spawnSync(process.execPath, [WARM_UP, folder, ...words], { encoding: "utf8" });
    if (status !== 0) process.stderr.write(`bundle: the command's code was not kept:\n${stderr}\n`);
  }
}
