// serve: the folder of the built page → its files by their addresses, read once.
import { readdirSync, readFileSync } from "node:fs";
import { extname, join } from "node:path";
import { fileURLToPath } from "node:url";
import type { Context, Hono } from "hono";

/** Folder of the page, from the sources and from the build alike. */
const PAGE_FOLDER = fileURLToPath(new URL("../../dist/page", import.meta.url));

const TYPES: Readonly<Record<string, string>> = Object.freeze({
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".css": "text/css; charset=utf-8",
  ".svg": "image/svg+xml",
  ".png": "image/png",
  ".woff2": "font/woff2",
  ".json": "application/json; charset=utf-8",
});

/** Give the files of the page. Only what was there at the start has an address, so that no address leads elsewhere. */
export function servePage(app: Hono, folder: string = PAGE_FOLDER): void {
  const files = readFolder(folder);
  const index = files.get("index.html");
  app.get("/assets/:file", (c) => {
    const name = `assets/${c.req.param("file")}`;
    const bytes = files.get(name);
    if (bytes === undefined) return c.notFound();
    return c.body(bytes, 200, {
      "Content-Type": TYPES[extname(name)] ?? "application/octet-stream",
      // The name changes with what is in it.
      "Cache-Control": /-[A-Z0-9]{8}\./.test(name) ? "private, max-age=31536000, immutable" : "no-cache",
    });
  });
  const page = (c: Context): Response =>
    index === undefined
      ? c.text(
          "The page is missing from this build of faultglow: run `npm run build`, or install it again.",
          500,
        )
      : c.body(index, 200, { "Content-Type": TYPES[".html"]! });
  app.get("/", page);
  app.get("/jobs/*", page);
}

function readFolder(folder: string): Map<string, Uint8Array<ArrayBuffer>> {
  const files = new Map<string, Uint8Array<ArrayBuffer>>();
  try {
    for (const entry of readdirSync(folder, { recursive: true, encoding: "utf8" })) {
      const name = entry.replaceAll("\\", "/");
      if (extname(name) in TYPES) files.set(name, new Uint8Array(readFileSync(join(folder, entry))));
    }
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== "ENOENT") throw error;
  }
  return files;
}
