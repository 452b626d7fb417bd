// serve: the folder of the built page → its files by their addresses, read once.
import { readdirSync, readFileSync } from "node:fs";
import { extname, join } from "node:path";
import { fileURLToPath } from "node:url";
import type { Context, Hono } from "hono";
import { fileType } from "./file-type.js";

/** Folder of the page, from the sources and from the build alike. */
const PAGE_FOLDER = fileURLToPath(new URL("../../dist/page", import.meta.url));

/** Give the files of the page. Only what was there at the start has an address, so that no address leads elsewhere. */
export function servePage(app: Hono, folder: string = PAGE_FOLDER): void {
  const files = readFolder(folder);
  const index = files.get("index.html");
  app.get("/assets/:file", (c) => {
    const name = `assets/${c.req.param("file")}`;
    const bytes = files.get(name);
    if (bytes === undefined) return c.notFound();
    return c.body(bytes, 200, {
      "Content-Type": fileType(name),
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
      : c.body(index, 200, { "Content-Type": fileType("index.html") });
  app.get("/", page);
  app.get("/jobs/*", page);
}

function readFolder(folder: string): Map<string, Uint8Array<ArrayBuffer>> {
  const files = new Map<string, Uint8Array<ArrayBuffer>>();
  try {
    for (const entry of readdirSync(folder, { recursive: true, encoding: "utf8" })) {
      const file = join(folder, entry);
      // Folders are entries, too.
      if (extname(file) !== "") files.set(entry.replaceAll("\\", "/"), new Uint8Array(readFileSync(file)));
    }
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== "ENOENT") throw error;
  }
  return files;
}
