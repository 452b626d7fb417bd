// A source file → the numbers at its top, each with its value and its reason as they stand there.
import ts from "typescript";
import { readText } from "./project.js";

/** A constant as its file states it. */
export interface Constant {
  readonly name: string;
  readonly value: string;
  readonly reason: string;
  /** Where its file states the value. */
  readonly node: ts.Expression;
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
  // Nothing and one say that nothing is done, and the version of a kind of file is no number of the method; two that
  // are explained together stand one after the other.
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
      // A field without words of its own is explained with the one before it, or by its table where none before has
      // any.
      const words = reasonOf(property) || before || reason;
      const numbers = numbersIn(inner, bare(property.initializer), words);
      if (words !== "" && numbers.length > 0) before = "as above";
      return numbers;
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
