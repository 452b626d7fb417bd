// Reads the project as a set of files, for the tests of its structure.
import { execFileSync } from "node:child_process";
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join, relative } from "node:path";
import { fileURLToPath } from "node:url";

/** The project's folder, with a last separator. */
export const PROJECT = fileURLToPath(new URL("../../", import.meta.url));

/** Stages in the order of the data; a file may import from its own and from earlier ones. */
export const STAGES = [
  "core",
  "numeric",
  "frames",
  "read",
  "board",
  "import",
  "clean",
  "align",
  "place",
  "rise",
  "hotspots",
  "sources",
  "suspects",
  "findings",
  "readings",
  "compare",
  "job",
  "evidence",
  "api",
  "report",
  "store",
  "watch",
  "page",
  "serve",
  "cli",
] as const;

/** Stages that may use what only Node has; the others run in a browser as well. */
export const NODE_STAGES: readonly string[] = ["read", "report", "store", "watch", "serve", "cli"];

/** Read a file of the project as text. */
export function readText(path: string): string {
  return readFileSync(join(PROJECT, path), "utf8");
}

/** List files below a folder of the project, as paths from the project's folder with `/`. */
export function listFiles(folder: string, ends: string): string[] {
  if (!existsSync(join(PROJECT, folder))) return [];
  return readdirSync(join(PROJECT, folder), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && entry.name.endsWith(ends))
    .map((entry) => relative(PROJECT, join(entry.parentPath, entry.name)).replaceAll("\\", "/"))
    .sort();
}

/** List the sources: TypeScript, with or without views in it. */
export function sourceFiles(): string[] {
  return [...listFiles("src", ".ts"), ...listFiles("src", ".tsx")].sort();
}

/** The stage of a source file; null for src/index.ts. */
export function stageOf(path: string): string | null {
  const parts = path.split("/");
  return parts.length > 2 ? parts[1]! : null;
}

/** What git sees in the project, new files included; null where there is no git or no clone. */
export function gitFiles(): string[] | null {
  try {
    const words = ["ls-files", "-z", "--cached", "--others", "--exclude-standard"];
    const text = execFileSync("git", words, {
      cwd: PROJECT,
      encoding: "utf8",
      stdio: ["ignore", "pipe", "ignore"],
    });
    return text.split("\0").filter((path) => path !== "" && existsSync(join(PROJECT, path)));
  } catch {
    return null;
  }
}

/** The part of a Markdown text under a heading, up to the next one of the same or a higher level. */
export function markdownSection(text: string, heading: string): string {
  const lines = text.split("\n");
  const start = lines.indexOf(heading);
  if (start < 0) throw new Error(`there is no line "${heading}"`);
  const level = /^#+/.exec(heading)![0].length;
  // A line that begins with # inside a block of code is no heading.
  let code = false;
  const rest: string[] = [];
  for (const line of lines.slice(start + 1)) {
    if (line.startsWith("```")) code = !code;
    const depth = code ? 0 : (/^(#+) /.exec(line)?.[1]?.length ?? 0);
    if (depth > 0 && depth <= level) break;
    rest.push(line);
  }
  return rest.join("\n");
}

/** The rows of the first table of a Markdown text: cells without the head and the line under it. */
export function markdownTable(text: string): string[][] {
  const lines = text.split("\n");
  const start = lines.findIndex((line) => /^\|[\s:|-]+\|$/.test(line));
  if (start < 1) throw new Error("there is no table");
  const rows: string[][] = [];
  for (const line of lines.slice(start + 1)) {
    if (!line.startsWith("|")) break;
    rows.push(
      line
        .slice(1, line.lastIndexOf("|"))
        .split(/(?<!\\)\|/)
        .map((cell) => cell.trim()),
    );
  }
  return rows;
}
