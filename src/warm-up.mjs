// build: the command's parts → beside each what the engine made of it: `node src/warm-up.mjs FOLDER`. The command is used as on a
// bench, on the sample frames, since the engine makes code of what is called and of nothing else.
import { writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { setFlagsFromString } from "node:v8";

const [folder] = process.argv.slice(2);
const samples = fileURLToPath(new URL("../sample-frames", import.meta.url));
const attempt = join(samples, "attempt-1");

// Code that was used a while ago is else thrown away. What is kept must be of an engine as it usually is: see the end.
setFlagsFromString("--no-flush-bytecode");
const require = createRequire(import.meta.url);
const { flags, keptName, moduleOf, scripts } = require(join(folder, "start-command.cjs"));
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
const { main } = moduleOf("command", "src/cli/main.ts");
const find = ["find", "--board", join(samples, "board.json"), "--view", join(attempt, "view-top.json")];
const frames = ["--baseline", join(attempt, "baseline"), "--powered", join(attempt, "powered")];
const runs = [["--help"], [...find, ...frames], [...find, ...frames, "--json"]];
for (const words of runs) {
  const status = await main(words, { out: nowhere, err: nowhere, env: {} });
  if (status !== 0) throw new Error(`${words.join(" ")} ended with ${status}`);
}
moduleOf("rest", "src/cli/run-compare.ts");
setFlagsFromString("--flush-bytecode");
for (const [name, script] of scripts) {
  if (!name.startsWith("command-")) for (const flag of laterFlags.splice(0)) setFlagsFromString(flag);
  const code = script.createCachedData();
  writeFileSync(join(folder, keptName(name)), Buffer.concat([code, code]));
}
