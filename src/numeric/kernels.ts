// numeric: the compiled kernels → an instance with a memory of its own, or none where WebAssembly may not be used.
import { KERNEL_BYTES } from "./kernel-bytes.js";
import type { Address, KernelExports } from "./kernel-exports.js";

/** What the kernels ask of the language. */
const IMPORTS = { env: { exp: Math.exp } };
const PAGE_BYTES = 65_536;
/** Scratch of the sorts: a tally of 2048 i32, one for each value of eleven bits. */
export const SORT_TALLY_BYTES = 4 * 2048;
/** Lanes of 16 bytes are read fastest from places that are multiples of it. */
const ALIGNED_BYTES = 16;

/** A picture's numbers. */
type Pixels = Float32Array;

/** The kernels with a memory in which places are taken one after the other; it goes with the instance.
 *  Views of the memory are made anew after every `take`, which may move it.
 */
export class Kernels {
  readonly run: KernelExports;
  private used = ALIGNED_BYTES;
  /** Below this everything stays. */
  private floor = ALIGNED_BYTES;
  private readonly held = new Map<Pixels, Address>();

  constructor(module: WebAssembly.Module) {
    this.run = new WebAssembly.Instance(module, IMPORTS).exports as unknown as KernelExports;
  }

  /** Give all places back: what is taken next may hold anything. */
  clear(): this {
    this.used = this.floor;
    return this;
  }

  /** Do some work of several steps with pictures that are put into the memory once: `put` gives their places back,
   *  whoever asks. None of the steps may change them, neither here nor there.
   */
  holding<T>(pictures: readonly Pixels[], work: () => T): T {
    const before = this.floor;
    const added = pictures.filter((picture) => !this.held.has(picture));
    try {
      this.clear();
      for (const picture of added) this.held.set(picture, this.put(picture));
      this.floor = this.used;
      return work();
    } finally {
      for (const picture of added) this.held.delete(picture);
      this.floor = before;
    }
  }

  /** Take a place for so many bytes; what is there is 0, unless places were given back before. */
  take(bytes: number): Address {
    const at = this.used;
    this.used = Math.ceil((at + bytes) / ALIGNED_BYTES) * ALIGNED_BYTES;
    const missing = this.used - this.run.memory.buffer.byteLength;
    if (missing > 0) this.run.memory.grow(Math.ceil(missing / PAGE_BYTES));
    return at;
  }

  /** Whether so many bytes can be taken without the memory growing. */
  hasRoom(bytes: number): boolean {
    return this.used + bytes <= this.run.memory.buffer.byteLength;
  }

  /** Give back a place, and all that were taken after it. */
  giveBack(from: Address): void {
    this.used = from;
  }

  /** A place's numbers, valid until the next `take`. */
  floats(at: Address, count: number): Float32Array {
    return new Float32Array(this.run.memory.buffer, at, count);
  }

  /** … of double precision. */
  doubles(at: Address, count: number): Float64Array {
    return new Float64Array(this.run.memory.buffer, at, count);
  }

  /** … whole. */
  integers(at: Address, count: number): Int32Array {
    return new Int32Array(this.run.memory.buffer, at, count);
  }

  /** … whole, of two bytes, not negative. */
  shorts(at: Address, count: number): Uint16Array {
    return new Uint16Array(this.run.memory.buffer, at, count);
  }

  /** … of one byte. */
  bytes(at: Address, count: number): Uint8Array {
    return new Uint8Array(this.run.memory.buffer, at, count);
  }

  /** Take a place for some numbers, and put them there. */
  put(values: Pixels | Float64Array | Int32Array | Uint16Array | Uint8Array): Address {
    const there = this.held.get(values as Pixels);
    if (there !== undefined) return there;
    const at = this.take(values.byteLength);
    const view = new Uint8Array(this.run.memory.buffer, at, values.byteLength);
    view.set(new Uint8Array(values.buffer, values.byteOffset, values.byteLength));
    return at;
  }
}

/** Most numbers of a list that kernels are given: more would leave them with more memory than anything else needs, for
 *  a memory never shrinks. */
export const MOST_FOR_KERNELS = 4 * 1024 * 1024;

let compiled: WebAssembly.Module | null | undefined;
let shared: Kernels | null | undefined;
let wanted = true;

/** Compile the kernels before they are asked for: the engine makes good code of them beside what else is loaded
 *  meanwhile. Without it they are compiled at the first use.
 *  @param module the kernels, where somebody has them compiled.
 */
export function readyKernels(module?: WebAssembly.Module): void {
  compiled ??= module;
  compileKernels();
}

/** Make an instance of the kernels. The plain code that each of them stands in for gives the same results to the last
 *  bit.
 *  @returns null where WebAssembly or its SIMD is missing, or a page's policy forbids it.
 */
export function makeKernels(): Kernels | null {
  const module = compileKernels();
  return module === null || !wanted ? null : new Kernels(module);
}

function compileKernels(): WebAssembly.Module | null {
  if (compiled === undefined) {
    try {
      compiled = new WebAssembly.Module(bytesOf(KERNEL_BYTES));
    } catch {
      compiled = null;
    }
  }
  return compiled;
}

/** The bytes of a text in base64. A loop, for an iterator over so many letters costs a short process some
 *  milliseconds. */
function bytesOf(text: string): Uint8Array<ArrayBuffer> {
  const letters = atob(text);
  const bytes = new Uint8Array(letters.length);
  for (let i = 0; i < bytes.length; i++) bytes[i] = letters.charCodeAt(i);
  return bytes;
}

/** The instance for work that is over when the call ends, all places free; null as for `makeKernels`. */
export function sharedKernels(): Kernels | null {
  if (shared === undefined) shared = makeKernels();
  return wanted ? (shared?.clear() ?? null) : null;
}

/** The shared instance as it is, all that was taken there left in its place, if it has so many bytes more without
 *  growing, at which views of its memory would end; else null.
 */
export function roomyKernels(bytes: number): Kernels | null {
  return wanted && shared?.hasRoom(bytes) === true ? shared : null;
}

/** The shared instance for a list of so many numbers; null as for `makeKernels`, and for more than kernels are
 *  given. */
export function kernelsFor(numbers: number): Kernels | null {
  return numbers > MOST_FOR_KERNELS ? null : sharedKernels();
}

const kept = new Map<string, { readonly kernels: Kernels; owner: number }>();
let owners = 0;

/** A number of one's own, to own kernels by. */
export function newOwner(): number {
  return ++owners;
}

/** Kernels whose places stay taken until another owner asks for the same kind. There is one of each kind and never
 *  more: the engine is slow to give the memory of instances back.
 *  @param lay takes the places anew; called when they are not the owner's, and may hold anything.
 *  @returns null as for `makeKernels`.
 */
export function keptKernels(kind: string, owner: number, lay: (kernels: Kernels) => void): Kernels | null {
  let slot = kept.get(kind);
  if (slot === undefined) {
    const kernels = makeKernels();
    if (kernels === null) return null;
    slot = { kernels, owner: 0 };
    kept.set(kind, slot);
  }
  if (!wanted) return null;
  if (slot.owner !== owner) {
    // Should laying them out fail, they are nobody's.
    slot.owner = 0;
    lay(slot.kernels.clear());
    slot.owner = owner;
  }
  return slot.kernels;
}

/** Say whether kernels are used: tests hold them against the plain code. */
export function useKernels(on: boolean): void {
  wanted = on;
  if (on && shared === null) shared = undefined;
}
