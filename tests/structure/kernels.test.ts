// The WebAssembly module that lies in the project is that of its source, and has what its types say.
import { join } from "node:path";
import ts from "typescript";
import { expect, it } from "vitest";
import { compileKernels } from "../../src/kernels.mjs";
import { makeKernels } from "../../src/numeric/kernels.js";
import { PROJECT, readText } from "./project.js";

it("the kernels are what the compiler makes of their source (else: npm run build)", async () => {
  expect(readText("src/numeric/kernel-bytes.ts")).toBe(await compileKernels());
});

it("the kernels are those that their types name, with as many words each", () => {
  // What a kernel is not given is 0 to it, and what it does not take is dropped: neither is told by an error.
  const { memory: _, ...kernels } = makeKernels()!.run;
  const found = Object.entries(kernels).map(([name, kernel]) => `${name}: ${kernel.length}`);
  const wanted = typedKernels("src/numeric/kernel-exports.ts");
  expect(wanted.length).toBeGreaterThan(80);
  expect(found.sort()).toEqual(wanted.sort());
});

it("the source of the kernels exports what its types name, and nothing twice", () => {
  const source = readText("src/numeric/kernels/kernels.as");
  const names = [...source.matchAll(/^export \{([^}]*)\}/gm)].flatMap(([, list]) => list!.match(/\w+/g)!);
  const wanted = typedKernels("src/numeric/kernel-exports.ts").map((one) => one.split(":")[0]!);
  expect(names.sort()).toEqual(wanted.sort());
});

/** Functions of the interface of kernels, each with how many words it takes. */
function typedKernels(path: string): string[] {
  const program = ts.createProgram([join(PROJECT, path)], { noLib: true, types: [] });
  const checker = program.getTypeChecker();
  const file = program.getSourceFile(join(PROJECT, path))!;
  const all = file.statements.find(
    (node): node is ts.InterfaceDeclaration =>
      ts.isInterfaceDeclaration(node) && node.name.text === "KernelExports",
  )!;
  return checker
    .getTypeAtLocation(all)
    .getProperties()
    .filter(({ name }) => name !== "memory")
    .map((kernel) => {
      const [signature] = checker.getTypeOfSymbol(kernel).getCallSignatures();
      return `${kernel.name}: ${signature?.parameters.length}`;
    });
}
