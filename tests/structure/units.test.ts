// Numbers and points of different units can't be mixed: the compiler refuses it.
import { fileURLToPath } from "node:url";
import ts from "typescript";
import { describe, expect, it } from "vitest";
import { PROJECT } from "./project.js";

const MIXES = fileURLToPath(new URL("./mix-units.ts", import.meta.url));

/** Compile the file of mixes as the project is compiled; with other text if some is given. */
function compile(text?: string): string[] {
  const { config } = ts.readConfigFile(`${PROJECT}tsconfig.json`, ts.sys.readFile);
  const { options } = ts.parseJsonConfigFileContent(config, ts.sys, PROJECT);
  const host = ts.createCompilerHost(options);
  const read = host.getSourceFile;
  host.getSourceFile = (name, ...rest) =>
    text !== undefined && name === MIXES.replaceAll("\\", "/")
      ? ts.createSourceFile(name, text, ts.ScriptTarget.ES2022, true)
      : read(name, ...rest);
  const program = ts.createProgram([MIXES], options, host);
  return ts
    .getPreEmitDiagnostics(program, program.getSourceFile(MIXES))
    .map(({ code, messageText }) => `TS${code}: ${ts.flattenDiagnosticMessageText(messageText, "\n")}`);
}

describe("units", () => {
  it("refuse to be mixed, in each of the ways of the file", () => {
    // A mix that compiled would leave its @ts-expect-error without an error, and that is one (TS2578).
    expect(compile()).toEqual([]);
  });

  it("make an error of every mix, no more and no less", () => {
    const text = ts.sys.readFile(MIXES)!;
    const mixes = text.match(/@ts-expect-error/g)!.length;
    expect(mixes).toBeGreaterThan(5);
    expect(compile(text.replaceAll("@ts-expect-error", "mix:"))).toHaveLength(mixes);
  });
});
