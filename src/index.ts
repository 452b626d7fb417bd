// The library: the same functions as the command line, typed and documented.
export {
  type BoardMap,
  boardMapSchema,
  type Region,
  regionSchema,
  type View,
  viewSchema,
} from "./board/board-schema.js";
export { checkBoard } from "./board/check-board.js";
export type { PlaceCovariance } from "./board/frame-covariance-to-board.js";
export { parseBoardMap } from "./board/parse-board-map.js";
export { parseView } from "./board/parse-view.js";
export { PLACE_DEFAULTS, type PlaceOptions } from "./board/place-defaults.js";
export { type PlacedView, placeView } from "./board/place-view.js";
export type { Point, Polygon } from "./board/polygon.js";
export type { ViewModel } from "./board/solve-fiducials.js";
export { compareFindings } from "./compare/compare-findings.js";
export type { CompareOptions } from "./compare/compare-options.js";
export { type Comparison, comparisonSchema } from "./compare/comparison-schema.js";
export { type ExcessOptions, exceedProfile } from "./compare/exceed-profile.js";
export { makeProfile } from "./compare/make-profile.js";
export { type Profile, profileSchema } from "./compare/profile-schema.js";
export { ERROR_CODES, type ErrorCode, type ErrorParts, type ErrorPlace, ToolError } from "./core/errors.js";
export type { Problem } from "./core/json-problem.js";
export { NOTE_CODES, type Note, type NoteCode, type NoteSeverity } from "./core/notes.js";
export type { OptionsOf } from "./core/options.js";
export { createRaster, type Raster, type RasterUnit } from "./core/raster.js";
export type { BoardPoint, FramePoint } from "./core/units.js";
export { EVIDENCE_DEFAULTS, type EvidenceFigures } from "./evidence/evidence-defaults.js";
export { type Evidence, evidenceSchema } from "./evidence/evidence-schema.js";
export { type WeighJobOptions, weighJob } from "./evidence/weigh-job.js";
export { analyse } from "./findings/analyse.js";
export type {
  AnalyseOptions,
  AnalysisInput,
  AnalysisStage,
  OnStage,
  OtherSide,
} from "./findings/analyse-options.js";
export type { Analysis, ViewPictures } from "./findings/analysis.js";
export { findHotspots } from "./findings/find-hotspots.js";
export { type Findings, findingsSchema } from "./findings/findings-schema.js";
export { parseFindings } from "./findings/parse-findings.js";
export type { ScaleSource } from "./frames/choose-scale.js";
export type { DecimalMark, Separator } from "./frames/detect-dialect.js";
export { type Frame, frameFromRaster } from "./frames/frame.js";
export { parseScaleOption } from "./frames/parse-scale-option.js";
export { parseTextFrames, type TextFrameOptions, type TextFrames } from "./frames/parse-text-frames.js";
export type { LinearScale, RangeScale, Scale } from "./frames/scale.js";
export type { TemperatureUnit } from "./frames/temperature-unit.js";
export { boardToSvg } from "./import/board-to-svg.js";
export { importBoard } from "./import/import-board.js";
export type { ImportedBoard, ImportOptions, RectangleSize } from "./import/import-options.js";
export { type Attempt, attemptSchema } from "./job/attempt-schema.js";
export { type Said, saidSchema } from "./job/entry-schema.js";
export type { Job, JobAttempt, JobBoard, Told } from "./job/job.js";
export type { JobQuery } from "./job/matches-query.js";
export type { JobSummary, NamedPart } from "./job/summarise-job.js";
export type { PlaceDoubt } from "./place/place-doubt.js";
export { PLACE_NEW_DEFAULTS } from "./place/place-new-defaults.js";
export { type NewView, placeNewView } from "./place/place-new-view.js";
export { type Placing, placingSchema } from "./place/placing-schema.js";
export { requireTrusted } from "./place/require-trusted.js";
export { type FrameShelf, openFrameShelf } from "./read/frame-shelf.js";
export type { FrameSpool } from "./read/frame-spool.js";
export type { FileFrames, FileOptions, FrameSource } from "./read/read-frame-file.js";
export { type ReadFrames, type ReadOptions, readFrames } from "./read/read-frames.js";
export { type BeforeAfter, beforeAfter, type ReadingChange } from "./readings/before-after.js";
export {
  classifyReadings,
  type JudgedReading,
  type ReadingFigures,
  SERIES_DEFAULTS,
  type SeriesOptions,
  type ToldReading,
  type ToldReference,
} from "./readings/classify-readings.js";
export {
  type HeatSuspect,
  type JoinedReadings,
  type JoinedSuspect,
  joinReadings,
} from "./readings/join-readings.js";
export type { NetOutcome, NetVerdict } from "./readings/net-verdicts.js";
export { parseReading, type ReadValue } from "./readings/parse-reading.js";
export { parseReadingTable, type ReferenceTable } from "./readings/parse-reading-table.js";
export { type Reading, type Reference, readingSchema, referenceSchema } from "./readings/reading-schema.js";
export { renderComparison } from "./report/render-comparison.js";
export { renderOverlay } from "./report/render-overlay.js";
export { type ReportOptions, renderReport } from "./report/render-report.js";
export { type ComparisonFiles, writeComparisonFiles } from "./report/write-comparison-files.js";
export { type ReportFiles, writeReportFiles } from "./report/write-report-files.js";
export type { TimeDoubt } from "./sources/doubt-time.js";
export type { HeatBeside } from "./sources/heat-beside.js";
export type { CandidateChance } from "./sources/likeliest-source.js";
export type { PlateState } from "./sources/plate-state.js";
export type { FittedSource, PowerInState, PowerToTell, SourceFit } from "./sources/source-fit.js";
export type { TriedPart } from "./sources/try-parts.js";
export { type AddedAttempt, type AttemptRequest, addAttempt } from "./store/add-attempt.js";
export { appendSaid, type PlainSaid } from "./store/append-said.js";
export type { AttemptCheck } from "./store/check-attempt.js";
export { checkJob, type JobCheck } from "./store/check-job.js";
export type { CheckProblem } from "./store/check-problem.js";
export { createJob, type JobRequest } from "./store/create-job.js";
export { indexJobs, type JobIndex } from "./store/index-jobs.js";
export { type OpenJob, openJob } from "./store/open-job.js";
export { type Packed, packJob } from "./store/pack-job.js";
export type { PackLimits } from "./store/pack-limits.js";
export type { Storage, StorageEntry } from "./store/storage.js";
export type { StoreOptions } from "./store/store-options.js";
export { type Unpacked, unpackJob } from "./store/unpack-job.js";
