// What would make the same frames give other bits elsewhere is not used by the sources.
import { expect, it } from "vitest";
import { readText, sourceFiles, stageOf } from "./project.js";

/** The code of the sources without comments and texts. */
const code = sourceFiles().map((path) => {
  const text = readText(path)
    .replace(/\/\*[\s\S]*?\*\//g, "")
    .replace(/"(?:[^"\\\n]|\\.)*"/g, '""')
    .replace(/(^|[^:])\/\/.*$/gm, "$1");
  return { path, text };
});

it("powers are squares or powers of two, which are exact everywhere; others go by raiseTo", () => {
  const wrong = code
    .filter(({ path }) => stageOf(path) !== "page" && path !== "src/core/raise-to.ts")
    .flatMap(({ path, text }) =>
      text
        .split("\n")
        .filter((line) => /Math\.pow|\*\*(?! 2\b)/.test(line.replace(/\b2 \*\* /g, "")))
        .map((line) => `${path}: ${line.trim()}`),
    );
  expect(wrong).toEqual([]);
});

it("nothing is random but names that must not meet, and those in stages that touch the disk or the network", () => {
  const random = code.filter(({ text }) => /Math\.random|getRandomValues/.test(text));
  expect(random.map(({ path }) => path)).toEqual([]);
  const names = code.filter(({ text }) => /\b(?:randomUUID|randomBytes|randomInt)\(/.test(text));
  const stages = new Set(names.map(({ path }) => stageOf(path)));
  expect([...stages].sort()).toEqual(["cli", "read", "report", "serve", "store"]);
});

it("pure stages ask no clock and no surroundings", () => {
  const pure = code.filter(
    ({ path }) => !["read", "report", "store", "watch", "page", "serve", "cli", null].includes(stageOf(path)),
  );
  expect(pure.length).toBeGreaterThan(100);
  const asking = pure.filter(({ text }) =>
    /\bDate\.now\(|new Date\(\)|performance\.now\(|process\.(?:env|platform|argv)|toLocale\w+\(|\bIntl\./.test(
      text,
    ),
  );
  expect(asking.map(({ path }) => path)).toEqual([]);
});
