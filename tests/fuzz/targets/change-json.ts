// fuzz: a value → JSON that says the same in other words, or JSON with something else in one or a few places.
import type { Random } from "../../simulate/random.js";

/** Values that a reader may stumble over, as JSON. Deep ones are made by `deep`. */
const HOSTILE: readonly string[] = [
  "null", "true", "false", "0", "-0", "1", "-1", "0.5", "1e308", "-1e308", "1e-320", "1e999", "9007199254740993", "[]", "{}", '""', '" "',
  '"NaN"', '"top"', '"\\u0000"', '"\\u202egnp.exe"', '"\\ud800"', '"../../x"', '"__proto__"', '"constructor"', "[null]", "[[]]", "[0,0]", "[1e308,-1e308]",
  '{"__proto__":{"polluted":1}}', '{"constructor":{"prototype":{"polluted":1}}}', '{"length":4294967296}', '"2031-02-30T25:61:00Z"', '"2031-03-01T08:05:00Z"',
]; // biome-ignore format: a list to be read across
/** Letters of a text that is made longer. */
const LONGEST_TEXT = 1e6;
const KEYS = [
  "__proto__",
  "constructor",
  "toString",
  "kind",
  "version",
  "x",
  "",
  "\u202e",
  "hasOwnProperty",
  "length",
  "0",
];

/** Write a value in another order of keys, with blanks, escapes and keys that nothing knows.
 *  @param broken whether line breaks may be put in. */
export function writeJson(random: Random, value: unknown, broken: boolean): string {
  const blank = (): string =>
    random.chance(0.1) ? random.pick(broken ? [" ", "\t", "\n", "\r\n  "] : [" ", "\t"]) : "";
  const word = (text: string): string =>
    `"${[...JSON.stringify(text).slice(1, -1)].map((c) => (/[a-z]/.test(c) && random.chance(0.02) && !text.includes("\\") && !/["\n]/.test(text) ? `\\u00${c.charCodeAt(0).toString(16)}` : c)).join("")}"`;
  const one = (inner: unknown, depth: number): string => {
    if (typeof inner === "string") return word(inner);
    if (Array.isArray(inner))
      return `[${inner.map((item) => blank() + one(item, depth + 1) + blank()).join(",")}]`;
    if (typeof inner !== "object" || inner === null) return JSON.stringify(inner);
    const members = Object.entries(inner)
      .filter(([, item]) => item !== undefined)
      .map(([key, item]) => `${blank()}${word(key)}:${blank()}${one(item, depth + 1)}`);
    for (let i = members.length - 1; i > 0; i--) {
      const j = random.integer(0, i);
      [members[i], members[j]] = [members[j]!, members[i]!];
    }
    if (depth === 0 && random.chance(0.3)) members.push('"a remark of mine":[1,{"__proto__":2}]');
    return `{${members.join(",")}${blank()}}`;
  };
  return `${broken ? blank() : ""}${one(value, 0)}`;
}

/** Change one to three places of a value that is given as JSON: another value, no value, another key, a list longer or
 *  shorter. */
export function changeJson(random: Random, json: string): string {
  // Places are marked by texts that no sample holds, and filled in the JSON: JSON can say what a value in memory can't.
  const marks: string[] = [];
  const mark = (text: string): string => `\u2404${marks.push(text) - 1}\u2404`;
  const root: { value: unknown } = { value: JSON.parse(json) };
  const changes = random.integer(1, 3);
  for (let i = 0; i < changes; i++) changeOnce(random, root, mark);
  return (JSON.stringify(root.value) ?? "").replace(
    /"\u2404(\d+)\u2404"/g,
    (_, index: string) => marks[Number(index)]!,
  );
}

function changeOnce(random: Random, root: { value: unknown }, mark: (json: string) => string): void {
  let holder: Record<string, unknown> = root;
  let key = "value";
  // Down a random way, so that what stands high is changed as often as the many things below.
  for (
    let inner = holder[key];
    typeof inner === "object" && inner !== null && random.chance(0.85);
    inner = holder[key]
  ) {
    const keys = Object.keys(inner);
    if (keys.length === 0) break;
    holder = inner as Record<string, unknown>;
    key = random.pick(keys);
  }
  const old = holder[key];
  switch (random.integer(0, 7)) {
    case 0:
    case 1:
    case 2:
      holder[key] = mark(random.pick(HOSTILE));
      break;
    case 3:
      if (Array.isArray(holder)) (holder as unknown[]).splice(Number(key), 1);
      else delete holder[key];
      break;
    case 4:
      if (Array.isArray(old))
        holder[key] = [
          ...old,
          ...old,
          ...(random.chance(0.1) ? Array.from({ length: 1000 }, () => old[0]) : []),
        ];
      else if (typeof old === "number") holder[key] = old * random.pick([-1, 0, 1e-9, 1e9, 1e300]);
      else if (typeof old === "string") {
        const times = random.pick([2, 300]);
        // Thrice 300 times over are more than any reader takes: files of more than 32 MB are not opened.
        holder[key] = old.length * times > LONGEST_TEXT ? old : old.repeat(times);
      }
      break;
    case 5: {
      const depth = random.pick([10, 1500]);
      holder[key] = mark(
        random.chance(0.5)
          ? "[".repeat(depth) + "]".repeat(depth)
          : `${'{"a":'.repeat(depth)}1${"}".repeat(depth)}`,
      );
      break;
    }
    case 6:
      if (!Array.isArray(holder)) {
        delete holder[key];
        Object.defineProperty(holder, random.pick(KEYS), {
          value: old,
          enumerable: true,
          configurable: true,
          writable: true,
        });
      }
      break;
    default:
      if (typeof old === "string" && old.length > 0) {
        const at = random.integer(0, old.length - 1);
        holder[key] =
          old.slice(0, at) + random.pick(["", "\u202e", "\u0000", "x", "é", "\ud800"]) + old.slice(at + 1);
      } else holder[key] = mark(random.pick(HOSTILE));
  }
}
