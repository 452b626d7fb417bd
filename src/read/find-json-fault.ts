// read: a text that is no JSON → where it stops being JSON, what was expected there and what stands there.

/** The first place at which a text is no JSON. */
export interface JsonFault {
  /** UTF-16 units from the start. */
  readonly offset: number;
  readonly expected: string;
  readonly found: string;
}

/** Nesting is followed this deep; `JSON.parse` itself ends far beyond it. */
const MAX_DEPTH = 1000;
const QUOTE = 0x22;
const BACKSLASH = 0x5c;

/** Find the first fault of a text that is no JSON (RFC 8259). Used after `JSON.parse` has refused it, as that says
 *  the place in some versions of the engine only.
 *  @returns null if the text is JSON. */
export function findJsonFault(text: string): JsonFault | null {
  const scanner = new Scanner(text);
  try {
    scanner.value(0);
    scanner.space();
    if (scanner.at < text.length) scanner.fail("the end of the file");
    return null;
  } catch (fault) {
    if (fault instanceof Fault) return { offset: fault.offset, expected: fault.expected, found: fault.found };
    throw fault;
  }
}

class Fault extends Error {
  constructor(
    readonly offset: number,
    readonly expected: string,
    readonly found: string,
  ) {
    super(expected);
  }
}

/** Walks through the text; `at` is the place of the next character. */
class Scanner {
  at = 0;
  constructor(readonly text: string) {}

  fail(expected: string): never {
    throw new Fault(this.at, expected, foundAt(this.text, this.at));
  }

  space(): void {
    while (/[ \t\n\r]/.test(this.text[this.at] ?? "")) this.at++;
  }

  value(depth: number): void {
    this.space();
    if (depth > MAX_DEPTH) this.fail(`no more than ${MAX_DEPTH} levels of brackets`);
    const character = this.text[this.at];
    if (character === "{") this.list("}", () => this.member(depth), "a key in double quotes");
    else if (character === "[") this.list("]", () => this.value(depth + 1), "a value");
    else if (character === '"') this.string("a value");
    else if (!this.take(/(?:true|false|null)(?!\w)/y) && !this.number()) this.fail("a value");
  }

  /** What stands between a pair of brackets, separated by commas. */
  list(close: string, item: () => void, what: string): void {
    this.at++;
    this.space();
    if (this.text[this.at] === close) {
      this.at++;
      return;
    }
    for (;;) {
      this.space();
      if (this.text[this.at] === close) this.fail(`${what} after the comma`);
      item();
      this.space();
      const character = this.text[this.at];
      if (character !== "," && character !== close) this.fail(`"," or "${close}"`);
      this.at++;
      if (character === close) return;
    }
  }

  member(depth: number): void {
    this.string("a key in double quotes");
    this.space();
    if (this.text[this.at] !== ":") this.fail('":"');
    this.at++;
    this.value(depth + 1);
  }

  string(expected: string): void {
    if (this.text[this.at] !== '"') this.fail(expected);
    this.at++;
    for (;;) {
      let code = this.text.charCodeAt(this.at);
      while (code >= 0x20 && code !== QUOTE && code !== BACKSLASH) code = this.text.charCodeAt(++this.at);
      if (code === QUOTE) {
        this.at++;
        return;
      }
      if (code !== BACKSLASH) this.fail("a closing double quote, and \\n for a line break");
      if (!this.take(/\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4})/y))
        this.fail("a known escape such as \\n, \\\\ or \\u00e9");
    }
  }

  number(): boolean {
    if (!/[-0-9]/.test(this.text[this.at] ?? "")) return false;
    if (!this.take(/-?(?:0(?![0-9])|[1-9][0-9]*)(?:\.[0-9]+)?(?:[eE][-+]?[0-9]+)?(?![\w.])/y)) {
      this.fail("a number such as -0.5 or 12e3");
    }
    return true;
  }

  take(pattern: RegExp): boolean {
    pattern.lastIndex = this.at;
    const taken = pattern.exec(this.text);
    if (taken === null) return false;
    this.at = pattern.lastIndex;
    return true;
  }
}

function foundAt(text: string, at: number): string {
  if (at >= text.length) return "the end of the file";
  const word = /^[\w.+-]{1,20}/.exec(text.slice(at, at + 20));
  if (word !== null) return `"${word[0]}"`;
  const character = String.fromCodePoint(text.codePointAt(at)!);
  if (character === "\n" || character === "\r") return "the end of the line";
  return /\p{Cc}/u.test(character)
    ? `the character U+${character.charCodeAt(0).toString(16).toUpperCase().padStart(4, "0")}`
    : `"${character}"`;
}
