// Reads one TypeScript file by the compiler's own parser: imports, string values and global names in it.
import ts from "typescript";
import { readText } from "./project.js";

/** An import or re-export of a file. */
interface Import {
  readonly from: string;
  /** True if nothing of it is left at run time. */
  readonly typeOnly: boolean;
}

/** What the tests of the structure want to know of a file. */
export interface SourceFacts {
  readonly imports: readonly Import[];
  /** Values of string literals, not those in types and imports. */
  readonly strings: readonly string[];
  /** Names used that the file does not declare as a property: candidates for globals. */
  readonly names: ReadonlySet<string>;
  readonly hasDefaultExport: boolean;
  /** Exported functions, classes and interfaces without a docstring. */
  readonly undocumented: readonly string[];
  /** `export * from` or `export { … } from`. */
  readonly reExports: number;
}

const known = new Map<string, SourceFacts>();

/** Parse a TypeScript file of the project, once. */
export function factsOf(path: string): SourceFacts {
  const facts = known.get(path) ?? parseSource(path, readText(path));
  known.set(path, facts);
  return facts;
}

function parseSource(path: string, text: string): SourceFacts {
  const file = ts.createSourceFile(path, text, ts.ScriptTarget.ES2022, true);
  const imports: Import[] = [];
  const strings: string[] = [];
  const names = new Set<string>();
  let hasDefaultExport = false;
  let reExports = 0;
  const undocumented = file.statements
    .filter(
      (node) =>
        ts.isFunctionDeclaration(node) || ts.isClassDeclaration(node) || ts.isInterfaceDeclaration(node),
    )
    .filter((node) => node.modifiers?.some(({ kind }) => kind === ts.SyntaxKind.ExportKeyword) === true)
    .filter((node) => ts.getJSDocCommentsAndTags(node).length === 0)
    .map((node) => node.name?.text ?? "without a name");
  const visit = (node: ts.Node): void => {
    if (ts.isImportDeclaration(node)) {
      imports.push({ from: textOf(node.moduleSpecifier), typeOnly: isTypeOnlyImport(node) });
      return;
    }
    if (ts.isExportDeclaration(node) && node.moduleSpecifier !== undefined) {
      reExports++;
      imports.push({ from: textOf(node.moduleSpecifier), typeOnly: node.isTypeOnly });
      return;
    }
    if (ts.isExportAssignment(node)) hasDefaultExport = true;
    if (node.kind === ts.SyntaxKind.DefaultKeyword && ts.canHaveModifiers(node.parent))
      hasDefaultExport = true;
    if (ts.isExportSpecifier(node) && node.name.text === "default") hasDefaultExport = true;
    if (ts.isCallExpression(node) && isLoad(node)) {
      const [word] = node.arguments;
      if (word !== undefined && ts.isStringLiteralLike(word))
        imports.push({ from: word.text, typeOnly: false });
      return;
    }
    if (ts.isStringLiteralLike(node) && !ts.isLiteralTypeNode(node.parent)) strings.push(node.text);
    if (ts.isIdentifier(node) && !isPropertyName(node)) names.add(node.text);
    ts.forEachChild(node, visit);
  };
  visit(file);
  return { imports, strings, names, hasDefaultExport, undocumented, reExports };
}

function textOf(specifier: ts.Expression): string {
  return ts.isStringLiteralLike(specifier) ? specifier.text : specifier.getText();
}

function isTypeOnlyImport(node: ts.ImportDeclaration): boolean {
  const clause = node.importClause;
  if (clause === undefined) return false;
  if (clause.phaseModifier === ts.SyntaxKind.TypeKeyword) return true;
  const named = clause.namedBindings;
  return (
    clause.name === undefined &&
    named !== undefined &&
    ts.isNamedImports(named) &&
    named.elements.length > 0 &&
    named.elements.every((element) => element.isTypeOnly)
  );
}

/** `import("…")` or `require("…")`. */
function isLoad(node: ts.CallExpression): boolean {
  const called = node.expression;
  return (
    called.kind === ts.SyntaxKind.ImportKeyword || (ts.isIdentifier(called) && called.text === "require")
  );
}

/** True for `b` in `a.b`, `{ b: 1 }` and members of types and classes. */
function isPropertyName(node: ts.Identifier): boolean {
  const { parent } = node;
  if (ts.isPropertyAccessExpression(parent)) return parent.name === node;
  if (ts.isQualifiedName(parent)) return parent.right === node;
  return (
    (ts.isPropertyAssignment(parent) ||
      ts.isPropertySignature(parent) ||
      ts.isPropertyDeclaration(parent) ||
      ts.isMethodDeclaration(parent) ||
      ts.isMethodSignature(parent)) &&
    parent.name === node
  );
}
