// evaluate: differences that changes of constants made → a table, files in the order of the data; and the table read
// again.
import { layTable } from "../lay-table.js";
import type { Difference } from "./compare-seen.js";

/** A constant, its value, what it was changed to, and what that gave. */
export interface Varied {
  readonly path: string;
  readonly name: string;
  readonly value: readonly number[];
  readonly to: readonly number[];
  readonly difference: Difference;
}

/** A line of the table. */
export interface VariedRow extends Omit<Varied, "difference"> {
  readonly scenes: number;
  /** Scenes in which anything was another than before. */
  readonly changed: number;
  /** Scenes in which another part came first. */
  readonly firsts: number;
  readonly falseHotspots: number;
  readonly chance: number;
}

const HEAD = ["constant", "value", "to", "scenes", "changed", "right", "wrong", "other", "false", "watts %"];
const NOTHING = "·";

/** Print a line for each change, under the name of its file; then what changed nothing at all, and what failed. */
export function printVaried(all: readonly Varied[]): string {
  const asked = all.filter(({ difference }) => difference.scenes > 0);
  const paths = [...new Set(asked.map(({ path }) => path))];
  const head = [...HEAD, "chance", "sq. error"];
  const rows = paths.flatMap((path) => [
    [path, ...head.slice(1).map(() => "")],
    ...asked.filter((one) => one.path === path).map(cellsOf),
  ]);
  const failed = asked.filter(({ difference }) => difference.failures > 0);
  return [
    layTable([head, ...rows]),
    "",
    `Nothing in any finding changes, either way: ${namesText(withoutEffect(asked))}.`,
    ...failed.map(
      ({ name, to, difference }) => `The tool fails with ${name} ${listText(to)}: ${difference.failures}.`,
    ),
  ].join("\n");
}

function cellsOf({ name, value, to, difference: d }: Varied): string[] {
  return [
    `  ${name}`,
    listText(value),
    listText(to),
    String(d.scenes),
    countText(d.changed),
    countText(d.forRight),
    countText(d.forWrong),
    countText(d.otherFirst),
    signedText(d.falseHotspots, 0),
    d.wattsError === null ? "–" : signedText(100 * d.wattsError, 1),
    d.chance < 0.0005 ? NOTHING : d.chance.toFixed(3),
    signedText(d.squaredError, 4),
  ];
}

/** Constants of which no change made anything another. */
function withoutEffect(all: readonly Varied[]): string[] {
  const named = ({ path, name }: Varied): string => `${path.replace(/^src\/(.*)\.ts$/, "$1")} ${name}`;
  const used = new Set(all.filter(({ difference }) => difference.changed > 0).map(named));
  return [...new Set(all.map(named))].filter((name) => !used.has(name));
}

/** Read the lines of a table that `printVaried` printed.
 *  @throws Error if a line is none of such a table.
 */
export function readVaried(text: string): VariedRow[] {
  let path = "";
  return text.split("\n").flatMap((line): VariedRow[] => {
    if (/^src\/\S+$/.test(line)) path = line;
    if (path === "" || !line.startsWith("  ")) return [];
    const cells = line.trim().split(/ {2,}/);
    const [name, value, to] = cells;
    const [scenes, changed, right, wrong, other, falseHotspots, , chance] = cells
      .slice(3)
      .map((cell) => (cell === NOTHING ? 0 : Number(cell.replace("–", "0"))));
    if (cells.length !== HEAD.length + 2 || chance === undefined || Number.isNaN(chance))
      throw new Error(`no line of a table of variations: ${line}`);
    return [
      {
        path,
        name: name!,
        value: numbersOf(value!),
        to: numbersOf(to!),
        scenes: scenes!,
        changed: changed!,
        firsts: right! + wrong! + other!,
        falseHotspots: falseHotspots!,
        chance,
      },
    ];
  });
}

const listText = (values: readonly number[]): string => values.join(", ");
const numbersOf = (text: string): number[] => text.split(", ").map(Number);
const namesText = (names: readonly string[]): string => (names.length === 0 ? "of none" : names.join(", "));

const countText = (count: number): string => (count === 0 ? NOTHING : String(count));

/** `+0.3`, `-0.3`, and a dot for what rounds to nothing. */
function signedText(value: number, digits: number): string {
  const text = value.toFixed(digits);
  if (Number(text) === 0) return NOTHING;
  return value > 0 ? `+${text}` : text;
}
