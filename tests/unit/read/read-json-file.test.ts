import { createHash } from "node:crypto";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { findJsonFault } from "../../../src/read/find-json-fault.js";
import { readJsonFile } from "../../../src/read/read-json-file.js";
import { caughtAsync } from "../frames/caught.js";

const folder = mkdtempSync(join(tmpdir(), "faultglow-json-"));
afterAll(() => rmSync(folder, { recursive: true }));

function written(name: string, content: string | Uint8Array): string {
  const file = join(folder, name);
  writeFileSync(file, content);
  return file;
}

describe("readJsonFile", () => {
  it("gives the value and the hash of the bytes", async () => {
    const text = '{ "a": [1, 2.5, "µ"] }\n';
    const { value, sha256 } = await readJsonFile(written("sound.json", text));
    expect(value).toEqual({ a: [1, 2.5, "µ"] });
    expect(sha256).toBe(createHash("sha256").update(text).digest("hex"));
  });

  it("takes a byte order mark away, and hashes it with the rest", async () => {
    const bytes = Uint8Array.from([0xef, 0xbb, 0xbf, 0x31, 0x32]);
    const { value, sha256 } = await readJsonFile(written("mark.json", bytes));
    expect(value).toBe(12);
    expect(sha256).toBe(createHash("sha256").update(bytes).digest("hex"));
  });

  it("hashes by SHA-256, as sha256sum of GNU coreutils does", async () => {
    const { sha256 } = await readJsonFile(written("abc.json", '"abc"'));
    expect(sha256).toBe("6cc43f858fbb763301637b5af970e2a46b46f461f27e5a0f41e009c59b827b25");
  });

  it("says that a file is missing, or a folder", async () => {
    const missing = await caughtAsync(readJsonFile(join(folder, "nowhere.json")));
    expect(missing.code).toBe("E_JSON_READ");
    expect(missing.message).toContain("there is no such file");
    const isFolder = await caughtAsync(readJsonFile(folder));
    expect(isFolder.code).toBe("E_JSON_READ");
    expect(isFolder.message).toContain("found a folder");
  });

  it("refuses a file that is too large", async () => {
    const error = await caughtAsync(readJsonFile(written("large.json", "[1,2,3,4]"), { maxBytes: 8 }));
    expect(error.code).toBe("E_JSON_SIZE");
    expect(error.message).toContain("at most 8 bytes, found 9");
  });

  it("names line and column of the first fault", async () => {
    const error = await caughtAsync(
      readJsonFile(written("comma.json", '{\r\n  "a": [1, 2],\n  "b": 3,\n}\n')),
    );
    expect(error.code).toBe("E_JSON_SYNTAX");
    expect(error.parts.place).toMatchObject({ line: 4, column: 1 });
    expect(error.message).toContain('expected a key in double quotes after the comma, found "}"');
  });

  it("refuses bytes that are no UTF-8", async () => {
    const error = await caughtAsync(
      readJsonFile(written("bytes.json", Uint8Array.from([0x89, 0x50, 0x4e, 0x47]))),
    );
    expect(error.code).toBe("E_JSON_SYNTAX");
    expect(error.message).toContain("UTF-8");
  });
});

describe("findJsonFault", () => {
  it.each([
    ["", 0, "a value", "the end of the file"],
    ["  [1, 2", 7, '"," or "]"', "the end of the file"],
    ["[1 2]", 3, '"," or "]"', '"2"'],
    ["[1,]", 3, "a value after the comma", '"]"'],
    ["{'a': 1}", 1, "a key in double quotes", '"\'"'],
    ['{"a" 1}', 5, '":"', '"1"'],
    ['{"a": nul}', 6, "a value", '"nul"'],
    ['{"a": NaN}', 6, "a value", '"NaN"'],
    ["[01]", 1, "a number such as -0.5 or 12e3", '"01"'],
    ["[1.]", 1, "a number such as -0.5 or 12e3", '"1."'],
    ['["a\nb"]', 3, "a closing double quote, and \\n for a line break", "the end of the line"],
    ['["a\tb"]', 3, "a closing double quote, and \\n for a line break", "the character U+0009"],
    ['["\\x"]', 2, "a known escape such as \\n, \\\\ or \\u00e9", '"\\"'],
    ["// remark\n1", 0, "a value", '"/"'],
    ["{} {}", 3, "the end of the file", '"{"'],
  ])("%j", (text, offset, expected, found) => {
    expect(findJsonFault(text)).toEqual({ offset, expected, found });
    expect(() => JSON.parse(text)).toThrow(SyntaxError);
  });

  it("finds none in what JSON.parse takes", () => {
    for (const text of [
      '{"a":[1,-0.5e+3,true,null,"\\u00e9\\\\ \u007f é"],"":{}}',
      " 7 ",
      "[]",
      '"x"',
      "-0",
    ]) {
      expect(() => JSON.parse(text)).not.toThrow();
      expect(findJsonFault(text)).toBeNull();
    }
  });
});
