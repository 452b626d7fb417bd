// Every constant of the method with its value and its reason, read off the sources: the page `src/guide/constants.md`.
import { readVaried } from "../evaluate/varied/print-varied.js";
import { listFiles } from "./project.js";
import { constantsOf } from "./read-constants.js";
import { variedBlock, variedSentence } from "./varied.js";

/** Stages whose constants decide what is found, in the order of the data. */
const STAGES_OF_METHOD = [
  "board",
  "clean",
  "align",
  "place",
  "rise",
  "hotspots",
  "sources",
  "suspects",
  "findings",
  "readings",
  "compare",
  "evidence",
] as const;

const HEAD = `# Constants

Every number that the method rests on, with its reason or source as it stands in the code; the
[page of method](method.md) tells how they are used. Numbers that only set the speed or the size of a working array are
among them. Units are at the end of the names: K, W, Mm, Px, S, Db, Rad. "Measured" without more means: on simulated
boards, by the project's own evaluation, on other seeds than those that it is judged by. A figure with neither source nor
measurement is a judgement: what half and twice of most of them give is told in their rows and in the
[table at the end](#judgements-varied), and the records in [DEVELOPERS.md](../../DEVELOPERS.md#decisions) tell what else
was tried. The page is written by \`npm run readme\` from the code, and a test holds it against the code.
`;

const VARIED = `## Judgements, varied

One constant at a time is changed in the code, down and up, and the tool is asked again about the same simulated scenes: a
size is halved and doubled, of a share or a chance the odds are, a logarithm of odds loses and gains ln 2, a count is halved
(rounded up) and doubled. For each change: scenes asked; scenes in which anything in the findings is another, be it the last
digit; scenes whose first part was wrong and is right, was right and is wrong, and is another of neither kind; hotspots where
nothing heats, more or fewer than before; the change of the watts' median error; the largest change of a probability of a
part, or of none of the named; the change of the probabilities' squared error, per scene (above 0 is worse). A dot is nothing.
So few scenes show which constants matter much, and not whether another value is better.`;

/** Write the page.
 *  @param varied what varying constants gave, as a part of the page; by default that which the page has.
 */
export function constantsPage(varied = variedBlock()): string {
  const all = readVaried(varied ?? "");
  const rowsOf = (path: string) => all.filter((row) => row.path === path);
  const parts = STAGES_OF_METHOD.flatMap((stage) => {
    const files = listFiles(`src/${stage}`, ".ts").flatMap((path) => {
      const constants = constantsOf(path);
      if (constants.length === 0) return [];
      const said = rowsOf(path);
      const rows = constants.map(({ name, value, reason }) => {
        const sentence = variedSentence(said.filter((row) => row.name === name));
        const words = sentence === "" || reason !== "as above" ? reason : "As above.";
        return `| \`${name}\` | ${value} | ${[words, sentence].filter((some) => some !== "").join(" ")} |`;
      });
      return [
        [
          `### ${path}`,
          "",
          "| constant | value | what it is, and why |",
          "| --- | --- | --- |",
          ...rows,
        ].join("\n"),
      ];
    });
    return files.length === 0 ? [] : [`## ${stage}`, ...files];
  });
  const end = varied === null ? [] : [VARIED, varied];
  return `${[HEAD.trimEnd(), ...parts, ...end].join("\n\n")}\n`;
}
