// build: how npm runs `prepare` → exit status 0 where there is nothing to build. The first `npx faultglow` in this
// folder links the folder into npx's cache and runs `prepare` once more, without a word; what `npm ci` built is taken
// as it is then.
import { existsSync } from "node:fs";

const isLinkedByNpx = process.env.npm_command === "exec";
const isBuilt = existsSync(new URL("../dist/page/index.html", import.meta.url));
process.exitCode = isLinkedByNpx && isBuilt ? 0 : 1;
