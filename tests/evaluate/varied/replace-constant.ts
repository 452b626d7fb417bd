// evaluate: a source file and a constant in it → its numbers; the file with other numbers in their place.
import ts from "typescript";
import { type Constant, constantsIn } from "../../structure/read-constants.js";

/** Numbers of a constant, which its file states as a number or as a list of numbers.
 *  @throws Error if the file has no such constant, or states it otherwise.
 */
export function constantNumbers(text: string, name: string): number[] {
  return numbersOf(text, name).map(({ node }) => Number(node.getText().replaceAll("_", "")));
}

/** Put other numbers in the place of a constant's own; nothing else of the text changes. */
export function replaceConstant(text: string, name: string, values: readonly number[]): string {
  const places = numbersOf(text, name);
  if (places.length !== values.length)
    throw new Error(`${name} is ${places.length} numbers, and ${values.length} were given`);
  // From the last to the first, so that the places of those before stay what they are.
  return places.reduceRight(
    (changed, { node }, k) =>
      `${changed.slice(0, node.getStart())}${values[k]}${changed.slice(node.getEnd())}`,
    text,
  );
}

/** The file read last, with its constants: many are asked for of one file. */
let last: { readonly text: string; readonly constants: readonly Constant[] } | null = null;

function numbersOf(text: string, name: string): { node: ts.Expression }[] {
  if (last?.text !== text) {
    const file = ts.createSourceFile("constants.ts", text, ts.ScriptTarget.ES2022, true);
    last = { text, constants: constantsIn(file) };
  }
  const found = last.constants.filter((one) => one.name === name);
  if (found.length !== 1) throw new Error(`${name} stands ${found.length} times in the file`);
  const { node } = found[0]!;
  const entries = ts.isArrayLiteralExpression(node) ? [...node.elements] : [node];
  if (!entries.every(isNumber))
    throw new Error(`${name} is no number and no list of numbers: ${node.getText()}`);
  return entries.map((entry) => ({ node: entry }));
}

function isNumber(node: ts.Expression): boolean {
  return (
    ts.isNumericLiteral(node) ||
    (ts.isPrefixUnaryExpression(node) &&
      node.operator === ts.SyntaxKind.MinusToken &&
      ts.isNumericLiteral(node.operand))
  );
}
