// evaluate: ingredients that can be left out, one at a time → the options that leave them out.

/** What an ablation run changes. The options are those of `analyse`; a test holds their names against its defaults. */
export interface Ablation {
  readonly name: string;
  readonly options: Readonly<Record<string, unknown>>;
}

/** The whole tool first; each later entry, one line, leaves one ingredient out. */
export const ABLATIONS: readonly Ablation[] = Object.freeze([
  { name: "whole", options: {} },
  { name: "without the fat tails", options: { tailFactor: 1 } },
  { name: "without the hidden pattern", options: { resolvesPattern: false } },
  { name: "without judging mirrors", options: { judgesMirrors: false } },
  { name: "without smooth background", options: { smoothBackground: false } },
]);
