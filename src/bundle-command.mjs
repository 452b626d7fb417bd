// build: the command's sources → dist/cli: all of it in one file, beside it what the engine made of that file, and two small
// files that start it. A process that opens two hundred files, or forty, takes twice as long to start as one that opens four;
// and half of what a short run does is the engine's work on the code, which it need not do again.
import { spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import { mkdirSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";

const WARM_UP = fileURLToPath(new URL("warm-up.mjs", import.meta.url));
/** What the engine is told when a command begins, whose compiling takes other threads as long as the command takes itself.
 *  Functions are written into one another a third as far, which saves those threads a tenth; and what dies young is cleared
 *  away by the command's own thread, which else waits for theirs.
 */
const FLAGS = [
  "--max-inlined-bytecode-size=150",
  "--max-inlined-bytecode-size-cumulative=300",
  "--no-parallel-scavenge",
];

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
  const command = await build({
    ...common,
    // The second is what the server does its long work with, in processes of their own. What is imported only when it is
    // asked for does not run before.
    stdin: {
      contents: [
        'export { main } from "./src/cli/main.ts";',
        'export const work = () => import("./src/serve/bench-worker.ts");',
      ].join("\n"),
      resolveDir: project,
    },
    write: false,
    format: "cjs",
    supported: { "dynamic-import": false },
    define: { "import.meta.url": "fileUrl" },
    banner: { js: "(function (require, module, fileUrl) { const exports = module.exports;" },
    footer: { js: "})" },
  });
  const contents = inAscii(command.outputFiles[0].text);
  // By its content, so that what the engine made of another one is never taken for it.
  const name = `command-${createHash("sha256").update(contents).digest("hex").slice(0, 16)}`;
  writeFileSync(join(folder, `${name}.cjs`), contents);
  writeFileSync(join(folder, "main.js"), starter(name, "export const { main } = module.exports;", FLAGS));
  writeFileSync(join(folder, "bench-worker.js"), starter(name, "await module.exports.work();"));
  const thread = await build({
    ...common,
    // Threads that read long bursts.
    entryPoints: { "read-worker": "src/read/read-worker.ts" },
    outdir: folder,
    format: "esm",
    // Packages in the older form of modules ask for Node's own by `require`.
    banner: {
      js: 'import { createRequire as requireFrom } from "node:module"; const require = requireFrom(import.meta.url);',
    },
  });
  keepCode(folder, name);
  return { inputs: { ...command.metafile.inputs, ...thread.metafile.inputs } };
}

/** What is read with one byte a letter has no other letters: esbuild writes those beyond ASCII as they are where they stand in regular
 *  expressions, which mean the same with the number of the letter.
 */
function inAscii(code) {
  return code.replace(/[\u0080-\uffff]/g, (unit) => `\\u${unit.charCodeAt(0).toString(16).padStart(4, "0")}`);
}

/** Let a process use the command once and keep what the engine made of it. Without that the command does the same, later. */
function keepCode(folder, name) {
  const words = [WARM_UP, folder, name, keptName(name)];
  const { status, stderr } = spawnSync(process.execPath, words, { encoding: "utf8" });
  if (status !== 0) process.stderr.write(`bundle: the command's code was not kept:\n${stderr}\n`);
}

/** What another version of the engine, or one for another machine, made is of no use: it looks for its own. */
function keptName(name) {
  return `${[name, process.version, process.platform, process.arch].join("-")}.code`;
}

/** A file that loads the command and begins with it. Whether it can use what was kept the engine itself looks; with other
 *  flags than it was made with it would not, so that they are set afterwards.
 */
function starter(name, begin, flags = []) {
  return `// Written by src/bundle-command.mjs.
import { existsSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { setFlagsFromString } from "node:v8";
import { Script } from "node:vm";

const file = new URL("./${name}.cjs", import.meta.url);
const marks = ["./${name}", process.version, process.platform, process.arch];
const kept = new URL(marks.join("-") + ".code", import.meta.url);
const script = new Script(readFileSync(file, "latin1"), {
  filename: "${name}.cjs",
  cachedData: existsSync(kept) ? readFileSync(kept) : undefined,
});
for (const flag of ${JSON.stringify(flags)}) setFlagsFromString(flag);
const module = { exports: {} };
script.runInThisContext()(createRequire(file), module, file.href);
${begin}
`;
}
