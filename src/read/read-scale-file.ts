// read: name of a picture → the scale in a file beside it, if there is one.
import { type ScaleSource, sidecarNames } from "../frames/choose-scale.js";
import { readScaleObject } from "../frames/scale-schema.js";
import { isFile } from "./quick-medium.js";
import { readJsonFile } from "./read-json-file.js";

/** Read the scale file of a picture: `frame.png.json` or, without that, `frame.json`.
 *  `frame.json` may be something else, such as a board map; it is a scale file only if its kind says so.
 *  @returns null if there is no scale file.
 *  @throws ToolError E_JSON_READ, E_JSON_SYNTAX or E_SCALE_VALUE if there is one that can't be used.
 */
export async function readScaleFile(file: string): Promise<ScaleSource | null> {
  const [certain, possible] = sidecarNames(file);
  if (await isFile(certain)) {
    const { value } = await readJsonFile(certain);
    return { from: certain, scale: readScaleObject(value, { file: certain }) };
  }
  if (!(await isFile(possible))) return null;
  const { value } = await readJsonFile(possible);
  const kind = typeof value === "object" && value !== null ? (value as { kind?: unknown }).kind : undefined;
  if (kind !== "faultglow/scale") return null;
  return { from: possible, scale: readScaleObject(value, { file: possible }) };
}
