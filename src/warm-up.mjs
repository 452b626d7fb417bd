// build: the command in one file → beside it what the engine made of it: `node src/warm-up.mjs FOLDER NAME KEPT`. The command is
// used as on a bench, on the sample frames, since the engine makes code of what is called and of nothing else.
import { readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { setFlagsFromString } from "node:v8";
import { Script } from "node:vm";

const [folder, name, kept] = process.argv.slice(2);
const samples = fileURLToPath(new URL("../sample-frames", import.meta.url));
const attempt = join(samples, "attempt-1");

// Code that was used a while ago is else thrown away. What is kept must be of an engine as it usually is: see the end.
setFlagsFromString("--no-flush-bytecode");
const file = join(folder, `${name}.cjs`);
// Stacks tell what stands here. Without the folder: it would be one of this machine.
const script = new Script(readFileSync(file, "latin1"), { filename: `${name}.cjs` });
const module = { exports: {} };
script.runInThisContext()(createRequire(file), module, pathToFileURL(file).href);

const nowhere = {
  isTTY: false,
  on() {},
  write(_text, done) {
    done?.();
    return true;
  },
};
const { main } = module.exports;
const find = ["find", "--board", join(samples, "board.json"), "--view", join(attempt, "view-top.json")];
const frames = ["--baseline", join(attempt, "baseline"), "--powered", join(attempt, "powered")];
const runs = [["--help"], [...find, ...frames], [...find, ...frames, "--json"]];
for (const words of runs) {
  const status = await main(words, { out: nowhere, err: nowhere, env: {} });
  if (status !== 0) throw new Error(`${words.join(" ")} ended with ${status}`);
}
setFlagsFromString("--flush-bytecode");
writeFileSync(join(folder, kept), script.createCachedData());
