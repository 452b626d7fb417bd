// evaluate: the command `npm run evaluate`: simulated scenes of every kind → tables of what the tool gets right.
import { availableParallelism } from "node:os";
import { parseArgs } from "node:util";
import { makeScene } from "../simulate/make-scene.js";
import { KINDS, type Kind } from "../simulate/scene.js";
import { writeScene } from "../simulate/write-scene.js";
import { ABLATIONS } from "./ablations.js";
import { writePictures } from "./draw-pictures.js";
import type { Figure } from "./figure.js";
import { SPECIAL_FIGURES } from "./figures/special.js";
import { printAblations } from "./print-ablations.js";
import { followProgress } from "./progress.js";
import { runQueue } from "./queue.js";
import { addToRecord, openRecord, type RunRecord, stillToDo } from "./record.js";
import { printResults } from "./results.js";
import type { Item } from "./run-items.js";
import { ofWholeTool, type Score } from "./score.js";
import { VARIED_KINDS } from "./varied/choose-scene.js";
import { vary } from "./varied/vary.js";
import { sceneFigures } from "./yardstick.js";

const HELP = `npm run evaluate -- [options]
  --scenes N      scenes of each kind (20; the yardstick wants 200)
  --seed S        base seed (40000); scene i of a kind has seed S + i
  --kinds a,b     some kinds only: ${KINDS.join(", ")}
  --figures       the special figures alone: ${SPECIAL_FIGURES.map((one) => one.name).join(", ")};
                  without it they run with all kinds, with fewer trials below 100 scenes
  --only a,b      with --figures: some of them
  --trials SHARE  share of the special figures' trials (1)
  --jobs N        processes (one a core)
  --out FILE      write each result to FILE as it comes, and go on from what is there
  --mixed         go on even if FILE was begun with other sources
  --plain-only    the plain chain alone
  --ablate        the tool with one ingredient left out at a time
  --vary          judged constants of the method halved and doubled, one at a time, in one process, on N small scenes
                  (3) of each kind of one view, from seed 280000 on; --only takes words of their names and files
  --minutes M     with --vary: begin nothing new after so many, and print what there is (45; 0: what --out has)
  --pictures DIR  draw the curve of calibration and the errors of place, as SVG
  --failures      list the scenes, jobs and repairs that the tool got wrong
  --json          everything as JSON on stdout
  --dump DIR --kinds K --seed S   write one scene as files to look at, and stop
Progress goes to stderr, each kind as it is complete.
`;

/** What the command was told, as text. */
type Told = ReturnType<typeof readWords>;

function readWords() {
  return parseArgs({
    options: {
      scenes: { type: "string" },
      seed: { type: "string" },
      kinds: { type: "string" },
      figures: { type: "boolean", default: false },
      only: { type: "string" },
      trials: { type: "string" },
      jobs: { type: "string", default: String(availableParallelism()) },
      out: { type: "string" },
      mixed: { type: "boolean", default: false },
      "plain-only": { type: "boolean", default: false },
      vary: { type: "boolean", default: false },
      minutes: { type: "string" },
      ablate: { type: "boolean", default: false },
      pictures: { type: "string" },
      failures: { type: "boolean", default: false },
      json: { type: "boolean", default: false },
      dump: { type: "string" },
      help: { type: "boolean", default: false },
    },
  }).values;
}

async function main(): Promise<void> {
  const values = readWords();
  if (values.help) {
    process.stdout.write(HELP);
    return;
  }
  const seed = wholeNumber("--seed", values.seed ?? (values.vary ? "280000" : "40000"));
  const kinds = values.kinds === undefined ? KINDS : values.kinds.split(",").map(asKind);
  if (values.dump !== undefined) {
    for (const kind of kinds) await writeScene(values.dump, makeScene(kind, seed));
    return;
  }
  if (values.vary) {
    const table = await vary({
      kinds: values.kinds === undefined ? VARIED_KINDS : kinds,
      scenes: wholeNumber("--scenes", values.scenes ?? "3"),
      seed,
      only: values.only?.split(",") ?? null,
      minutes: wholeNumber("--minutes", values.minutes ?? "45"),
      out: values.out ?? null,
    });
    process.stdout.write(`${table}\n`);
    return;
  }
  const record = await measure(
    itemsOf(values, kinds, seed),
    Math.max(1, wholeNumber("--jobs", values.jobs)),
    values.out,
    values.mixed,
  );
  printRecord(values, kinds, seed, record);
}

/** Everything that is to be measured. */
function itemsOf(values: Told, kinds: readonly Kind[], seed: number): Item[] {
  const scenes = wholeNumber("--scenes", values.scenes ?? "20");
  if (values.ablate && ABLATIONS.length < 2)
    throw new Error("tests/evaluate/ablations.ts names no ingredient to leave out");
  const variants = values["plain-only"] ? [] : values.ablate ? ABLATIONS : ABLATIONS.slice(0, 1);
  const special = values.figures || (values.kinds === undefined && variants.length === 1);
  const share =
    values.trials === undefined ? (values.figures ? 1 : Math.min(1, scenes / 100)) : Number(values.trials);
  if (!(share >= 0 && share <= 1)) throw new Error(`--trials: "${values.trials}" is no share from 0 to 1`);
  return [
    ...(values.figures ? [] : sceneItems(kinds, scenes, seed, variants, !values.ablate)),
    ...(special ? trialItems(share, seed, namesOf(values.only)) : []),
  ];
}

/** Print what was measured, draw it and list what was wrong, as asked. */
function printRecord(values: Told, kinds: readonly Kind[], seed: number, record: RunRecord): void {
  const wanted = (score: Score): boolean => kinds.includes(score.kind);
  const scores = record.scores.filter(wanted);
  const tool = ofWholeTool(scores);
  const figures = [...sceneFigures(tool), ...specialFigures(record)];
  if (values.json) process.stdout.write(`${JSON.stringify({ seed, figures, ...record }, null, 1)}\n`);
  else if (values.ablate) {
    const names = ABLATIONS.map((one) => one.name);
    process.stdout.write(
      `${printAblations(
        names,
        kinds,
        scores.filter((one) => one.chain === "faultglow"),
      )}\n`,
    );
  } else process.stdout.write(`${printResults(kinds, scores, figures)}\n`);
  if (values.pictures !== undefined) {
    const files = writePictures(values.pictures, scores);
    process.stderr.write(`pictures: ${files.join(", ")}\n`);
  }
  if (values.failures) listFailures(tool, record);
}

function sceneItems(
  kinds: readonly Kind[],
  scenes: number,
  seed: number,
  variants: typeof ABLATIONS,
  plain: boolean,
): Item[] {
  return kinds.flatMap((kind) =>
    Array.from(
      { length: scenes },
      (_, i): Item => ({ type: "scene", kind, seed: seed + i, variants, plain }),
    ),
  );
}

function trialItems(share: number, seed: number, names: readonly string[]): Item[] {
  return SPECIAL_FIGURES.filter(({ name }) => names.includes(name)).flatMap(({ name, trials }) =>
    Array.from(
      { length: Math.ceil(share * trials) },
      (_, index): Item => ({ type: "trial", figure: name, index, seed }),
    ),
  );
}

/** The special figures that are asked for, or all. */
function namesOf(only: string | undefined): string[] {
  const all = SPECIAL_FIGURES.map(({ name }) => name);
  const unknown = only?.split(",").find((name) => !all.includes(name));
  if (unknown !== undefined)
    throw new Error(`--only: no figure is called "${unknown}"; there are ${all.join(", ")}`);
  return only?.split(",") ?? all;
}

async function measure(
  items: readonly Item[],
  jobs: number,
  out: string | undefined,
  mixed: boolean,
): Promise<RunRecord> {
  const record: RunRecord = out === undefined ? { scores: [], trials: [] } : openRecord(out, mixed);
  const open = stillToDo(items, record);
  if (open.length < items.length) {
    process.stderr.write(`${items.length - open.length} of ${items.length} are in ${out} already\n`);
  }
  const follow = followProgress(open, () => record.scores);
  await runQueue(open, jobs, (item, outcome) => {
    record.scores.push(...outcome.scores);
    record.trials.push(...outcome.trials);
    if (out !== undefined) addToRecord(out, outcome);
    follow(item);
  });
  return record;
}

function specialFigures({ trials }: RunRecord): Figure[] {
  return SPECIAL_FIGURES.flatMap(({ name, summarise }) => {
    const own = trials.filter((trial) => trial.figure === name);
    const failed = own.filter((trial) => trial.error !== null);
    if (failed.length > 0)
      process.stderr.write(`${name}: ${failed.length} trials failed\n${failed[0]!.error}\n`);
    return own.length === 0
      ? []
      : summarise(own.filter((trial) => trial.error === null).map((one) => one.values));
  });
}

function listFailures(tool: readonly Score[], { trials }: RunRecord): void {
  for (const { kind, seed, rightFirst, falseAlarms, error } of tool) {
    const wrong = rightFirst === false || (rightFirst === null && falseAlarms > 0);
    if (wrong) process.stdout.write(`${kind} ${seed} ${error ?? ""}\n`);
  }
  for (const { figure, index, values, error } of trials) {
    const wrong = error ?? values["wrong"] ?? "";
    if (wrong !== "") process.stdout.write(`${figure} ${index} ${wrong}\n`);
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
