// build: the command's sources → dist/cli in a few files, since a process that opens two hundred takes twice as long to
// start; the page's → dist/page, under names that change with what is in them. Of what tsc made, the library stays
// beside them.
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { basename, join } from "node:path";
import { fileURLToPath } from "node:url";
import { gzipSync } from "node:zlib";
import { build } from "esbuild";
import { bundleCommand } from "./bundle-command.mjs";
import { pruneLibrary } from "./prune-library.mjs";

const project = fileURLToPath(new URL("..", import.meta.url));

pruneLibrary(join(project, "dist"));
writeLicences(await bundleCommand(project), join(project, "dist/cli"));
await bundlePage();

/** The page as src/page/main.tsx begins it, and a file of its own for each worker. */
async function bundlePage() {
  const folder = join(project, "dist/page");
  rmSync(folder, { recursive: true, force: true });
  if (!existsSync(join(project, "src/page/main.tsx"))) return;
  const sources = readdirSync(join(project, "src/page"), { recursive: true, encoding: "utf8" });
  const workers = sources.filter((file) => /-worker\.ts$/.test(file));
  const options = {
    absWorkingDir: project,
    outdir: join(folder, "assets"),
    bundle: true,
    splitting: true,
    minify: true,
    format: "esm",
    platform: "browser",
    // Browsers of the last three years.
    target: ["chrome111", "firefox111", "safari16.4"],
    jsx: "automatic",
    jsxImportSource: "preact",
    charset: "utf8",
    // The page's policy forbids making code of text: the schema library is told before it tries.
    banner: { js: "globalThis.__zod_globalConfig = { jitless: true };" },
    entryNames: "[name]-[hash]",
    chunkNames: "[name]-[hash]",
    assetNames: "[name]-[hash]",
    loader: { ".svg": "file", ".woff2": "file", ".png": "file" },
    metafile: true,
    logLevel: "warning",
  };
  const inputs = {};
  const addresses = {};
  if (workers.length > 0) {
    const built = await build({ ...options, entryPoints: workers.map((file) => join("src/page", file)) });
    Object.assign(inputs, built.metafile.inputs);
    for (const [path, { entryPoint }] of Object.entries(built.metafile.outputs)) {
      if (entryPoint !== undefined) addresses[basename(entryPoint, ".ts")] = `/assets/${basename(path)}`;
    }
  }
  const main = await build({
    ...options,
    entryPoints: { main: "src/page/main.tsx" },
    define: { WORKERS: JSON.stringify(addresses) },
  });
  Object.assign(inputs, main.metafile.inputs);
  tellInitialLoad(main.metafile.outputs);
  const [script, { cssBundle }] = Object.entries(main.metafile.outputs).find(
    ([, { entryPoint }]) => entryPoint === "src/page/main.tsx",
  );
  const icon = join(project, "src/page/icon.svg");
  mkdirSync(folder, { recursive: true });
  if (existsSync(icon)) writeFileSync(join(folder, "assets/icon.svg"), readFileSync(icon));
  writeFileSync(
    join(folder, "index.html"),
    [
      "<!doctype html>",
      '<html lang="en">',
      "<head>",
      '<meta charset="utf-8">',
      '<meta name="viewport" content="width=device-width, initial-scale=1">',
      '<meta name="color-scheme" content="light dark">',
      "<title>faultglow bench</title>",
      existsSync(icon)
        ? '<link rel="icon" href="/assets/icon.svg" type="image/svg+xml">'
        : '<link rel="icon" href="data:,">',
      ...(cssBundle === undefined ? [] : [`<link rel="stylesheet" href="/assets/${basename(cssBundle)}">`]),
      `<script type="module" src="/assets/${basename(script)}"></script>`,
      "</head>",
      "<body>",
      '<div id="app"></div>',
      "<noscript>The bench needs JavaScript, which is switched off in this browser.</noscript>",
      "</body>",
      "</html>",
      "",
    ].join("\n"),
  );
  writeLicences({ inputs }, folder);
}

/** Say how much a browser loads before it shows the page: the script, what it imports at once, and the styles. */
function tellInitialLoad(outputs) {
  const loaded = new Set();
  const load = (path) => {
    if (loaded.has(path)) return;
    loaded.add(path);
    const { imports, cssBundle } = outputs[path];
    for (const { path: other, kind } of imports) if (kind === "import-statement") load(other);
    if (cssBundle !== undefined) loaded.add(cssBundle);
  };
  load(Object.keys(outputs).find((path) => outputs[path].entryPoint === "src/page/main.tsx"));
  const bytes = [...loaded].reduce(
    (sum, path) => sum + gzipSync(readFileSync(join(project, path))).length,
    0,
  );
  process.stdout.write(`page: initial load ${(bytes / 1000).toFixed(1)} kB compressed\n`);
}

/** The packages that became part of these files keep their licences. */
function writeLicences({ inputs }, folder) {
  const packages = new Set(
    Object.keys(inputs).flatMap((path) => /node_modules\/((?:@[^/]+\/)?[^/]+)\//.exec(path)?.[1] ?? []),
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
}
