// fuzz: a target and a range of inputs → what went wrong, and what came of the rest.
import { setImmediate } from "node:timers/promises";
import { ToolError } from "../../src/core/errors.js";
import { makeRandom } from "../simulate/random.js";
import type { Expected, FuzzInput, FuzzTarget } from "./fuzz-target.js";

/** Something that a reader must not do. */
interface FuzzFault {
  readonly target: string;
  /** Number of the input: with the seed it makes the same input again. */
  readonly input: number;
  /** How the input was made. */
  readonly what: string;
  readonly fault: string;
  /** The input itself, base64; short inputs only. */
  readonly bytes: string | null;
}

/** What came of a range of inputs. */
export interface FuzzFigures {
  readonly target: string;
  readonly inputs: number;
  readonly read: number;
  readonly refused: number;
  /** Longest time of one input, ms. One of more than a few ms is read again and timed by the processor as well: the
   *  lesser counts, for a busy machine can hold up anything once, and a slow input is slow again. */
  readonly slowestMs: number;
  readonly faults: readonly FuzzFault[];
}

/** Bounds on one input. */
const FUZZ_LIMITS = Object.freeze({
  /** An input may take a second. */
  ms: 1000,
  /** Beyond so many it is read again. Asking the processor's clock takes as long as reading a small file. */
  againMs: 20,
  /** Letters of an error's message: three problems with their fixes; more would flood a terminal. */
  message: 3000,
  /** Faults that are kept. */
  faults: 20,
  /** Bytes of an input that are kept with its fault. */
  kept: 4096,
});

/** Inputs between two turns of Node's loop. */
const TURN_EVERY = 500;

/** Which inputs, and how many of them. */
export interface FuzzAmount {
  readonly seed: string;
  readonly inputs: number;
  /** The first of them that is made: those before it were read in another run. */
  readonly from?: number;
  /** No input is begun after so many. */
  readonly minutes?: number;
}

/** Make and read inputs one after another.
 *  @param onInput told the number of each input before it is made, so that another process knows where this one
 *  hangs. */
export async function runInputs(
  target: FuzzTarget,
  { seed, inputs, from = 0, minutes = Number.POSITIVE_INFINITY }: FuzzAmount,
  onInput: (input: number) => void = () => {},
): Promise<FuzzFigures> {
  const faults: FuzzFault[] = [];
  let read = 0;
  let refused = 0;
  let slowestMs = 0;
  let done = 0;
  const endMs = performance.now() + minutes * 60_000;
  for (let input = from; input < inputs && performance.now() < endMs; input++) {
    done++;
    onInput(input);
    // What Node gives back only in a turn of its loop (closed inflaters, say) would pile up: reading small files never
    // waits.
    if (input % TURN_EVERY === 0) await setImmediate();
    const made = makeInput(target, seed, input);
    const told = (fault: string): void => {
      if (faults.length >= FUZZ_LIMITS.faults) return;
      const bytes = made.bytes.length > FUZZ_LIMITS.kept ? null : Buffer.from(made.bytes).toString("base64");
      faults.push({ target: target.name, input, what: made.what, fault, bytes });
    };
    let one = await readOnce(target, made);
    if (one.ms > FUZZ_LIMITS.againMs) {
      const again = await readOnce(target, made, process.cpuUsage());
      one = { ...again, ms: Math.min(one.ms, again.ms), fault: one.fault ?? again.fault };
    }
    slowestMs = Math.max(slowestMs, one.ms);
    if (one.ms > FUZZ_LIMITS.ms) told(`it took ${Math.round(one.ms)} ms`);
    if (one.refused) refused++;
    else read++;
    if (one.fault !== null) told(one.fault);
    for (const fault of traces()) told(fault);
  }
  return { target: target.name, inputs: done, read, refused, slowestMs, faults };
}

/** Make an input again. */
export function makeInput(target: FuzzTarget, seed: string, input: number): FuzzInput {
  return target.make(makeRandom(`${seed} ${target.name} ${input}`));
}

interface Outcome {
  readonly refused: boolean;
  readonly ms: number;
  readonly fault: string | null;
}

/** @param cpu what the processor spent so far: then it counts as well. */
async function readOnce(
  target: FuzzTarget,
  { bytes, expected }: FuzzInput,
  cpu: NodeJS.CpuUsage | null = null,
): Promise<Outcome> {
  const before = Buffer.from(bytes);
  const start = performance.now();
  // Of two clocks the lesser: the one runs on while others have the processor, the other counts every thread.
  const spentMs = (): number => {
    const wall = performance.now() - start;
    if (cpu === null) return wall;
    const { user, system } = process.cpuUsage(cpu);
    return Math.min(wall, (user + system) / 1000);
  };
  try {
    const value = await target.read(bytes);
    const ms = spentMs();
    return { refused: false, ms, fault: judgeValue(value, expected) ?? judgeBytes(before, bytes) };
  } catch (error) {
    const ms = spentMs();
    return { refused: true, ms, fault: judgeError(error, expected) ?? judgeBytes(before, bytes) };
  }
}

function judgeValue(value: unknown, expected: Expected): string | null {
  if (expected.sort === "any") return null;
  if (expected.sort === "refused")
    return `it was read although it is damaged: ${comparable(value).slice(0, 300)}`;
  const [found, wanted] = [comparable(value), wantedText(expected.value)];
  if (found === wanted) return null;
  let at = 0;
  while (found[at] === wanted[at]) at++;
  const around = (text: string): string => text.slice(Math.max(0, at - 60), at + 120);
  return `it was read as …${around(found)}… in place of …${around(wanted)}…`;
}

function judgeError(error: unknown, expected: Expected): string | null {
  if (!(error instanceof ToolError)) {
    return `${error instanceof Error ? (error.stack ?? error.message) : String(error)}`;
  }
  if (expected.sort === "equal") return `it was refused: ${error.message.slice(0, 400)}`;
  if (error.message.length > FUZZ_LIMITS.message) return `the message has ${error.message.length} letters`;
  const { problem, fix } = error.parts;
  if (/\n\s+at |file:\/\/|node:internal|\[object Object\]|undefined\b/.test(`${problem} ${fix}`)) {
    return `the message is no words for people: ${error.message.slice(0, 400)}`;
  }
  return null;
}

function judgeBytes(before: Buffer, after: Uint8Array): string | null {
  return before.equals(after) ? null : "the bytes that were given were changed";
}

/** What an input may not leave behind. */
function traces(): string[] {
  const left = Object.keys(Object.prototype);
  for (const key of left) delete (Object.prototype as Record<string, unknown>)[key];
  return left.length === 0 ? [] : [`every object has now a key ${left.join(", ")}`];
}

/** Text of what is wanted: many inputs of a target want one and the same value. */
const wantedTexts = new WeakMap<object, string>();

function wantedText(value: unknown): string {
  if (typeof value !== "object" || value === null) return comparable(value);
  const known = wantedTexts.get(value) ?? comparable(value);
  wantedTexts.set(value, known);
  return known;
}

/** A value as text, the same for the same value: no reading is told apart from null, keys are in one order. */
function comparable(value: unknown): string {
  return JSON.stringify(value, (_, inner: unknown) => {
    if (typeof inner === "number" && !Number.isFinite(inner)) return `#${inner}`;
    if (typeof inner !== "object" || inner === null || Array.isArray(inner)) return inner;
    return Object.fromEntries(Object.entries(inner).sort(([a], [b]) => (a < b ? -1 : 1)));
  });
}
