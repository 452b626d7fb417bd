/** Compile src/numeric/kernels and say the text of src/numeric/kernel-bytes.ts. */
export function compileKernels(): Promise<string>;
