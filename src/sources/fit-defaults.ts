// sources: the constants of the fit, each with its reason.

/** Defaults of `fitSources`. */
export const FIT_DEFAULTS = Object.freeze({
  /** Share of the modelled rise by which the plate model may be wrong at a pixel (uneven copper, finish), as long as
   *  nothing has been fitted, and the shares of which the likeliest is taken then. With 6 % throughout small parts
   *  beside a warm processor are lost; parts on the far side were 16 of 16 for 14, near parts 15 for 16, all else alike
   *  (records 119, 159). */
  modelError: 0.06,
  modelErrors: [0.0075, 0.015, 0.03, 0.06],
  /** … and smoothly, by this share of the highest rise: copper makes waves of 3 % of the rise that is there
   *  (`uneven-copper`), and that is some third of the highest over the board around a source. */
  smoothError: 0.01,
  /** How far a part's own shape may differ from the map's, px: less than a view may lie off (`VIEW_SIGMA_PX`). A
   *  judgement. */
  shapeErrorPx: 0.3,
  /** Log odds that what a part shows that does not show itself is heat, once a part in view has been found to heat: it
   *  may be an error of the plate model. A judgement: a chance of 0.88, which on another simulator came true in four of
   *  ten where the evidence was 60 to 200 (record 364). */
  heatOddsHidden: 2,
  /** … of a hill with no face, at a place that no map names, beside what its watts say: drift and the room mirrored in
   *  the mask make such hills, too (log odds up to 7 where nothing heats, from 13 on where a part that is not drawn
   *  does). */
  unnamedHillOdds: -10,
  /** The rise follows the supply's rhythm, as no room mirrored in a face does: what changed is heat. */
  followsSupply: false,
  /** Watts that were fed in; null where not known. */
  fedW: null as number | null,
  /** Where power surely went in and no fault was found, the chance, against all other parts and against its showing
   *  nowhere, from which the likeliest part is listed. With 0.1 beside a warm processor 37 of 186 healthy boards name a
   *  part in place of 22, and one fault in 400 more is found (record 288). */
  leastFedChance: 0.2,
  /** … and where no part that warms anyway shows either: a healthy board then took nothing that could be seen (record
   *  325). */
  leastFedChanceAlone: 0.1,
  /** Log odds below which a part is taken for a mirror: even ones, for to err either way names a wrong part or misses
   *  one. */
  leastHeatOdds: 0,
  /** … and below which all parts found are, where none is surer: a chance of 83 %, since nothing may heat at all:
   *  naming a healthy board's part then counts as five times as bad as saying nothing (odds of e^1.6). A judgement. */
  aloneHeatOdds: 1.6,
  /** … and by so much more where the meter showed no power: in one such test in twenty something heats all the same, by
   *  less than its last digit or fed from elsewhere. */
  unfedHeatOdds: 3,
  /** Evidence wanted of a part that does not show itself (on the far side, or no warmer than the board around it), ×
   *  that of one that does: it has only a smooth hill to show, and mirrored rooms and drift make such too. With three
   *  times the evidence 46 of 48 unpowered boards were quiet for 45, and 45 parts behind were found for 47 (record
   *  159). */
  hiddenEvidence: 2.5,
  /** … and of a named part in view within so many mm of one found before it: that is one of two or so, not one of
   *  fifty, and 2 ln 25 = 6.4 of 25 is not wanted of it, rounded up to 7. */
  neighbourEvidence: 0.72,
  neighbourMm: 2,
  /** … and wanted of one on the far side where no peak of its own, nor of a neighbour's, stands out of the picture: as
   *  of one that the mask may mirror, below. */
  unseenEvidence: 8,
  /** … of a shiny part in view, which has its rim to show, and of a part that shows its face. With 2.5 and 2 times, 4
   *  of 20 unpowered boards of another simulator showed heat, with 4 none, and one of 19 faint faults was lost; of 240
   *  scenes of this project's one unpowered board more was quiet, and none lost (record 364). */
  shinyEvidence: 4,
  quietEvidence: 4,
  /** … and of any that does not show itself where the board's finish may mirror a hill of this share of its own: false
   *  ones stood where it was a tenth or more, true ones where it was a hundredth (record 164). With 3 in place of 8
   *  times the evidence 2 of 50 unpowered boards showed heat (record 241). */
  mirroredHill: 0.1,
  mirroredEvidence: 8,
  /** A face with this many pixels, and this share of it, below minus this many sigma has cooled: one pixel in 30,000 of
   *  noise is, so that four of one face are none by chance. The share is a judgement. */
  cooledSigma: 4,
  cooledPixels: 4,
  cooledShare: 0.12,
  /** Share of the rise around it that a second source must add to be as likely one as an error of the plate model:
   *  copper that differs by a third changes the rise around a source by a tenth (`UNEVEN_DEFAULTS`), and by twice that
   *  in one of twenty. */
  spreadError: 0.2,
  /** … and the chance below which it rather is such an error than a source: even odds. */
  leastChance: 0.5,
  /** … and the share below which a source that makes no peak of its own is not listed: a judgement. */
  leastShareWithoutPeak: 0.5,
  /** … of a part in view. Of one that mirrors with less than that chance, and whose face stands out of the rise around
   *  it by 2.5 times what finishes of one kind differ (4 %), its face says enough: uneven copper makes no steps. By the
   *  chance alone a part of the samples that copper makes, with 0.06 of the rise, was listed (record 126). */
  leastShareOfFace: 0.55,
  /** … beside heat that is mostly that of parts which are warm anyway: what copper makes of theirs is in the fit.
   *  Beside any heat it listed that part of the samples as well (record 240). */
  leastShareBesideWarm: 0.25,
  clearMirrorChance: 0.15,
  clearBodyStep: 0.1,
  /** … and more of one that warms on a healthy board: it is in the fit from the start and takes what a fault beside it
   *  leaves. */
  leastShareOfWarm: 1,
  /** Parts that heat at once, beside the normally warm ones. */
  maxSources: 6,
  /** … and parts added at a time, those that mirror counted. */
  maxAdded: 9,
});

/** Evidence below this is never taken for heat, whatever the number of candidates: 5 σ. The false alarms allowed for a
 *  frame, shared by four tests of each of a hundred candidates, would have 4.3 σ (18.5). */
export const LEAST_EVIDENCE = 25;
