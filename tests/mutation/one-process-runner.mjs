// mutation: a runner for Stryker that loads the tests once and runs them for one mutant after another in the same
// process: beginning vitest anew for each takes a hundred times as long as the tests of a unit.
import { readFileSync, rmSync } from "node:fs";
import { relative, resolve } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { declareClassPlugin, PluginKind } from "@stryker-mutator/api/plugin";
import { build } from "esbuild";
import { testsOfCore } from "./core-files.mjs";

const COLLECT = fileURLToPath(new URL("collect-tests.mjs", import.meta.url));

/** Stryker's names of what came of a run and of a test. */
const [SUCCESS, FAILED] = [0, 1];

class OneProcessRunner {
  #tests = [];

  /** What is made at loading stays as it was: such mutants are left out (`ignoreStatic`). */
  capabilities() {
    return { reloadEnvironment: false };
  }

  /** Put all tests into one file beside the mutated sources, and load it. */
  async init() {
    const root = process.cwd();
    const bundle = resolve(root, `.one-process-${process.pid}.mjs`);
    const lines = [
      `import ${JSON.stringify(resolve(root, "tests/fix-seed.ts"))};`,
      ...testsOfCore().map((file) => `import ${JSON.stringify(resolve(root, file))};`),
      `export { tests } from "vitest";`,
    ];
    await build({
      stdin: { contents: lines.join("\n"), resolveDir: root, loader: "ts" },
      bundle: true,
      packages: "external",
      platform: "node",
      format: "esm",
      outfile: bundle,
      logLevel: "error",
      plugins: [{ name: "one process", setup: (steps) => prepare(steps, root) }],
    });
    try {
      ({ tests: this.#tests } = await import(pathToFileURL(bundle).href));
    } finally {
      rmSync(bundle);
    }
  }

  async dryRun() {
    const space = globalThis.__stryker__ ?? {};
    const tests = [];
    for (const { id, name, run } of this.#tests) {
      space.currentTestId = id;
      const start = performance.now();
      const failureMessage = await failureOf(run);
      const base = { id, name, timeSpentMs: performance.now() - start };
      tests.push(
        failureMessage === null ? { ...base, status: SUCCESS } : { ...base, status: FAILED, failureMessage },
      );
    }
    space.currentTestId = undefined;
    return { status: "complete", tests, mutantCoverage: space.mutantCoverage };
  }

  async mutantRun({ activeMutant, testFilter, hitLimit }) {
    const space = globalThis.__stryker__;
    const wanted = testFilter === undefined ? null : new Set(testFilter);
    Object.assign(space, { activeMutant: activeMutant.id, hitCount: hitLimit && 0, hitLimit });
    let nrOfTests = 0;
    try {
      for (const { id, run } of this.#tests) {
        if (wanted !== null && !wanted.has(id)) continue;
        nrOfTests++;
        const failureMessage = await failureOf(run);
        if (space.hitCount > hitLimit) return { status: "timeout", reason: "it goes round too often" };
        if (failureMessage !== null) return { status: "killed", killedBy: [id], failureMessage, nrOfTests };
      }
      return { status: "survived", nrOfTests };
    } finally {
      Object.assign(space, { activeMutant: undefined, hitCount: undefined, hitLimit: undefined });
    }
  }
}

async function failureOf(run) {
  try {
    await run();
    return null;
  } catch (error) {
    return String(error?.message ?? error);
  }
}

/** The tests' own `vitest`, and the addresses that files had before they were put into one. */
function prepare(steps, root) {
  steps.onResolve({ filter: /^vitest$/ }, () => ({ path: COLLECT }));
  steps.onLoad({ filter: /\.ts$/ }, ({ path }) => {
    const text = readFileSync(path, "utf8").replaceAll(
      "import.meta.url",
      JSON.stringify(pathToFileURL(path).href),
    );
    const name = relative(root, path);
    const contents = name.endsWith(".test.ts")
      ? `import { beginFile as beginOwnFile } from "vitest"; beginOwnFile(${JSON.stringify(name)});\n${text}`
      : text;
    return { contents, loader: "ts" };
  });
}

export const strykerPlugins = [declareClassPlugin(PluginKind.TestRunner, "one-process", OneProcessRunner)];
