// Links of a Markdown text, and paths that it names as code → those that lead nowhere. Nothing is fetched: addresses on
// the web are left alone.
import { posix } from "node:path";

/** A text without its blocks and spans of code, in which nothing is a link or a heading. */
function withoutCode(text: string): string {
  return text.replace(/^```[\s\S]*?^```/gm, "").replace(/`[^`\n]*`/g, (code) => "x".repeat(code.length));
}

/** Targets of links and pictures, but for those on the web. */
function linksOf(text: string): string[] {
  const links = [...withoutCode(text).matchAll(/\]\(\s*<?([^)\s>]+)>?(?:\s+"[^"]*")?\s*\)/g)].map(
    (match) => match[1]!,
  );
  return links.filter((link) => !/^[a-z][a-z0-9+.-]*:/i.test(link));
}

/** The anchors of a text's headings, as they are made where Markdown is shown: small letters, blanks as hyphens, no
 *  other signs; a heading that comes again is numbered. */
function anchorsOf(text: string): Set<string> {
  const anchors = new Set<string>();
  // Marks of code in a heading go, their contents stay.
  const headings = text.replace(/^```[\s\S]*?^```/gm, "").matchAll(/^#+ (.+)$/gm);
  for (const [, heading] of headings) {
    const plain = heading!
      .toLowerCase()
      .replace(/[^\p{L}\p{N} _-]/gu, "")
      .replaceAll(" ", "-");
    let anchor = plain;
    for (let k = 1; anchors.has(anchor); k++) anchor = `${plain}-${k}`;
    anchors.add(anchor);
  }
  return anchors;
}

/** Links of a document that lead nowhere.
 *  @param path of the document, from the folder that all paths count from.
 *  @param read text of a document, anything for another file or folder; null where there is none. */
export function brokenLinks(path: string, text: string, read: (path: string) => string | null): string[] {
  return linksOf(text).filter((link) => {
    const [file, anchor] = link.split("#") as [string, string | undefined];
    const to = file === "" ? path : posix.join(posix.dirname(path), decodeURIComponent(file));
    const target = file === "" ? text : read(to);
    if (target === null) return true;
    return anchor !== undefined && !(to.endsWith(".md") && anchorsOf(target).has(anchor));
  });
}

/** Paths of the project's own sources and tests that stand as code, whole and by themselves, and are not there;
 *  patterns are left alone.
 *  @param isThere asked with each path.
 */
export function missingPaths(text: string, isThere: (path: string) => boolean): string[] {
  const spans = text
    .replace(/^```[\s\S]*?^```/gm, "")
    .matchAll(/`((?:src|tests|bin|sample-frames)\/[^`\s…*]*)`/g);
  return [...new Set([...spans].map((match) => match[1]!))].filter((path) => !isThere(path));
}

/** Names that a document says a file has (`NAME` of, or in, `src/file.ts`), and that the file does not define.
 *  @param read text of a file; null where there is none.
 */
export function misplacedNames(text: string, read: (path: string) => string | null): string[] {
  const claims = text
    .replace(/^```[\s\S]*?^```/gm, "")
    .replace(/\s+/g, " ")
    .matchAll(/`(\w+)` (?:of|in) `((?:src|tests)\/[^`\s…*]*\.\w+)`/g);
  return [...claims].flatMap(([, name, path]) => {
    const defines = new RegExp(`\\b(?:const|let|function|class|interface|type) ${name}\\b`);
    return defines.test(read(path!) ?? "") ? [] : [`${name} of ${path}`];
  });
}

/** Names in capitals, or with a capital inside, that stand as code by themselves and that nobody has: a word of all
 *  small letters may be anything.
 *  @param isKnown asked with each name.
 */
export function unknownNames(text: string, isKnown: (name: string) => boolean): string[] {
  const spans = text.replace(/^```[\s\S]*?^```/gm, "").matchAll(/`([A-Za-z_]\w*)(?:\(\))?`/g);
  const names = [...spans].map((match) => match[1]!).filter((name) => /[A-Z]/.test(name));
  return [...new Set(names)].filter((name) => !isKnown(name));
}

/** Names of source files without their folders, as code or as plain words, that no file has; patterns (`…-worker.ts`)
 *  are left alone.
 *  @param names of the files that there are, without their folders.
 */
export function missingFiles(text: string, names: ReadonlySet<string>): string[] {
  const found = text
    .replace(/^```[\s\S]*?^```/gm, "")
    .matchAll(/(?<![\w/.…*-])([\w-]+(?:\.(?:test|config))?\.(?:tsx?|mjs|as|py))(?![\w-])/g);
  return [...new Set([...found].map((match) => match[1]!))].filter((name) => !names.has(name));
}
