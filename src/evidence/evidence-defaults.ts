// evidence: the figures that the evidence of a job rests on, each with its reason.
import { NET_DEFAULTS } from "../readings/net-likelihood.js";

/** Defaults of `weighJob`. Where no count is named, it is a judgement that nobody has counted; all can be set. */
export const EVIDENCE_DEFAULTS = Object.freeze({
  ...NET_DEFAULTS,
  /** False: readings are told but not counted. */
  useReadings: true,
  /** Before anything is seen: the fault heats at a place that no region names (as in a single attempt; like all below
   *  that has no count beside it a judgement, record 56) … */
  unnamedPrior: 0.04,
  /** … there is none that heats … */
  coldPrior: 0.02,
  /** … there are two. */
  secondPrior: 0.1,
  /** … three: a third beside two as often as a second beside one. */
  thirdPrior: 0.01,
  /** Of several faults one takes the current so often that the others stay cold (a judgement). */
  maskedSecond: 0.5,
  /** A part that heats on a healthy board too is at fault so many times as often as another (a judgement). */
  warmPrior: 0.3,
  /** Heat stands in another part on the net that the fault pulls at: a regulator that feeds a short (a judgement). */
  drivenShare: 0.05,
  /** An attempt errs altogether about where heat is: a wrong view, a part that the map draws elsewhere. A judgement: of
   *  106 attempts on simulated boards that showed the fault's heat 1 named another part first, and benches err more. */
  wrongPlace: 0.02,
  /** Of what an attempt leaves unexplained so much is heat where the map names nothing; the rest is no heat. */
  unnamedShare: 0.5,
  /** A hotspot that is none, where an attempt errs; else its own doubt counts. */
  falseHotspot: 0.05,
  /** A fault that is powered shows no heat, though its watts would have been seen: it comes and goes, or the supply fed
   *  another path (of simulated parts in view 1 in 74 was missed) … */
  missedHeat: 0.05,
  /** … and one that no view sees, whose heat has to come through the board (6 in 39). */
  missedHidden: 0.15,
  /** A part that no hotspot names is as likely to heat as not, beyond its prior, where the fit's evidence for it is so
   *  much …*/
  triedEven: 3.5,
  /** … and no more, and no less often than so many times (of 6242 cold parts in simulated attempts 10 % reach 4, 1.6 %
   *  12 and 0.2 % 50; of 15 that heated and were missed 14, 11 and 4) … */
  triedMost: 30,
  triedLeast: 0.1,
  /** … and two attempts share so much of what makes it (1 in 4 cold parts that reach 9 reach it again, and 1 in 6 that
   *  reach 16: over ten times as many as by chance). */
  sharedTried: 0.55,
  /** Boards without a fault among those that the chances of a part are set for which is named by power alone (of 400
   *  simulated boards with one it was missed in 22, of which 10 name it; of 186 without 22 name one). */
  soundShare: 0.15,
  /** Two attempts from one camera position share so much of their errors of place, from the same side, and from other
   *  sides: the map is the same. */
  sameViewShare: 0.8,
  sameSideShare: 0.4,
  otherSideShare: 0.15,
  /** With no fault left a net reads short or low so many times as often as with one elsewhere: meter and pad alone
   *  err. */
  oddWhenMended: 0.1,
  /** A net that reads the same in two states of the board shares so much of its errors: meter and reference. */
  sameNetShare: 0.3,
  /** What was done to the part at fault cures: a new part may be bad as well, or badly put in (these four are
   *  judgements) … */
  replacedCures: 0.95,
  /** … a part that is off can't be at fault any more, though the pads under it can … */
  liftedCures: 0.98,
  reflowedCures: 0.3,
  cleanedCures: 0.15,
});

/** One of the figures. */
export type EvidenceFigures = {
  readonly [K in keyof typeof EVIDENCE_DEFAULTS]: (typeof EVIDENCE_DEFAULTS)[K] extends boolean
    ? boolean
    : number;
};
