// read: name of a picture → the scale in a file beside it, if there is one.
import { type ScaleSource, sidecarNames } from "../frames/choose-scale.js";
import { isFile } from "./quick-medium.js";
import { readJsonFile } from "./read-json-file.js";

/** Read the scale file of a picture: `frame.png.json` or, without that, `frame.json`.
 *  `frame.json` may be something else, such as a board map; it is a scale file only if its kind says so.
 *  @returns null if there is no scale file.
 *  @throws ToolError E_JSON_READ, E_JSON_SYNTAX or E_SCALE_VALUE if there is one that can't be used.
 */
export async function readScaleFile(file: string): Promise<ScaleSource | null> {
  const [certain, possible] = sidecarNames(file);
  if (await isFile(certain)) return readScale(certain, (await readJsonFile(certain)).value);
  if (!(await isFile(possible))) return null;
  const { value } = await readJsonFile(possible);
  const kind = typeof value === "object" && value !== null ? (value as { kind?: unknown }).kind : undefined;
  if (kind !== "faultglow/scale") return null;
  return readScale(possible, value);
}

/** What reads it is loaded only where there is one: the schema's making takes some milliseconds. */
async function readScale(from: string, value: unknown): Promise<ScaleSource> {
  const { readScaleObject } = await import("../frames/scale-schema.js");
  return { from, scale: readScaleObject(value, { file: from }) };
}
