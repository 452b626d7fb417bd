// build: the command's parts → beside each what the engine made of it: `node src/warm-up.mjs FOLDER [few]`. The command
// is used as on a bench, on the sample frames, since the engine makes code of what is called and of nothing else. With
// `few` it is used without a board, and what is kept is what such runs need of the one part of which that is half.
import { writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { setFlagsFromString } from "node:v8";

const [folder, few] = process.argv.slice(2);
const samples = fileURLToPath(new URL("../sample-frames", import.meta.url));
const attempt = join(samples, "attempt-1");

// Code that was used a while ago is else thrown away. What is kept must be of an engine as it usually is: see the end.
setFlagsFromString("--no-flush-bytecode");
const require = createRequire(import.meta.url);
const { ANALYSIS, FEW, flags, keptName, main, moduleOf, native, scripts } = require(join(folder, "main.cjs"));
// They are set at the end, for what was kept is of use to an engine with the same ones alone.
const laterFlags = flags.splice(0);

const nowhere = {
  isTTY: false,
  on() {},
  write(_text, done) {
    done?.();
    return true;
  },
};
// Later engines may have other ways with what they have for themselves: this was tried on none of them.
const kernels =
  few === undefined && process.versions.v8.startsWith("11.") ? await compileKernels() : undefined;
const board =
  few === undefined ? ["--board", join(samples, "board.json"), "--view", join(attempt, "view-top.json")] : [];
const find = [
  "find",
  ...board,
  "--baseline",
  join(attempt, "baseline"),
  "--powered",
  join(attempt, "powered"),
];
const runs = [["--help"], find, [...find, "--json"]];
for (const words of runs) {
  const status = await main(words, { out: nowhere, err: nowhere, env: {} });
  if (status !== 0) throw new Error(`${words.join(" ")} ended with ${status}`);
}
if (few === undefined) moduleOf("rest", "src/cli/run-compare.ts");
setFlagsFromString("--flush-bytecode");
for (const [name, script] of scripts) {
  if (!name.startsWith("command-")) for (const flag of laterFlags.splice(0)) setFlagsFromString(flag);
  if (few === undefined) keep(name, script.createCachedData());
  else if (name.startsWith(`${ANALYSIS}-`)) keep(`${name}${FEW}`, script.createCachedData());
}
if (kernels !== undefined) {
  const part = [...scripts.keys()].find((name) => name.startsWith("kernels-"));
  keep(`${part}.wasm`, compiledKernels(kernels));
}

/** Twice: see the reader. */
function keep(name, code) {
  writeFileSync(join(folder, keptName(name)), Buffer.concat([code, code]));
}

/** The kernels, and good code of all of them at once. For that the engine has flags; with the usual ones back it does
 *  not tell what it made then from what it makes later.
 */
async function compileKernels() {
  const { KERNEL_BYTES } = await import(pathToFileURL(join(folder, "../numeric/kernel-bytes.js")).href);
  const bytes = Buffer.from(KERNEL_BYTES, "base64");
  const quickly = ["liftoff", "wasm-lazy-compilation", "wasm-dynamic-tiering"];
  for (const flag of quickly) setFlagsFromString(`--no-${flag}`);
  const module = new WebAssembly.Module(bytes);
  for (const flag of quickly) setFlagsFromString(`--${flag}`);
  return { bytes, module };
}

/** First how many bytes the kernels have, then these, then what was made of them. */
function compiledKernels({ bytes, module }) {
  const length = Buffer.alloc(4);
  length.writeUInt32LE(bytes.length);
  return Buffer.concat([length, bytes, Buffer.from(native("SerializeWasmModule", "module")(module))]);
}
