// The page of draw-page.tsx, bundled and served on this machine for one test.
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import { tmpdir } from "node:os";
import { basename, join } from "node:path";
import { build } from "esbuild";
import { PROJECT } from "../structure/project.js";

const PAGE = [
  '<!doctype html><html lang="en"><head><title>Board editor</title><link rel="icon" href="data:,">',
  '<meta name="viewport" content="width=device-width, initial-scale=1"><link rel="stylesheet" href="/draw-page.css"></head>',
  '<body><main id="app"></main><script type="module" src="/draw-page.js"></script></body></html>',
].join("");

/** Bundle the page and serve it.
 *  @returns its address, and what ends it. */
export async function serveDrawPage(): Promise<{ address: string; stop: () => Promise<void> }> {
  const folder = mkdtempSync(join(tmpdir(), "faultglow-draw-"));
  await build({
    absWorkingDir: PROJECT,
    entryPoints: ["tests/browser/draw-page.tsx"],
    outdir: folder,
    bundle: true,
    splitting: true,
    format: "esm",
    platform: "browser",
    jsx: "automatic",
    jsxImportSource: "preact",
    banner: { js: "globalThis.__zod_globalConfig = { jitless: true };" },
    logLevel: "warning",
  });
  const server = createServer((request, response) => {
    const name = basename(request.url?.split("?")[0] ?? "");
    // The same policy as the bench's, as far as it bears on the editor.
    response.setHeader(
      "Content-Security-Policy",
      "default-src 'self'; img-src 'self' blob: data:; style-src 'self'",
    );
    if (name === "") {
      response.setHeader("Content-Type", "text/html; charset=utf-8").end(PAGE);
      return;
    }
    try {
      const bytes = readFileSync(join(folder, name));
      response.setHeader("Content-Type", name.endsWith(".css") ? "text/css" : "text/javascript").end(bytes);
    } catch {
      response.writeHead(404).end();
    }
  });
  await new Promise<void>((listening) => server.listen(0, "127.0.0.1", listening));
  const { port } = server.address() as AddressInfo;
  return {
    address: `http://127.0.0.1:${port}/`,
    stop: async () => {
      server.closeAllConnections();
      await new Promise((closed) => server.close(closed));
      rmSync(folder, { recursive: true, force: true });
    },
  };
}
