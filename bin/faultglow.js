#!/usr/bin/env node
import { existsSync } from "node:fs";

// What can be wrong before the first line of the tool is read. The numbers are those of `engines` in package.json.
const [major, minor] = process.versions.node.split(".").map(Number);
const command = new URL("../dist/cli/main.js", import.meta.url);
if (major < 20 || (major === 20 && minor < 9)) {
  refuse(`Node ${process.versions.node} is too old: faultglow needs 20.9 or newer. Install a newer Node`);
} else if (!existsSync(command)) {
  refuse("faultglow is not built: its folder dist is missing. Run npm ci in the folder of the project");
} else {
  const { main } = await import(command.href);
  process.exitCode = await main(process.argv.slice(2));
}

function refuse(reason) {
  process.stderr.write(`E_MACHINE: ${reason}.\n`);
  process.exitCode = 2;
}
