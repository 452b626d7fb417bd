#!/usr/bin/env node
"use strict";
const { existsSync } = require("node:fs");
const { join } = require("node:path");

// What can be wrong before the first line of the tool is read. The numbers are those of `engines` in package.json.
const [major, minor] = process.versions.node.split(".").map(Number);
const command = join(__dirname, "../dist/cli/main.cjs");
if (major < 20 || (major === 20 && minor < 9)) {
  refuse(`Node ${process.versions.node} is too old: faultglow needs 20.9 or newer. Install a newer Node`);
} else if (!existsSync(command)) {
  refuse("faultglow is not built: its folder dist is missing. Run npm ci in the folder of the project");
} else {
  require(command)
    .main(process.argv.slice(2))
    .then((status) => {
      process.exitCode = status;
    });
}

function refuse(reason) {
  process.stderr.write(`E_MACHINE: ${reason}.\n`);
  process.exitCode = 2;
}
