// The WebAssembly module that lies in the project is that of its source.
import { expect, it } from "vitest";
import { compileKernels } from "../../src/kernels.mjs";
import { readText } from "./project.js";

it("the kernels are what the compiler makes of their source (else: npm run build)", async () => {
  expect(readText("src/numeric/kernel-bytes.ts")).toBe(await compileKernels());
});
