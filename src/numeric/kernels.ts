// numeric: the compiled kernels → an instance with a memory of its own, or none where WebAssembly may not be used.
import { KERNEL_BYTES } from "./kernel-bytes.js";

/** Place in a kernel's memory, bytes. */
export type Address = number;

type AddSteps = (
  data: Address,
  width: number,
  height: number,
  clear: Address,
  w: number,
  h: number,
  every: number,
  bands: number,
  sums: Address,
  counts: Address,
) => void;

/** What src/numeric/kernels/*.as export; described there. */
interface KernelExports {
  readonly memory: WebAssembly.Memory;
  readonly factorBand: (a: Address, n: number, band: number, column: Address) => void;
  readonly solveBand: (a: Address, n: number, band: number, x: Address) => void;
  readonly scale: (x: Address, count: number, by: number) => void;
  readonly showFour: (
    pixels: Address,
    count: number,
    cells: Address,
    weights: Address,
    shown: Address,
    x: Address,
    out: Address,
    size: number,
  ) => void;
  readonly addProducts: (
    a: Address,
    strideA: number,
    countA: number,
    b: Address,
    strideB: number,
    countB: number,
    n: number,
    sums: Address,
  ) => void;
  readonly addColumns: (
    left: Address,
    rows: Address,
    stride: number,
    count: number,
    amounts: Address,
    n: number,
  ) => void;
  readonly whiten: (values: Address, pixels: Address, sigma: Address, count: number, out: Address) => void;
  readonly smooth: (
    data: Address,
    width: number,
    height: number,
    half: Address,
    radius: number,
    inX: Address,
    inY: Address,
    line: Address,
    values: Address,
    weights: Address,
    sums: Address,
    out: Address,
    way: number,
  ) => void;
  readonly smoothWide: (
    data: Address,
    weights: Address,
    width: number,
    height: number,
    firstX: Address,
    tapsX: Address,
    firstY: Address,
    tapsY: Address,
    w: number,
    h: number,
    half: Address,
    radius: number,
    sums: Address,
    counts: Address,
    work: Address,
    line: Address,
    out: Address,
  ) => void;
  readonly filterLines: (
    c: Address,
    step: number,
    length: number,
    lanes: number,
    pole: number,
    whole: number,
    atEnd: number,
    atLast: number,
  ) => void;
  readonly warp: (
    data: Address,
    source: Address,
    known: Address,
    width: number,
    height: number,
    a: number,
    b: number,
    c: number,
    d: number,
    e: number,
    f: number,
    order: number,
    out: Address,
  ) => void;
  readonly readsOf: (
    width: number,
    height: number,
    a: number,
    b: number,
    c: number,
    d: number,
    e: number,
    f: number,
    at: Address,
    weights: Address,
  ) => void;
  readonly weighDetail: (
    rise: Address,
    scene: Address,
    mirrors: Address,
    width: number,
    height: number,
    noise2: number,
    shift2: number,
    detail: Address,
    weight: Address,
  ) => void;
  readonly involved: (
    scale: Address,
    weight: Address,
    at: Address,
    width: number,
    n: number,
    marks: Address,
    hidden: Address,
    showing: Address,
    inside: Address,
    compared: Address,
    counts: Address,
  ) => void;
  readonly mayStandOut: (data: Address, width: number, height: number, least: number, out: Address) => number;
  readonly medianDistances: (
    data: Address,
    width: number,
    height: number,
    step: number,
    near: Address,
    out: Address,
  ) => void;
  readonly columnSteps: AddSteps;
  readonly rowSteps: AddSteps;
  readonly sampleEdges: (
    moving: Address,
    width: number,
    height: number,
    x: Address,
    y: Address,
    count: number,
    a: number,
    b: number,
    c: number,
    d: number,
    e: number,
    f: number,
    value: Address,
    slopeX: Address,
    slopeY: Address,
  ) => void;
  readonly fitSums: (
    first: Address,
    second: Address,
    third: Address,
    picture: Address,
    count: number,
    a: number,
    b: number,
    c: number,
    cap: number,
    out: Address,
  ) => void;
  readonly stepSums: (
    lists: Address,
    count: number,
    blocks: Address,
    numbers: Address,
    scores: Address,
    out: Address,
  ) => void;
  readonly readClasses: (
    centres: Address,
    sigmas: Address,
    classes: number,
    growth: number,
    gradient: Address,
    n: number,
    out: Address,
  ) => void;
  readonly leastRatio: (heat: Address, column: Address, variance: Address, n: number) => number;
  readonly solveHidden: (
    scale: Address,
    detail: Address,
    weight: Address,
    at: Address,
    weights: Address,
    width: number,
    n: number,
    lists: Address,
    counts: Address,
    steps: number,
    scratch: Address,
  ) => void;
}

/** What the kernels ask of the language. */
const IMPORTS = { env: { exp: Math.exp } };
const PAGE_BYTES = 65_536;
/** Lanes of 16 bytes are read fastest from places that are multiples of it. */
const ALIGNED_BYTES = 16;

/** The kernels with a memory in which places are taken one after the other; it goes with the instance.
 *  Views of the memory are made anew after every `take`, which may move it.
 */
export class Kernels {
  readonly run: KernelExports;
  private used = ALIGNED_BYTES;

  constructor(module: WebAssembly.Module) {
    this.run = new WebAssembly.Instance(module, IMPORTS).exports as unknown as KernelExports;
  }

  /** Give all places back: what is taken next may hold anything. */
  clear(): this {
    this.used = ALIGNED_BYTES;
    return this;
  }

  /** Take a place for so many bytes; what is there is 0, unless places were given back before. */
  take(bytes: number): Address {
    const at = this.used;
    this.used = Math.ceil((at + bytes) / ALIGNED_BYTES) * ALIGNED_BYTES;
    const missing = this.used - this.run.memory.buffer.byteLength;
    if (missing > 0) this.run.memory.grow(Math.ceil(missing / PAGE_BYTES));
    return at;
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

  /** … of one byte. */
  bytes(at: Address, count: number): Uint8Array {
    return new Uint8Array(this.run.memory.buffer, at, count);
  }

  /** Take a place for some numbers, and put them there. */
  put(values: Float32Array | Float64Array | Int32Array | Uint8Array): Address {
    const at = this.take(values.byteLength);
    const view = new Uint8Array(this.run.memory.buffer, at, values.byteLength);
    view.set(new Uint8Array(values.buffer, values.byteOffset, values.byteLength));
    return at;
  }
}

let compiled: WebAssembly.Module | null | undefined;
let shared: Kernels | null | undefined;
let wanted = true;

/** Make an instance of the kernels. The plain code that each of them stands in for gives the same results to the last bit.
 *  @returns null where WebAssembly or its SIMD is missing, or a page's policy forbids it.
 */
export function makeKernels(): Kernels | null {
  if (compiled === undefined) {
    try {
      compiled = new WebAssembly.Module(Uint8Array.from(atob(KERNEL_BYTES), (c) => c.charCodeAt(0)));
    } catch {
      compiled = null;
    }
  }
  return compiled === null || !wanted ? null : new Kernels(compiled);
}

/** The instance for work that is over when the call ends, all places free; null as for `makeKernels`. */
export function sharedKernels(): Kernels | null {
  if (shared === undefined) shared = makeKernels();
  return wanted ? (shared?.clear() ?? null) : null;
}

const kept = new Map<string, { readonly kernels: Kernels; owner: number }>();
let owners = 0;

/** A number of one's own, to own kernels by. */
export function newOwner(): number {
  return ++owners;
}

/** Kernels whose places stay taken until another owner asks for the same kind. There is one of each kind and never more: the
 *  engine is slow to give the memory of instances back.
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
    slot.owner = owner;
    lay(slot.kernels.clear());
  }
  return slot.kernels;
}

/** Say whether kernels are used: tests hold them against the plain code. */
export function useKernels(on: boolean): void {
  wanted = on;
  if (on && shared === null) shared = undefined;
}
