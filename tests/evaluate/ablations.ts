// evaluate: ingredients that can be left out, one at a time → the options that leave them out.

/** What an ablation run changes. The options are those of `analyse`; a test holds their names against its defaults. */
export interface Ablation {
  readonly name: string;
  readonly options: Readonly<Record<string, unknown>>;
}

const inFit = (options: Readonly<Record<string, unknown>>) => ({ fit: options });

/** The whole tool first; each later entry, one line, leaves one ingredient out. */
export const ABLATIONS: readonly Ablation[] = Object.freeze([
  { name: "whole", options: {} },
  { name: "without the fat tails", options: { tailFactor: 1 } },
  { name: "without the hidden pattern", options: { resolvesPattern: false } },
  { name: "without judging mirrors", options: { judgesMirrors: false } },
  { name: "without smooth background", options: { smoothBackground: false } },
  { name: "with the largest model error", options: inFit({ modelErrors: [0.06] }) },
  { name: "without the error of a part's shape", options: inFit({ shapeErrorPx: 0 }) },
  { name: "without odds of a hidden part's heat", options: inFit({ heatOddsHidden: 0 }) },
  { name: "a lone face as any other", options: inFit({ aloneHeatOdds: 0 }) },
  { name: "a hidden part as one in view", options: inFit({ hiddenEvidence: 1 }) },
  { name: "a part without a peak as any other", options: inFit({ unseenEvidence: 1 }) },
  { name: "a shiny part as any other", options: inFit({ shinyEvidence: 1 }) },
  { name: "a quiet part as one that shows its face", options: inFit({ quietEvidence: 1 }) },
  { name: "without hills that the board mirrors", options: inFit({ mirroredEvidence: 1 }) },
  { name: "cold patches left in", options: inFit({ cooledShare: 2 }) },
  { name: "however improbable beside the others", options: inFit({ leastChance: 0 }) },
  { name: "however small without a peak", options: inFit({ leastShareWithoutPeak: 0 }) },
  { name: "however small with a face", options: inFit({ leastShareOfFace: 0 }) },
  { name: "a clear face says no more", options: inFit({ clearBodyStep: 1e3 }) },
  { name: "a warm part as any other", options: inFit({ leastShareOfWarm: 0 }) },
]);
