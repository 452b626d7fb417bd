// `npm run check`: everything about the project that needs no run of it on frames, in one go, and a list of what
// failed.
import { spawnSync } from "node:child_process";
import { PROJECT } from "./project.js";

/** Checks in their order: the quick ones first. Each is an npm script of its own. */
const CHECKS = [
  { script: "types", says: "types of sources, tests and samples" },
  { script: "lint", says: "lint and format" },
  { script: "unused", says: "files, exports and packages that nobody uses" },
  { script: "reference", says: "the API reference, without a warning" },
  { script: "build", says: "the build, which the structure tests run" },
  {
    script: "structure",
    says: "imports, sizes, names, tables of codes and options, links and examples of the documents",
  },
] as const;

// Words after `npm run check --` go to the runner of the structure tests, for CI wants its report.
const words = process.argv.slice(2);
const failed = CHECKS.filter(({ script, says }) => {
  process.stdout.write(`\n${script}: ${says}\n`);
  const more = script === "structure" && words.length > 0 ? ["--", ...words] : [];
  const start = performance.now();
  const run = spawnSync("npm", ["run", "--silent", script, ...more], { cwd: PROJECT, stdio: "inherit" });
  const seconds = ((performance.now() - start) / 1000).toFixed(0);
  process.stdout.write(`${script}: ${run.status === 0 ? "well" : "FAILED"} (${seconds} s)\n`);
  return run.status !== 0;
});
process.stdout.write(
  failed.length === 0
    ? "\nAll checks went well.\n"
    : `\nFailed: ${failed.map(({ script }) => script).join(", ")}. Each runs alone by npm run NAME.\n`,
);
process.exitCode = failed.length === 0 ? 0 : 1;
