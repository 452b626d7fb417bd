// What may import what: down the stages, without circles, and Node only where files are read and written.
import { isBuiltin } from "node:module";
import { posix } from "node:path";
import { describe, expect, it } from "vitest";
import { factsOf, type SourceFacts } from "./parse-source.js";
import { listFiles, NODE_STAGES, readText, STAGES, sourceFiles, stageOf } from "./project.js";

const files = sourceFiles();
const facts = new Map<string, SourceFacts>(files.map((path) => [path, factsOf(path)]));
const manifest = JSON.parse(readText("package.json")) as Record<"dependencies" | "devDependencies", object>;

/** The file that a relative import of a file names. */
function target(path: string, from: string): string {
  const to = posix.join(posix.dirname(path), from).replace(/\.js$/, ".ts");
  return facts.has(`${to}x`) ? `${to}x` : to;
}

/** Imports of the project's own files, as pairs. */
const own = files.flatMap((path) =>
  facts
    .get(path)!
    .imports.filter(({ from }) => from.startsWith("."))
    .map(({ from, typeOnly }) => ({ path, to: target(path, from), typeOnly })),
);
/** Imports of everything else. */
const foreign = files.flatMap((path) =>
  facts
    .get(path)!
    .imports.filter(({ from }) => !from.startsWith("."))
    .map(({ from }) => ({ path, from })),
);

/** Rank of a file's stage; src/index.ts comes after all. */
function rank(path: string): number {
  const stage = stageOf(path);
  return stage === null ? STAGES.length : STAGES.indexOf(stage as (typeof STAGES)[number]);
}

describe("imports", () => {
  it("come from the folders that are stages", () => {
    expect(files.filter((path) => rank(path) < 0)).toEqual([]);
    expect(files.filter((path) => stageOf(path) === null)).toEqual(["src/index.ts"]);
  });

  it("name files that exist, with their ending", () => {
    const styles = new Set(listFiles("src", ".css"));
    expect(own.filter(({ to }) => !facts.has(to) && !styles.has(to))).toEqual([]);
  });

  it("go down the stages only", () => {
    expect(own.filter(({ path, to }) => rank(to) > rank(path))).toEqual([]);
  });

  it("never go in a circle", () => {
    // Imports of types alone are gone at run time; two files of one stage may share their types both ways.
    expect(findCircles(own.filter(({ typeOnly }) => !typeOnly))).toEqual([]);
  });

  it("finds a circle where there is one", () => {
    const pairs = ["ab", "bc", "ca", "cd"].map((pair) => ({ path: pair[0]!, to: pair[1]! }));
    expect(findCircles(pairs)).toEqual(["a → b → c → a"]);
  });

  it("take Node's own modules, sharp and pngjs where files are read, reported or commanded only", () => {
    const bound = foreign.filter(({ from }) => isBuiltin(from) || from === "sharp" || from === "pngjs");
    expect(bound.length).toBeGreaterThan(0);
    expect(bound.filter(({ path }) => !NODE_STAGES.includes(stageOf(path) ?? ""))).toEqual([]);
    expect(bound.filter(({ from }) => isBuiltin(from) && !from.startsWith("node:"))).toEqual([]);
  });

  it("and nothing else uses what Node alone has without an import", () => {
    const globals = [
      "process",
      "console",
      "Buffer",
      "require",
      "__dirname",
      "__filename",
      "setImmediate",
      "global",
    ];
    const uses = files
      .filter((path) => !NODE_STAGES.includes(stageOf(path) ?? ""))
      .flatMap((path) =>
        globals.filter((name) => facts.get(path)!.names.has(name)).map((name) => `${path}: ${name}`),
      );
    expect(uses).toEqual([]);
  });

  it("take no package that is not declared as needed at run time", () => {
    const packages = new Set(
      foreign.filter(({ from }) => !isBuiltin(from)).map(({ from }) => packageOf(from)),
    );
    expect([...packages].filter((name) => !(name in manifest.dependencies))).toEqual([]);
  });

  it("leave no declared package without work", () => {
    const inside = ["tests", "sample-frames", "src"].flatMap((folder) =>
      [".ts", ".tsx", ".mjs"].flatMap((ends) => listFiles(folder, ends)),
    );
    const used = new Set(inside.flatMap((path) => factsOf(path).imports.map(({ from }) => packageOf(from))));
    // A package of files, such as fonts or samples, is not imported but found by its name.
    // This file names some, too.
    const texts = inside.filter((path) => path !== "tests/structure/imports.test.ts").map(readText);
    const named = (name: string): boolean =>
      texts.some((text) => text.includes(`"${name}"`) || text.includes(`"${name}/`));
    const needed = Object.keys(manifest.dependencies).filter((name) => !used.has(name) && !named(name));
    expect(needed).toEqual([]);
    // Tools are called by name in the scripts, the configuration or CI; types serve a package that is used.
    const configurations = [
      "package.json",
      "tsconfig.json",
      "src/tsconfig.json",
      "tests/mutation/stryker.config.mjs",
    ];
    const called = configurations.map(readText).join("\n");
    const words: Record<string, RegExp> = {
      typescript: /\btsc\b/,
      "@biomejs/biome": /\bbiome check\b/,
      "@stryker-mutator/core": /\bstryker run\b/,
    };
    const idle = Object.keys(manifest.devDependencies).filter((name) => {
      const served = name.startsWith("@types/") ? name.slice("@types/".length) : null;
      if (served === "node") return !/"types": \["node"\]/.test(called);
      if (served !== null) return !used.has(served);
      return (
        !used.has(name) &&
        !named(name) &&
        !(words[name] ?? new RegExp(`"[^"]*\\b${name}\\b [^"]*"`)).test(called)
      );
    });
    expect(idle).toEqual([]);
  });
});

function packageOf(from: string): string {
  return from
    .split("/")
    .slice(0, from.startsWith("@") ? 2 : 1)
    .join("/");
}

/** Every circle of imports that a walk from each file in turn comes upon. */
function findCircles(pairs: readonly { path: string; to: string }[]): string[] {
  const next = new Map<string, string[]>();
  for (const { path, to } of pairs) next.set(path, [...(next.get(path) ?? []), to]);
  const done = new Set<string>();
  const circles: string[] = [];
  const walk = (path: string, way: readonly string[]): void => {
    const at = way.indexOf(path);
    if (at >= 0) circles.push([...way.slice(at), path].join(" → "));
    if (at >= 0 || done.has(path)) return;
    for (const to of next.get(path) ?? []) walk(to, [...way, path]);
    done.add(path);
  };
  for (const path of next.keys()) walk(path, []);
  return circles;
}
