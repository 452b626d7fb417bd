// Every constant of the method with its value and its reason, read off the sources: the page `src/guide/constants.md`.
import ts from "typescript";
import { readVaried } from "../evaluate/varied/print-varied.js";
import { listFiles, readText } from "./project.js";
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

/** A constant as its file states it. */
interface Constant {
  readonly name: string;
  readonly value: string;
  readonly reason: string;
  /** Where its file states the value. */
  readonly node: ts.Expression;
}

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
        return `| \`${name}\` | ${value} | ${[reason, sentence].filter((words) => words !== "").join(" ")} |`;
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

/** Numbers at the top of a file: constants in capitals, and fields of frozen tables of defaults. */
export function constantsOf(path: string): Constant[] {
  return constantsIn(ts.createSourceFile(path, readText(path), ts.ScriptTarget.ES2022, true));
}

/** The same of a file that is parsed already. */
export function constantsIn(file: ts.SourceFile): Constant[] {
  const all = file.statements.flatMap((statement) => {
    if (!ts.isVariableStatement(statement)) return [];
    return statement.declarationList.declarations.flatMap((declaration) => {
      const name = declaration.name.getText();
      if (!/^[A-Z][A-Z0-9_]+$/.test(name) || declaration.initializer === undefined) return [];
      return numbersIn(name, bare(declaration.initializer), reasonOf(statement));
    });
  });
  // Nothing and one say that nothing is done, and the version of a kind of file is no number of the method; two that are
  // explained together stand one after the other.
  return all
    .filter(({ name }) => !name.endsWith("_KIND.version"))
    .filter(({ value, reason }) => reason !== "" || !/^(?:[01]|-1|Number\.\w+)$/.test(value))
    .map((one, k, kept) =>
      one.reason === "" && k > 0 && kept[k - 1] ? { ...one, reason: "as above" } : one,
    );
}

function numbersIn(name: string, value: ts.Expression, reason: string): Constant[] {
  if (ts.isObjectLiteralExpression(value)) {
    let before = "";
    return value.properties.flatMap((property) => {
      if (!ts.isPropertyAssignment(property)) return [];
      const inner = `${name}.${property.name.getText().replace(/^"(.*)"$/, "$1")}`;
      // A field without words of its own is explained with the one before it, or by its table where none before has any.
      const words = reasonOf(property) || before || reason;
      if (words !== reason) before = "as above";
      return numbersIn(inner, bare(property.initializer), words);
    });
  }
  return isNumeric(value) ? [{ name, value: oneLine(value.getText()), reason, node: value }] : [];
}

/** Without `as const`, `Object.freeze(…)` and the like around it. */
function bare(value: ts.Expression): ts.Expression {
  if (ts.isAsExpression(value) || ts.isSatisfiesExpression(value) || ts.isParenthesizedExpression(value))
    return bare(value.expression);
  const [only, ...more] = ts.isCallExpression(value) ? value.arguments : [];
  const isFreeze = ts.isCallExpression(value) && value.expression.getText() === "Object.freeze";
  return isFreeze && only !== undefined && more.length === 0 ? bare(only) : value;
}

/** Numbers, sums and products of numbers and constants, and lists of such. */
function isNumeric(value: ts.Expression): boolean {
  const inner = bare(value);
  if (ts.isNumericLiteral(inner)) return true;
  if (ts.isPrefixUnaryExpression(inner)) return isNumeric(inner.operand);
  if (ts.isBinaryExpression(inner)) return isNumeric(inner.left) || isNumeric(inner.right);
  if (ts.isArrayLiteralExpression(inner))
    return inner.elements.length > 0 && inner.elements.every((one) => isNumeric(one));
  return /^(?:Number|Math)\.[A-Z]/.test(inner.getText());
}

function reasonOf(node: ts.Node): string {
  const text = ts
    .getJSDocCommentsAndTags(node)
    .map((comment) => ts.getTextOfJSDocComment(comment.comment) ?? "")
    .join(" ");
  return oneLine(text).replaceAll("|", "\\|").replaceAll("<", "&lt;");
}

const oneLine = (text: string): string => text.replace(/\s+/g, " ").trim();

/** The number of a constant, which its file may state as a product or a power. */
export function constantValue(path: string, name: string): number {
  const found = constantsOf(path).find((one) => one.name === name);
  if (found === undefined) throw new Error(`${path} has no ${name}`);
  const text = found.value.replaceAll("_", "");
  const [first, ...factors] = text.split(/\s*\*\s*(?!\*)/).map((factor) => powerOf(factor));
  return factors.reduce((product, factor) => product * factor, first!);
}

/** `2 ** 31 - 1`, `0xffff`, `1e7` and plain numbers. */
function powerOf(text: string): number {
  const power = /^(\d+) \*\* (\d+)( - 1)?$/.exec(text);
  return power === null
    ? Number(text)
    : Number(power[1]) ** Number(power[2]) - (power[3] === undefined ? 0 : 1);
}
