// Reads the sources of the page by the compiler's own parser: what stands on buttons, fields, heads and choices.
import ts from "typescript";
import { listFiles, readText } from "./project.js";

const LABELLED = new Set(["button", "h1", "h2", "h3", "legend", "label", "summary", "option", "th"]);

/** Words that label something on the page, each once; words that are put together of values are left out. */
export function pageLabels(): string[] {
  const found = new Set<string>();
  const take = (text: string): void => {
    const words = text.replace(/\s+/g, " ").trim();
    if (/[a-z]/i.test(words)) found.add(words);
  };
  for (const path of listFiles("src/page", ".tsx")) {
    const file = ts.createSourceFile(path, readText(path), ts.ScriptTarget.ES2022, true, ts.ScriptKind.TSX);
    const visit = (node: ts.Node): void => {
      if (ts.isJsxElement(node) && LABELLED.has(node.openingElement.tagName.getText())) {
        for (const child of node.children) {
          if (ts.isJsxText(child)) take(child.text);
          else if (ts.isJsxExpression(child) && child.expression !== undefined)
            takeChosen(child.expression, take);
        }
      }
      if (ts.isJsxAttribute(node) && node.name.getText() === "label" && node.initializer !== undefined) {
        if (ts.isStringLiteral(node.initializer)) take(node.initializer.text);
      }
      ts.forEachChild(node, visit);
    };
    visit(file);
  }
  return [...found];
}

/** Take a text, or both of which one is shown. */
function takeChosen(expression: ts.Expression, take: (text: string) => void): void {
  if (ts.isStringLiteral(expression)) take(expression.text);
  else if (ts.isConditionalExpression(expression)) {
    takeChosen(expression.whenTrue, take);
    takeChosen(expression.whenFalse, take);
  }
}
