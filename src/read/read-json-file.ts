// read: a JSON file on disk → its parsed value and the hash of its bytes.
import { createHash } from "node:crypto";
import { stat } from "node:fs/promises";
import { ToolError } from "../core/errors.js";
import { findJsonFault } from "./find-json-fault.js";
import { readGiven } from "./read-given.js";

/** A JSON file as it was read. */
export interface JsonFile {
  /** Parsed, not yet checked against a schema. */
  readonly value: unknown;
  /** SHA-256 of the file's bytes, hex. */
  readonly sha256: string;
  /** As they lie on the disk. */
  readonly bytes: Uint8Array;
}

/** Defaults of `readJsonFile`. */
const READ_JSON_DEFAULTS = Object.freeze({
  /** A map of ten thousand parts has about 2 MB; 32 MB is a picture or a disk image given by mistake. */
  maxBytes: 32 * 1024 * 1024,
  /** Lists and objects inside each other; the tool's own files have ten. */
  maxDepth: 100,
  /** Values in all lists and objects; a map of ten thousand parts has 200,000. */
  maxValues: 1_000_000,
});

/** Read a JSON file. UTF-8, with or without a byte order mark.
 *  @param file as given by the user.
 *  @param options.maxBytes largest size, bytes.
 *  @throws ToolError E_JSON_READ if the file is missing or can't be read, E_JSON_SIZE if it is too large, E_JSON_SYNTAX
 *  with line and column if it is no JSON. */
export async function readJsonFile(file: string, options: { maxBytes?: number } = {}): Promise<JsonFile> {
  const { maxBytes } = { ...READ_JSON_DEFAULTS, ...options };
  const bytes = await readBytes(file, maxBytes);
  return {
    value: parseJsonBytes(bytes, file),
    sha256: createHash("sha256").update(bytes).digest("hex"),
    bytes,
  };
}

/** Parse the bytes of a JSON file.
 *  @throws ToolError E_JSON_SYNTAX with line and column. */
export function parseJsonBytes(bytes: Uint8Array, file: string): unknown {
  return parseJson(decode(bytes, file), file);
}

async function readBytes(file: string, maxBytes: number): Promise<Buffer> {
  try {
    // The size is asked first, so that a huge file is not read at all; a pipe has none and is judged afterwards.
    refuseLarge((await stat(file)).size, file, maxBytes);
    const bytes = await readGiven(file, maxBytes);
    refuseLarge(bytes.length, file, maxBytes);
    return bytes;
  } catch (error) {
    if (error instanceof ToolError) throw error;
    const { code } = error as NodeJS.ErrnoException;
    const problem = code === undefined ? undefined : READ_PROBLEMS[code];
    throw new ToolError("E_JSON_READ", {
      problem: problem?.[0] ?? `the file can't be read: ${(error as Error).message}`,
      fix: problem?.[1] ?? "Check that the file can be opened",
      place: { file },
    });
  }
}

const READ_PROBLEMS: Readonly<Record<string, readonly [problem: string, fix: string]>> = {
  ENOENT: ["there is no such file", "Check the name and the folder"],
  ENOTDIR: ["there is no such file", "Check the name and the folder"],
  EISDIR: ["expected a JSON file, found a folder", "Give the file itself"],
  NOT_A_FILE: ["expected a JSON file, found a device", "Give the file itself"],
  EACCES: ["the file may not be read by this user", "Change its permissions, or copy it"],
};

function refuseLarge(size: number, file: string, maxBytes: number): void {
  if (size <= maxBytes) return;
  throw new ToolError("E_JSON_SIZE", {
    problem: `expected a JSON file of at most ${maxBytes} bytes, found ${size}`,
    fix: "Check that this is the right file",
    place: { file },
  });
}

function decode(bytes: Uint8Array, file: string): string {
  try {
    // Takes a byte order mark away, and refuses what is not UTF-8.
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    throw new ToolError("E_JSON_SYNTAX", {
      problem: "expected text in UTF-8, found bytes that are not",
      fix: "Save the file as UTF-8, and check that it is JSON and no picture",
      place: { file },
    });
  }
}

/** Refuse a text that nests deeper or holds more than any file of the tool, before anything walks through it. */
function refuseHuge(text: string, file: string): void {
  let depth = 0;
  let values = 0;
  for (let at = 0; at < text.length; at++) {
    const letter = text.charCodeAt(at);
    if (letter === QUOTE) {
      for (at++; at < text.length && text.charCodeAt(at) !== QUOTE; at++) {
        if (text.charCodeAt(at) === BACKSLASH) at++;
      }
    } else if (letter === LIST || letter === OBJECT) {
      if (++depth <= READ_JSON_DEFAULTS.maxDepth) continue;
      const before = text.slice(0, at).split("\n");
      throw new ToolError("E_JSON_SYNTAX", {
        problem: `lists and objects lie more than ${READ_JSON_DEFAULTS.maxDepth} deep inside each other`,
        fix: "Check that this is the right file",
        place: { file, line: before.length, column: before[before.length - 1]!.length + 1 },
      });
    } else if (letter === LIST + 2 || letter === OBJECT + 2) depth--;
    else if (letter === COMMA) values++;
  }
  if (values < READ_JSON_DEFAULTS.maxValues) return;
  throw new ToolError("E_JSON_SIZE", {
    problem: `expected at most ${READ_JSON_DEFAULTS.maxValues} values, found ${values + 1}`,
    fix: "Check that this is the right file",
    place: { file },
  });
}

const QUOTE = 0x22;
const BACKSLASH = 0x5c;
const COMMA = 0x2c;
/** Two below the brackets that close them. */
const LIST = 0x5b;
const OBJECT = 0x7b;

function parseJson(text: string, file: string): unknown {
  refuseHuge(text, file);
  try {
    return JSON.parse(text);
  } catch (error) {
    // The engine words its errors, and the place in them, differently from version to version.
    const fault = findJsonFault(text);
    if (fault === null) throw error;
    const before = text.slice(0, fault.offset).split(/\r\n|\n|\r/);
    throw new ToolError("E_JSON_SYNTAX", {
      problem: `the file is no valid JSON: expected ${fault.expected}, found ${fault.found}`,
      fix: "Correct it there; JSON has double quotes, no comments and no comma after the last item",
      place: { file, line: before.length, column: before[before.length - 1]!.length + 1 },
    });
  }
}
