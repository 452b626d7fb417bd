// evaluate: the command `npm run evaluate`: simulated scenes of every kind → a table of what the tool gets right.
import { fork } from "node:child_process";
import { existsSync } from "node:fs";
import { availableParallelism } from "node:os";
import { fileURLToPath } from "node:url";
import { parseArgs } from "node:util";
import { makeScene } from "../simulate/make-scene.js";
import { KINDS, type Kind } from "../simulate/scene.js";
import { writeScene } from "../simulate/write-scene.js";
import { ABLATIONS } from "./ablations.js";
import { type Line, printTables } from "./print-table.js";
import type { Work } from "./run-scenes.js";
import type { Score } from "./score.js";
import { type Summary, summarise } from "./summary.js";

const HELP = `npm run evaluate -- [options]
  --scenes N      scenes of each kind (20; the yardstick wants 200)
  --seed S        base seed (40000); scene i of a kind has seed S + i
  --kinds a,b     some kinds only: ${KINDS.join(", ")}
  --jobs N        processes (one a core)
  --plain-only    the plain chain alone
  --ablate        the tool with one ingredient left out at a time
  --failures      list the scenes that the tool got wrong
  --json          everything as JSON on stdout
  --dump DIR --kinds K --seed S   write one scene as files to look at, and stop
`;

interface Options {
  readonly scenes: number;
  readonly seed: number;
  readonly kinds: readonly Kind[];
  readonly jobs: number;
}

async function main(): Promise<void> {
  const { values } = parseArgs({
    options: {
      scenes: { type: "string", default: "20" },
      seed: { type: "string", default: "40000" },
      kinds: { type: "string", default: KINDS.join(",") },
      jobs: { type: "string", default: String(availableParallelism()) },
      "plain-only": { type: "boolean", default: false },
      ablate: { type: "boolean", default: false },
      failures: { type: "boolean", default: false },
      json: { type: "boolean", default: false },
      dump: { type: "string" },
      help: { type: "boolean", default: false },
    },
  });
  if (values.help) {
    process.stdout.write(HELP);
    return;
  }
  const options: Options = {
    scenes: wholeNumber("--scenes", values.scenes),
    seed: wholeNumber("--seed", values.seed),
    kinds: values.kinds.split(",").map(asKind),
    jobs: Math.max(1, wholeNumber("--jobs", values.jobs)),
  };
  if (values.dump !== undefined) {
    for (const kind of options.kinds) await writeScene(values.dump, makeScene(kind, options.seed));
    return;
  }
  const hasTool = existsSync(new URL("../../src/findings/analyse.ts", import.meta.url));
  if (!hasTool && !values["plain-only"]) {
    process.stderr.write("src/findings/analyse.ts does not exist: only the plain chain is measured\n");
  }
  const withTool = hasTool && !values["plain-only"];
  if (values.ablate) {
    if (!withTool) throw new Error("--ablate needs the tool");
    await ablate(options, values.json);
    return;
  }
  const scores = await measure(options, withTool ? {} : null, true);
  const lines = summariseKinds(options.kinds, scores, withTool);
  if (values.json) process.stdout.write(`${JSON.stringify({ ...options, lines, scores }, null, 1)}\n`);
  else process.stdout.write(`${printTables(lines)}\n`);
  if (values.failures) listFailures(scores);
}

/** Share the scenes between processes, alternating, so that slow kinds are spread. */
async function measure(
  options: Options,
  toolOptions: Work["toolOptions"],
  plain: boolean,
): Promise<readonly Score[]> {
  const all = options.kinds.flatMap((kind) =>
    Array.from({ length: options.scenes }, (_, i) => ({ kind, seed: options.seed + i })),
  );
  const jobs = Math.min(options.jobs, all.length);
  const scores: Score[] = [];
  let done = 0;
  const take = (some: readonly Score[]): void => {
    scores.push(...some);
    done++;
    if (process.stderr.isTTY) process.stderr.write(`\r${done}/${all.length} `);
  };
  await Promise.all(
    Array.from({ length: jobs }, (_, job) => {
      const work: Work = { scenes: all.filter((_, i) => i % jobs === job), toolOptions, plain };
      return runChild(work, take);
    }),
  );
  if (process.stderr.isTTY) process.stderr.write("\r            \r");
  return scores;
}

function runChild(work: Work, take: (scores: readonly Score[]) => void): Promise<void> {
  return new Promise((resolve, reject) => {
    const child = fork(fileURLToPath(new URL("./run-scenes.ts", import.meta.url)), ["child"], {
      execArgv: process.execArgv,
      serialization: "advanced",
    });
    child.on("message", (scores: readonly Score[]) => take(scores));
    child.on("error", reject);
    child.on("exit", (code) =>
      code === 0 ? resolve() : reject(new Error("a process of the evaluation failed")),
    );
    child.send(work);
  });
}

/** A line for each kind, then one for all kinds in which something heats. */
function summariseKinds(kinds: readonly Kind[], scores: readonly Score[], withTool: boolean): Line[] {
  const line = (name: string, some: readonly Score[]): Line => ({
    name,
    tool: withTool ? summarise(some.filter((score) => score.chain === "faultglow")) : null,
    plain: summarise(some.filter((score) => score.chain === "plain")),
    powered: some.some((score) => score.rightFirst !== null),
  });
  const lines = kinds.map((kind) =>
    line(
      kind,
      scores.filter((score) => score.kind === kind),
    ),
  );
  const powered = scores.filter((score) => score.rightFirst !== null);
  if (powered.length > 0) lines.push(line("all powered", powered));
  return lines;
}

async function ablate(options: Options, json: boolean): Promise<void> {
  if (ABLATIONS.length < 2) throw new Error("tests/evaluate/ablations.ts names no ingredient to leave out");
  const results: { name: string; summary: Summary; clean: Summary }[] = [];
  for (const { name, options: toolOptions } of ABLATIONS) {
    const scores = await measure(options, toolOptions, false);
    results.push({
      name,
      summary: summarise(scores.filter((score) => score.rightFirst !== null)),
      clean: summarise(scores.filter((score) => score.rightFirst === null)),
    });
    if (!json) {
      const last = results[results.length - 1]!;
      const right = last.summary.rightFirst?.share.toFixed(3) ?? "–";
      const clean = last.clean.clean?.share.toFixed(3) ?? "–";
      const align = last.summary.alignMedianPx?.toFixed(3) ?? "–";
      process.stdout.write(
        `${name.padEnd(28)} right first ${right}   unpowered clean ${clean}   alignment ${align} px\n`,
      );
    }
  }
  if (json) process.stdout.write(`${JSON.stringify(results, null, 1)}\n`);
}

function listFailures(scores: readonly Score[]): void {
  for (const score of scores) {
    if (score.chain !== "faultglow") continue;
    const wrong = score.rightFirst === false || (score.rightFirst === null && score.falseAlarms > 0);
    if (wrong) process.stdout.write(`${score.kind} ${score.seed} ${score.error ?? ""}\n`);
  }
}

function asKind(text: string): Kind {
  const kind = KINDS.find((one) => one === text);
  if (kind === undefined)
    throw new Error(`--kinds: no kind is called "${text}"; there are ${KINDS.join(", ")}`);
  return kind;
}

function wholeNumber(name: string, text: string): number {
  const value = Number(text);
  if (!Number.isInteger(value) || value < 0) throw new Error(`${name}: "${text}" is no whole number`);
  return value;
}

main().catch((error: unknown) => {
  process.stderr.write(`${error instanceof Error ? error.message : String(error)}\n`);
  process.exitCode = 1;
});
