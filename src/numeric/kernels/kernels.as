// kernels: the loops over numbers that a process which runs once spends its time in. No memory is taken here: whoever calls
// lays his numbers out in the module's memory and says where.
export { factorBand, scale, showFour, solveBand } from "./band";
export { blockMiddles } from "./blocks";
export { columnSteps, everyFew, mayStandOut, medianDistances, rowSteps } from "./clean-and-lines";
export { fitSums, meansOfCells, mixThree, sampleEdges, sizesByCell, stepSums } from "./edges";
export { convolveLine, smooth, smoothSome } from "./filters";
export { involved, readsOf, readWeights } from "./hidden-pattern";
export { bridgeHoles, countMissing, markKnown, promote } from "./holes";
export { joinBytes, scaleLevels, unfilter } from "./levels";
export { pickKnown, readClasses, sortNumbers, sortPositive } from "./noise-classes";
export { allBetween, largest, markedPlaces, placesNotZero, placesOf } from "./order";
export {
  add,
  averageCells,
  blockEnergies,
  differenceWhereRead,
  divide,
  fillFrom,
  keepScene,
  linear,
  markReached,
  raise,
  raiseBorder,
  sortIntoClasses,
  squaredDifference,
  subtract,
  takeLines,
  takeSurface,
} from "./pixels";
export { addColumns, addProducts, addSquares, leastRatio, sparseProducts, whiten } from "./products";
export { countNumbers, findRank } from "./ranks";
export { warp } from "./resample";
export { scanRows } from "./rows";
export { cellMeans, leftSquares, steadyMean, successive, weighFrame } from "./series";
export {
  addSquared,
  dipDepths,
  gradientSize,
  largestShare,
  markCool,
  meanOver,
  standardise,
  usablePixels,
} from "./errors";
export { findEdges, lineDetail, markClear, sharedDetail, shiftSteps, steepness } from "./slopes";
export { addScores, agreedSteps, crossGains, gateEdges, lineProducts, placesIn, readEdges, splineTaps, squaredSlopes } from "./short-lists";
export { solveHidden } from "./solve-hidden";
export { filterColumns, filterRows } from "./spline";
export { ringLevel, spotMoments } from "./spots";
export { smoothWide } from "./wide";
