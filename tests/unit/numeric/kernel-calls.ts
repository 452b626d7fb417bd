// tests: some work → the compiled kernels that it calls, by name.
import type { KernelExports } from "../../../src/numeric/kernel-exports.js";
import { Kernels } from "../../../src/numeric/kernels.js";

type Method = (this: Kernels, ...words: unknown[]) => unknown;

/** Note the kernels that are called from now on, by whichever instance: none does anything before it is asked for a
 *  place. */
export function watchKernels(): { readonly called: ReadonlySet<string>; readonly stop: () => void } {
  const called = new Set<string>();
  const runs = new Map<Kernels, KernelExports>();
  const watch = (kernels: Kernels): void => {
    if (runs.has(kernels)) return;
    runs.set(kernels, kernels.run);
    const noting = Object.entries(kernels.run).map(([name, kernel]) => [
      name,
      typeof kernel !== "function"
        ? kernel
        : (...words: never[]) => {
            called.add(name);
            return (kernel as (...all: never[]) => unknown)(...words);
          },
    ]);
    Reflect.set(kernels, "run", Object.fromEntries(noting));
  };
  const methods = Kernels.prototype as unknown as Record<string, Method>;
  const before = Object.getOwnPropertyNames(methods)
    .filter((name) => name !== "constructor")
    .map((name) => [name, methods[name]!] as const);
  for (const [name, method] of before) {
    methods[name] = function (...words) {
      watch(this);
      return method.apply(this, words);
    };
  }
  const stop = (): void => {
    for (const [name, method] of before) methods[name] = method;
    for (const [kernels, run] of runs) Reflect.set(kernels, "run", run);
  };
  return { called, stop };
}

/** What some work gives, and the kernels that it calls. */
export function watched<T>(work: () => T): [given: T, called: ReadonlySet<string>] {
  const { called, stop } = watchKernels();
  try {
    return [work(), called];
  } finally {
    stop();
  }
}
