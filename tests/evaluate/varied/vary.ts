// evaluate: `npm run evaluate -- --vary`: judged constants, changed one at a time, over the same scenes → a table of
// what that changes.
import { appendFileSync, existsSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Kind } from "../../simulate/scene.js";
import { PROJECT } from "../../structure/project.js";
import { hashOf } from "../record.js";
import { type Change, makeAnalyse, stageFiles } from "./bundle-tool.js";
import { chooseScene, DOUBTFUL_OF, MOST_WIDTH_PX } from "./choose-scene.js";
import { compareSeen } from "./compare-seen.js";
import { JUDGEMENTS } from "./judgements.js";
import { type KeptStage, keepStages } from "./kept-stages.js";
import { printVaried, type Varied } from "./print-varied.js";
import { constantNumbers } from "./replace-constant.js";
import { type SeenScene, sceneName, seeScene } from "./seen-scene.js";
import { varyValue } from "./vary-value.js";

const FIRST_LINE = "faultglow/varied";

/** What a run of variations is told. */
interface VaryOptions {
  readonly kinds: readonly Kind[];
  /** Of each kind. */
  readonly scenes: number;
  readonly seed: number;
  /** Words that the path or the name of a constant holds; null: all. */
  readonly only: readonly string[] | null;
  /** After so many nothing new is begun, and what there is is printed. */
  readonly minutes: number;
  /** Where results are kept as they come, so that a run that was cut goes on; null: nowhere. */
  readonly out: string | null;
}

/** One version of the tool on one round: a scene of each kind. */
interface Line {
  readonly round: number;
  readonly change: Change | null;
  readonly seen: readonly SeenScene[];
}

/** Vary the constants round by round, and print what that changes. */
export async function vary(options: VaryOptions): Promise<string> {
  const changes = changesOf(options.only);
  if (changes.length === 0)
    throw new Error(`--only: no constant that is varied is called ${options.only?.join(" or ")}`);
  const { lines, add } = openLines(options);
  const files = await stageFiles();
  // First those that need no second fit of sources: they cost a tenth of the others.
  const costs = ({ path }: Change): number => Number(reach(files, path).has("findOnBoard"));
  const inOrder = [...changes.entries()].sort(([, a], [, b]) => costs(a) - costs(b));
  const find = (round: number, change: Change | null): Line | undefined =>
    lines.find((line) => line.round === round && keyOf(line.change) === keyOf(change));
  const before: SeenScene[] = [];
  const after = changes.map((): SeenScene[] => []);
  const isOver = (): boolean => performance.now() > 60_000 * options.minutes;
  const said = follow(changes.length * options.scenes);
  // Doubtful scenes first: there a constant shows what it does.
  const rounds = Array.from({ length: options.scenes }, (_, round) => round);
  for (const round of rounds.sort((a, b) => (b % 2) - (a % 2))) {
    const known = find(round, null);
    const see = isOver() ? null : await openRound(options, round);
    const asIs = (await see?.(null)) ?? known?.seen;
    if (asIs === undefined) continue;
    if (known === undefined) add({ round, change: null, seen: asIs });
    else if (JSON.stringify(known.seen) !== JSON.stringify(asIs))
      throw new Error(`${options.out} holds other answers of the tool as it is; name another file`);
    before.push(...asIs);
    for (const [k, change] of inOrder) {
      const old = find(round, change);
      if (see === null || (old === undefined && isOver())) {
        after[k]!.push(...(old?.seen ?? []));
        continue;
      }
      const seen = old?.seen ?? (await see(change));
      if (old === undefined) add({ round, change: change, seen });
      after[k]!.push(...seen);
      said(keyOf(change));
    }
  }
  const varied = changes.map(
    (change, k): Varied => ({ ...change, difference: compareSeen(before, after[k]!) }),
  );
  return `${headOf(options, before)}\n\n${printVaried(varied)}`;
}

/** Make the scenes of a round.
 *  @returns asks a version of the tool about them; first that without a change.
 */
async function openRound(
  { kinds, seed }: VaryOptions,
  round: number,
): Promise<(change: Change | null) => Promise<SeenScene[]>> {
  const keeper = keepStages();
  const files = await stageFiles();
  const asIs = await makeAnalyse(null, keepStages());
  const scenes = kinds.map((kind) => chooseScene(kind, seed, round, asIs));
  return async (change) => {
    const analyse = await makeAnalyse(change, keeper);
    const reached = change === null ? null : reach(files, change.path);
    return scenes.map((scene) => {
      keeper.begin(sceneName(scene), reached);
      return seeScene(scene, analyse);
    });
  };
}

/** Kept stages that a file has a part in. */
function reach(files: Awaited<ReturnType<typeof stageFiles>>, path: string): ReadonlySet<KeptStage> {
  return new Set([...files].flatMap(([stage, own]) => (own.has(path) ? [stage] : [])));
}

function headOf({ kinds, seed }: VaryOptions, before: readonly SeenScene[]): string {
  const powered = before.filter(({ right }) => right !== null);
  const right = powered.filter((one) => one.right).length;
  const alarms = before.reduce((sum, { falseAlarms }) => sum + falseAlarms, 0);
  return [
    `${before.length} scenes, ${before.length / kinds.length} of each of ${kinds.length} kinds, from seed ${seed} on, of frames up to ${MOST_WIDTH_PX} px wide:`,
    `in turn the next one, and of the next ${DOUBTFUL_OF} that of which the tool is least sure.`,
    `As it is the tool has the right part first in ${right} of the ${powered.length} in which something heats, and ${alarms} hotspots where nothing does.`,
  ].join("\n");
}

function follow(all: number): (what: string) => void {
  const started = performance.now();
  let done = 0;
  return (what) => {
    done++;
    const minutes = ((performance.now() - started) / 60_000).toFixed(1);
    process.stderr.write(`${minutes} min, ${done} of ${all}: ${what}\n`);
  };
}

const keyOf = (change: Change | null): string =>
  change === null ? "" : `${change.path} ${change.name} ${change.to.join(", ")}`;

/** Every change, down and up, of the constants that are asked for. */
export function changesOf(only: readonly string[] | null): (Change & { value: number[] })[] {
  return JUDGEMENTS.flatMap(({ path, names }) => {
    const text = readFileSync(join(PROJECT, path), "utf8");
    return Object.entries(names)
      .filter(([name]) => only === null || only.some((word) => `${path} ${name}`.includes(word)))
      .flatMap(([name, rule]) => {
        const value = constantNumbers(text, name);
        return varyValue(value, rule).map((to) => ({ path, name, value, to }));
      });
  });
}

/** Lines of a run that was cut, if they are of the same sources and scenes, and what adds to them. */
function openLines({ out, kinds, seed }: VaryOptions): {
  lines: readonly Line[];
  add: (line: Line) => void;
} {
  if (out === null) return { lines: [], add: () => {} };
  const head = JSON.stringify({
    kind: FIRST_LINE,
    version: 1,
    sources: hashOf(["src", "tests/simulate"]),
    kinds,
    seed,
  });
  if (!existsSync(out)) writeFileSync(out, `${head}\n`);
  const [first, ...rest] = readFileSync(out, "utf8").split("\n");
  if (first !== head)
    throw new Error(
      `${out} was made with other sources or of other scenes, or is no record of variations; name another file`,
    );
  // A run that was cut off leaves half a line: it is measured anew, on a line of its own.
  if (rest.at(-1) !== "") appendFileSync(out, "\n");
  return {
    lines: rest.flatMap((line): Line[] => {
      try {
        return [JSON.parse(line) as Line];
      } catch {
        return [];
      }
    }),
    add: (line) => appendFileSync(out, `${JSON.stringify(line)}\n`),
  };
}
