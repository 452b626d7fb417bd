// build: the command's sources → dist/cli in a few files, since a process that opens two hundred takes twice as long to
// start. The library beside it stays as tsc made it.
import { readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";

const project = fileURLToPath(new URL("..", import.meta.url));
const folder = join(project, "dist/cli");

rmSync(folder, { recursive: true, force: true });
const { metafile } = await build({
  absWorkingDir: project,
  entryPoints: ["src/cli/main.ts"],
  outdir: folder,
  bundle: true,
  // What is loaded only when it is asked for stays in files of its own.
  splitting: true,
  format: "esm",
  platform: "node",
  target: "node20",
  charset: "utf8",
  // A library in machine code, found by its own loader.
  external: ["sharp"],
  // Packages in the older form of modules ask for Node's own by `require`.
  banner: {
    js: 'import { createRequire } from "node:module"; const require = createRequire(import.meta.url);',
  },
  metafile: true,
  logLevel: "warning",
});

// The packages that became part of these files keep their licences.
const packages = new Set(
  Object.keys(metafile.inputs).flatMap(
    (path) => /node_modules\/((?:@[^/]+\/)?[^/]+)\//.exec(path)?.[1] ?? [],
  ),
);
const licences = Object.fromEntries(
  [...packages].sort().map((name) => {
    const place = join(project, "node_modules", name);
    const file = readdirSync(place).find((entry) => /^licen[cs]e/i.test(entry));
    if (file === undefined) throw new Error(`${name} has no licence file`);
    return [name, readFileSync(join(place, file), "utf8")];
  }),
);
writeFileSync(join(folder, "licences.json"), `${JSON.stringify(licences, null, 2)}\n`);
