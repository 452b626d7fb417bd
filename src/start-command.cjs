// build: written to dist/cli/main.cjs → what begins the command. The sources are there in a few parts, each a file
// with, beside it, what the engine made of that file at the build. A part is read when something of it is first asked
// for, and so are Node's own modules, of which a short run needs few. In the older form of modules: the newer one's
// loader costs such a run 5 ms.
"use strict";
const {
  closeSync,
  existsSync,
  fstatSync,
  openSync,
  readdirSync,
  readFileSync,
  readSync,
  statSync,
} = require("node:fs");
const { join } = require("node:path");
const { pathToFileURL } = require("node:url");
const { Script } = require("node:vm");

/** The parts' files by their names: the build writes them here, for each file more costs a start half a millisecond. */
const FILES = PARTS_BY_NAME;
/** The part that every command needs. */
const FIRST = "command";
/** The part, and of it the module, that has the kernels. */
const KERNELS = "kernels";
const KERNELS_MODULE = "src/numeric/kernels.ts";
/** The part that most of an analysis is in, and the words that say that it has a board: without one half of the part is
 *  not called. */
const ANALYSIS = "find";
const BOARD = /^--(?:board|job)(?:=|$)/;
/** Ends the name of what was kept of it for runs without one. */
const FEW = ".few";
/** Node's own modules that a command may do without. */
const LATER = new Set([
  "child_process",
  "crypto",
  "fs/promises",
  "http",
  "os",
  "readline/promises",
  "stream",
  "worker_threads",
  "zlib",
]);
/** The engine's word for how far the heap grows before all of it is cleared again, in percent of what lives … */
const GROWING = "--heap-growing-percent";
/** … after the first time, and later. */
const FIRST_GROWTH = 3000;
const GROWTH = 700;

/** What the engine is told before more than the first part is read. Its other threads compile for as long as a command
 *  runs: functions are written into one another a third as far, and a little later, which saves those threads a
 *  quarter. What dies young is cleared away by the command's own thread, which else waits for theirs, and has no more
 *  room than in the beginning: memory that is not touched again and again costs time too. All else is marked at once,
 *  which takes some milliseconds: little lives.
 */
const flags = [
  "--max-inlined-bytecode-size=150",
  "--max-inlined-bytecode-size-cumulative=300",
  "--no-parallel-scavenge",
  "--semi-space-growth-factor=1",
  "--no-incremental-marking",
  // Pictures count as growth of the heap, and lie outside it: at the usual four times what lives all is marked four
  // times a run.
  `${GROWING}=${GROWTH}`,
  // Later engines have another name for the first, at which they print a line, and other ways with the others: all
  // kernels are compiled at once, by all threads, and good code of them is made from then on, beside the command's own
  // thread, in place of code that is compiled at each one's first use and counts how often it is used.
  ...(process.versions.v8.startsWith("11.")
    ? ["--interrupt-budget=270000", "--no-wasm-dynamic-tiering", "--no-wasm-lazy-compilation"]
    : []),
];
/** How much later than the command's own thread the engine's others have their turn, in steps of `nice`: on two cores
 *  it would else wait for them a third of its time.
 */
const LATER_BY = 5;

/** How much of a file is read at a time where it is only looked at. */
const PIECE_BYTES = 65_536;

/** More than a picture or a file of one has, and little enough that it may be kept: up to twice as much is. */
const FREED_BYTES = 8 * 1024 * 1024;

/** More words than these name a long burst, file by file. */
const MOST_WORDS = 200;
/** Options after which frames are named. */
const FRAMES = new Set(["--baseline", "--powered", "--other-baseline", "--other-powered"]);

/** What the parts are as scripts, for the build. */
const scripts = new Map();
const loaded = new Map();

/** A module of the sources, by the part that holds it and its place in the project. */
function moduleOf(part, path) {
  if (!loaded.has(part)) {
    if (part !== FIRST) tellEngine();
    loaded.set(part, load(FILES[part], part === ANALYSIS && hasNoBoard()));
    if (part === KERNELS) loaded.get(part)[KERNELS_MODULE]().readyKernels(keptKernels(FILES[part]));
  }
  return loaded.get(part)[path]();
}

/** Flags are part of the mark by which the engine knows code that was kept, Node's own too: of that, what each run
 *  needs is loaded before.
 */
function tellEngine() {
  if (flags.length === 0) return;
  for (const name of ["crypto", "os", "zlib"]) require(`node:${name}`);
  const { setFlagsFromString } = require("node:v8");
  // In one go: the engine looks at all it has each time.
  setFlagsFromString(flags.splice(0).join(" "));
  if (process.versions.v8.startsWith("11.")) clearAtOnce(setFlagsFromString);
  keepFreedMemory();
  putOthersBehind();
}

/** Up to its first full collection the engine takes the heap for one that needs ever less room, the more young objects
 *  it has cleared away: that collection would come in the middle of a run, with twice as much to mark. So it comes
 *  here, and lets the heap grow far beyond what it holds now, which is next to nothing.
 */
function clearAtOnce(setFlagsFromString) {
  try {
    setFlagsFromString(`${GROWING}=${FIRST_GROWTH}`);
    native("CollectGarbage", "kind")(0);
  } catch {
    // A Node that may not make functions of text clears later.
  } finally {
    setFlagsFromString(`${GROWING}=${GROWTH}`);
  }
}

/** The C library gives what was freed back to the system, and each page of it that is then taken anew costs 2
 *  microseconds: a picture half a millisecond. It keeps more the larger the largest piece was that was freed, so one
 *  is, of which no page was touched: mallopt(3), M_MMAP_THRESHOLD, "dynamic". Libraries that know no such rule just
 *  free it. It keeps that much for each thread that takes memory: not where there are so many frames that the memory
 *  would grow with them.
 */
function keepFreedMemory() {
  if (!process.versions.v8.startsWith("11.")) return;
  try {
    const [command, ...words] = process.argv.slice(2);
    // Nobody knows how many frames a watched folder is going to have.
    if (command === "watch" || words.length > MOST_WORDS || framesIn(words).some(namesMany)) return;
    native("ArrayBufferDetach", "bytes")(new ArrayBuffer(FREED_BYTES));
  } catch {
    // A Node that may not make functions of text runs a little slower.
  }
}

/** The words that name frames: those after an option of frames, up to the next option, and one that is joined to it. */
function framesIn(words) {
  let isFrames = false;
  return words.flatMap((word) => {
    if (!word.startsWith("-")) return isFrames ? [word] : [];
    const [name, ...joined] = word.split("=");
    isFrames = FRAMES.has(name);
    return isFrames && joined.length > 0 ? [joined.join("=")] : [];
  });
}

/** Whether a word names a folder, or as many files as fit a pattern. */
function namesMany(word) {
  return /[*?[]/.test(word) || statSync(word, { throwIfNoEntry: false })?.isDirectory() === true;
}

/** On Linux a thread's number can be given for a process's. Where that is not allowed all threads go on side by
 *  side. */
function putOthersBehind() {
  if (process.platform !== "linux") return;
  const { getPriority, setPriority } = require("node:os");
  try {
    const behind = Math.min(19, getPriority() + LATER_BY);
    for (const thread of readdirSync("/proc/self/task").map(Number)) {
      if (thread !== process.pid) setPriority(thread, behind);
    }
  } catch {}
}

/** Whether the words ask for an analysis without a board. Where they are misread the engine makes a little code
 *  more. */
function hasNoBoard() {
  const [command, ...words] = process.argv.slice(2);
  return command === "find" && !words.some((word) => BOARD.test(word));
}

/** Read a part. Whether what was kept is of this text and this engine the engine itself looks.
 *  @param few whether what a run without a board calls is enough.
 */
function load(name, few) {
  const file = join(__dirname, `${name}.cjs`);
  const script = new Script(readFileSync(file, "latin1"), {
    filename: `${name}.cjs`,
    cachedData: (few ? keptOf(`${name}${FEW}`) : undefined) ?? keptOf(name),
  });
  scripts.set(name, script);
  const module = { exports: {} };
  script.runInThisContext()(requireFor, module, pathToFileURL(file).href);
  return module.exports.modules;
}

/** What the engine made of a part at the build. It stands there twice, for the engine would stumble over bytes that
 *  were damaged, and nothing tells it sooner than to compare the two.
 */
function keptOf(name) {
  const file = join(__dirname, keptName(name));
  if (!existsSync(file)) return undefined;
  let opened;
  try {
    opened = openSync(file, "r");
    const half = Buffer.allocUnsafeSlow(Math.floor(fstatSync(opened).size / 2));
    if (readSync(opened, half) !== half.length) return undefined;
    // The other half by pieces in one place: memory that is touched for the first time costs more than to read into it.
    const piece = Buffer.allocUnsafe(PIECE_BYTES);
    for (let at = 0; at < half.length; at += piece.length) {
      const read = piece.subarray(0, readSync(opened, piece));
      if (!read.equals(half.subarray(at, at + piece.length))) return undefined;
    }
    return half;
  } catch {
    // What can't be read is compiled.
    return undefined;
  } finally {
    if (opened !== undefined) closeSync(opened);
  }
}

/** The kernels as the engine compiled them at the build: good code of all, in a twentieth of the time. Undefined where
 *  there are none, or none for this engine, processor and flags, at which it looks itself: it compiles them then. It
 *  reads them by a function that it has for itself.
 */
function keptKernels(name) {
  const kept = keptOf(`${name}.wasm`);
  if (kept === undefined) return undefined;
  try {
    // First how many bytes the kernels have, then these, then what was made of them.
    const end = 4 + kept.readUInt32LE();
    return native("DeserializeWasmModule", "code, bytes")(
      new Uint8Array(kept.subarray(end)).buffer,
      new Uint8Array(kept.subarray(4, end)),
    );
  } catch {
    return undefined;
  }
}

/** A function that the engine has for itself. The flag is back before it is called: kept code goes by flags. */
function native(name, words) {
  const { setFlagsFromString } = require("node:v8");
  setFlagsFromString("--allow-natives-syntax");
  try {
    return new Function(words, `return %${name}(${words});`);
  } finally {
    setFlagsFromString("--no-allow-natives-syntax");
  }
}

/** What another version of the engine, or one for another machine, made is of no use: it looks for its own. */
function keptName(name) {
  return `${[name, process.version, process.platform, process.arch].join("-")}.code`;
}

/** What the parts have for `require`. */
function requireFor(name) {
  const [kind, path] = name.split(":");
  if (kind in FILES) return moduleOf(kind, path);
  return LATER.has(path) ? whenAsked(name) : require(name);
}

/** Stands for one of Node's own modules until something of it is asked for. */
function whenAsked(name) {
  let module;
  const asked = () => {
    module ??= require(name);
    return module;
  };
  return new Proxy(
    {},
    {
      get: (_, key) => asked()[key],
      has: (_, key) => key in asked(),
      ownKeys: () => Reflect.ownKeys(asked()),
      getOwnPropertyDescriptor: (_, key) => ({ value: asked()[key], enumerable: true, configurable: true }),
    },
  );
}

// Nothing is left to be done and all is written: at the usual end the engine would first give back all it holds, piece
// by piece.
process.once("beforeExit", () => process.exit());

const { main } = moduleOf(FIRST, "src/cli/main.ts");

module.exports = { ANALYSIS, FEW, flags, keptName, main, moduleOf, native, scripts };
