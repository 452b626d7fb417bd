// simulate: a kind of scene → what it asks of the board, the heat, the camera and the room.
import type { Kind } from "./scene.js";

export interface KindSettings {
  /** `never`, in `half` of the scenes, or `always`: up to 3 px and 0.5°. */
  readonly nudge: "never" | "half" | "always";
  readonly sources: "one" | "warm" | "pair" | "behind" | "either-side" | "none";
  /** Range of the apparent peak, K, before noise; null where the noise sets it. */
  readonly peakK: readonly [number, number] | null;
  /** How much the room moves: 0 nothing, 1 the operator walks. */
  readonly roomChange: number;
  /** A warm hand or head appears in a shiny part. */
  readonly mirrorsHand: boolean;
  readonly shinyParts: number;
  readonly hideFinish: boolean;
  readonly eightBit: boolean;
  readonly burst: boolean;
  /** The parts begin to heat one after the other; a second one, often one that is normally warm, may join. */
  readonly onsets: boolean;
  readonly cycled: boolean;
  readonly twoSides: boolean;
  /** The map does not know the part that heats. */
  readonly unlisted: boolean;
}

const PLAIN: KindSettings = {
  nudge: "half",
  sources: "one",
  peakK: [0.8, 9],
  roomChange: 0.05,
  mirrorsHand: false,
  shinyParts: 0,
  hideFinish: false,
  eightBit: false,
  burst: false,
  onsets: false,
  cycled: false,
  twoSides: false,
  unlisted: false,
};

/** What each kind of scene is made with. */
export const KIND_SETTINGS: Readonly<Record<Kind, KindSettings>> = Object.freeze({
  still: { ...PLAIN, nudge: "never", roomChange: 0.03 },
  nudged: { ...PLAIN, nudge: "always", roomChange: 0.1 },
  faint: { ...PLAIN, peakK: null },
  "warm-processor": { ...PLAIN, sources: "warm", peakK: [2.5, 12] },
  "near-parts": { ...PLAIN, sources: "pair" },
  behind: { ...PLAIN, sources: "behind" },
  reflections: { ...PLAIN, peakK: [0.6, 3], roomChange: 0.6, mirrorsHand: true, shinyParts: 2 },
  unpowered: {
    ...PLAIN,
    nudge: "always",
    sources: "none",
    roomChange: 0.6,
    mirrorsHand: true,
    shinyParts: 2,
  },
  "unpowered-bare": {
    ...PLAIN,
    nudge: "always",
    sources: "none",
    roomChange: 0.6,
    mirrorsHand: true,
    shinyParts: 1,
    hideFinish: true,
  },
  "eight-bit": { ...PLAIN, eightBit: true, peakK: [1.2, 12] },
  burst: { ...PLAIN, burst: true },
  onsets: { ...PLAIN, burst: true, onsets: true, sources: "warm", peakK: [1.2, 10] },
  cycled: { ...PLAIN, nudge: "never", peakK: null, cycled: true },
  "two-sides": { ...PLAIN, sources: "either-side", twoSides: true },
  unlisted: { ...PLAIN, unlisted: true },
});
