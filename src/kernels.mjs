// build: src/numeric/kernels/*.as, in AssemblyScript → src/numeric/kernel-bytes.ts, the WebAssembly module as text,
// since what runs in a browser reads no files. Written only where it changed.
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { basename, join } from "node:path";
import { fileURLToPath } from "node:url";
import asc from "assemblyscript/asc";

const FOLDER = fileURLToPath(new URL("numeric/kernels", import.meta.url));
const TARGET = fileURLToPath(new URL("numeric/kernel-bytes.ts", import.meta.url));

/** Compile, and say the file's text. */
export async function compileKernels() {
  let bytes = null;
  const { error, stderr } = await asc.main(
    [
      "kernels.ts",
      "--outFile",
      "kernels.wasm",
      "--runtime",
      "stub",
      "--noAssert",
      "-O3",
      "--enable",
      "simd",
      "--initialMemory",
      "1",
    ],
    {
      // The compiler looks for the ending of its elder sister.
      readFile: (name) => {
        const file = join(FOLDER, `${basename(name, ".ts")}.as`);
        return /^[\w-]+\.ts$/.test(name) && existsSync(file) ? readFileSync(file, "utf8") : null;
      },
      writeFile: (name, contents) => {
        if (name.endsWith(".wasm")) bytes = contents;
      },
      listFiles: () => [],
    },
  );
  if (error !== null || bytes === null) throw new Error(`${stderr}`, { cause: error });
  return [
    "// numeric: src/numeric/kernels → the same as a WebAssembly module, in base64. Written by `npm run build`.",
    "",
    `/** The module: ${bytes.length} bytes. */`,
    `export const KERNEL_BYTES =\n  "${Buffer.from(bytes).toString("base64")}";`,
    "",
  ].join("\n");
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const text = await compileKernels();
  if (!existsSync(TARGET) || readFileSync(TARGET, "utf8") !== text) writeFileSync(TARGET, text);
}
