// The library: the same functions as the command line, typed and documented.
export type { BoardMap, Region, View } from "./board/board-schema.js";
export { parseBoardMap } from "./board/parse-board-map.js";
export { parseView } from "./board/parse-view.js";
export { type PlacedView, placeView } from "./board/place-view.js";
export { type ErrorCode, ToolError } from "./core/errors.js";
export type { Note } from "./core/notes.js";
export { createRaster, type Raster } from "./core/raster.js";
export { analyse } from "./findings/analyse.js";
export type { AnalyseOptions, AnalysisInput } from "./findings/analyse-options.js";
export type { Analysis } from "./findings/analysis.js";
export { findHotspots } from "./findings/find-hotspots.js";
export { type Findings, findingsSchema } from "./findings/findings-schema.js";
export { type Frame, frameFromRaster } from "./frames/frame.js";
