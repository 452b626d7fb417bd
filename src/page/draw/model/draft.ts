// page: a drawing → JSON that a reload does not lose, and back.
import { isObject } from "../../../core/is-object.js";
import {
  type Drawing,
  type DrawnFiducial,
  type DrawnRegion,
  EMPTY_DRAWING,
  type Placement,
} from "./drawing.js";

/** A drawing as it is kept; drafts are read by the version that wrote them alone. */
export interface DrawingDraft {
  readonly kind: "faultglow/drawing";
  readonly version: 1;
  readonly drawing: Drawing;
}

/** Make a draft. */
export function draftOf(drawing: Drawing): DrawingDraft {
  return { kind: "faultglow/drawing", version: 1, drawing };
}

/** Read a draft; null if it is none, or damaged: a half-drawn board is no reason not to open the page. */
export function readDraft(value: unknown): DrawingDraft | null {
  if (!isObject(value) || value["kind"] !== "faultglow/drawing" || value["version"] !== 1) return null;
  const { drawing } = value;
  if (!isObject(drawing)) return null;
  const { name, thicknessMm, outline, regions, nextId, placements } = drawing;
  const fits =
    typeof name === "string" &&
    (thicknessMm === null || typeof thicknessMm === "number") &&
    isPolygon(outline) &&
    Array.isArray(regions) &&
    regions.every(isRegion) &&
    typeof nextId === "number" &&
    regions.every(({ id }) => id < nextId) &&
    new Set(regions.map(({ id }) => id)).size === regions.length &&
    isObject(placements) &&
    Object.values(placements).every(isPlacement);
  return fits ? draftOf({ ...EMPTY_DRAWING, ...(drawing as unknown as Drawing) }) : null;
}

function isRegion(value: unknown): value is DrawnRegion {
  return (
    isObject(value) &&
    Number.isInteger(value["id"]) &&
    typeof value["ref"] === "string" &&
    (value["side"] === "top" || value["side"] === "bottom") &&
    isPolygon(value["polygon"])
  );
}

function isPlacement(value: unknown): value is Placement {
  if (!isObject(value) || !(value["side"] === "top" || value["side"] === "bottom")) return false;
  const { width, height, fiducials } = value;
  return Number(width) > 0 && Number(height) > 0 && Array.isArray(fiducials) && fiducials.every(isFiducial);
}

function isFiducial(value: unknown): value is DrawnFiducial {
  const isEnd = (end: unknown): boolean => end === null || isPoint(end);
  return isObject(value) && isEnd(value["board"]) && isEnd(value["pixel"]);
}

function isPolygon(value: unknown): boolean {
  return Array.isArray(value) && value.every(isPoint);
}

function isPoint(value: unknown): boolean {
  return Array.isArray(value) && value.length === 2 && value.every((number) => Number.isFinite(number));
}
